package sheet

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"hash"
	"hash/crc32"
	"io"
	"net/url"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"lanewright/planner/finding"
)

// Codes of refusals about the archive around a workbook or CSV files.
const (
	CodeDamagedArchive = "sheet.damaged-archive"
	CodeDamagedPart    = "sheet.damaged-part"
	CodeBadName        = "sheet.bad-name"
	CodeDoubledEntry   = "sheet.doubled-entry"
	CodeInflatesTooFar = "sheet.inflates-too-far"
	CodeMissingPart    = "sheet.missing-part"
)

// archive is a zip file behind the gate: names, counts and sizes checked,
// every part read at most once and to its end.
type archive struct {
	file   string
	limits Limits
	// parts are the files of the archive by lower-case name with slashes.
	parts map[string]*part
	// order keeps the parts as the archive lists them.
	order []*part
	// left is what may still be inflated.
	left int64
}

// part is one file of the archive.
type part struct {
	name    string // as the archive has it, with slashes
	entry   *zip.File
	checked bool
}

// openArchive opens data and checks everything that needs no inflating.
func openArchive(file string, data []byte, limits Limits) (*archive, *Refused) {
	at := finding.Origin{File: file}
	zr, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return nil, damaged(CodeDamagedArchive, at, "the file is no whole zip archive, as every .xlsx is one: %s", plain(err))
	}
	if len(zr.File) > limits.Entries {
		return nil, tooMany(at, "files in the archive", len(zr.File), limits.Entries)
	}
	a := &archive{file: file, limits: limits, parts: map[string]*part{}, left: limits.InflatedBytes}
	for _, f := range zr.File {
		if refused := a.add(f); refused != nil {
			return nil, refused
		}
	}
	return a, nil
}

func (a *archive) add(f *zip.File) *Refused {
	at := finding.Origin{File: a.file}
	name := strings.ReplaceAll(entryName(f.Name), `\`, "/")
	switch {
	case len(name) > longestName:
		return damaged(CodeBadName, at, "the archive holds a file whose name has %d bytes, which begins with %.40q", len(name), f.Name)
	case !isHarmless(name):
		return damaged(CodeBadName, at, "the archive holds a file with the name %.80q, which points outside of it", f.Name)
	}
	name = cleanName(name)
	if f.Flags&1 != 0 {
		return encrypted(a.file)
	}
	key := strings.ToLower(name)
	if a.parts[key] != nil {
		return damaged(CodeDoubledEntry, at, "the archive holds two files with the name %.80q", name)
	}
	p := &part{name: name, entry: f}
	a.parts[key] = p
	a.order = append(a.order, p)
	return nil
}

// entryName reads a name that is not UTF-8 as code page 437, which archives
// use that do not say otherwise (PKWARE, APPNOTE.TXT 6.3.10, appendix D.1; from
// memory): "Beh\x84lter.csv" of a Windows machine.
func entryName(name string) string {
	if utf8.ValidString(name) {
		return name
	}
	text, err := charmap.CodePage437.NewDecoder().String(name)
	if err != nil {
		return readable(name)
	}
	return text
}

// longestName is how many bytes a name in an archive may have.
const longestName = 1024

// cleanName takes out of a name what means nothing: "./", and slashes in a row.
// Folders keep their slash at the end.
func cleanName(name string) string {
	clean := path.Clean(name)
	if strings.HasSuffix(name, "/") {
		clean += "/"
	}
	return clean
}

// isHarmless reports whether a name stays inside the archive.
func isHarmless(name string) bool {
	if name == "" || strings.ContainsAny(name, "\x00:") || strings.HasPrefix(name, "/") {
		return false
	}
	for piece := range strings.SplitSeq(strings.TrimSuffix(name, "/"), "/") {
		if piece == ".." {
			return false
		}
	}
	return true
}

// find returns the part a reference leads to, seen from the folder of the
// part that holds the reference. A reference is an address, so a blank in it
// may be written %20; the names in the archive should be so too, yet are not
// with every program.
func (a *archive) find(folder, target string) *part {
	target = strings.ReplaceAll(target, `\`, "/")
	if strings.HasPrefix(target, "/") {
		folder = ""
	}
	name := strings.ToLower(strings.TrimPrefix(path.Join("/", folder, target), "/"))
	if p := a.parts[name]; p != nil {
		return p
	}
	plain, err := url.PathUnescape(name)
	if err != nil {
		return nil
	}
	return a.parts[strings.ToLower(plain)]
}

// origin names a part as a place; the sheet is added by who knows it.
func (a *archive) origin() finding.Origin { return finding.Origin{File: a.file} }

// inflate reads one part to its end through use, and checks its size and
// checksum whatever use thinks of it.
func (a *archive) inflate(ctx context.Context, p *part, use func(io.Reader) error) error {
	body, err := p.entry.Open()
	if err != nil {
		return a.damagedPart(p, err)
	}
	defer body.Close()
	r := &partReader{ctx: ctx, archive: a, part: p, body: body, sum: crc32.NewIEEE()}
	if err := use(r); err != nil {
		return err
	}
	if _, err := io.Copy(io.Discard, r); err != nil {
		return err
	}
	if r.size != int64(p.entry.UncompressedSize64) || r.sum.Sum32() != p.entry.CRC32 {
		return a.damagedPart(p, zip.ErrChecksum)
	}
	p.checked = true
	return nil
}

// bytesOf returns the whole content of a part.
func (a *archive) bytesOf(ctx context.Context, p *part) ([]byte, error) {
	var data []byte
	err := a.inflate(ctx, p, func(r io.Reader) (err error) {
		data, err = io.ReadAll(r)
		return err
	})
	return data, err
}

// checkRest inflates every part that nobody has read.
func (a *archive) checkRest(ctx context.Context) error {
	for _, p := range a.order {
		if p.checked || strings.HasSuffix(p.name, "/") && p.entry.UncompressedSize64 == 0 {
			continue
		}
		if err := a.inflate(ctx, p, func(io.Reader) error { return nil }); err != nil {
			return err
		}
	}
	return nil
}

// partReader counts and sums what comes out of a part while it is inflated.
type partReader struct {
	ctx     context.Context
	archive *archive
	part    *part
	body    io.Reader
	sum     hash.Hash32
	size    int64
}

func (r *partReader) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, fmt.Errorf("read %s: %w", r.archive.file, err)
	}
	n, err := r.body.Read(p)
	r.sum.Write(p[:n])
	r.size += int64(n)
	r.archive.left -= int64(n)
	if refused := r.tooFar(); refused != nil {
		return 0, refused
	}
	if err != nil && err != io.EOF {
		return n, r.archive.damagedPart(r.part, err)
	}
	return n, err
}

// tooFar refuses a part that inflates beyond the limits.
func (r *partReader) tooFar() *Refused {
	l := r.archive.limits
	packed := max(int64(r.part.entry.CompressedSize64), 1)
	switch {
	case r.archive.left < 0:
		return r.archive.inflatesTooFar(r.part, fmt.Sprintf("the archive inflates to more than %d MiB", l.InflatedBytes>>20))
	case r.size > l.RatioFrom && r.size/packed > l.Ratio:
		return r.archive.inflatesTooFar(r.part, fmt.Sprintf("%s inflates to more than %d times its size", r.part.name, l.Ratio))
	}
	return nil
}

func (a *archive) inflatesTooFar(p *part, summary string) *Refused {
	return &Refused{
		Code: CodeInflatesTooFar, Origin: a.origin(), Summary: summary,
		Detail: fmt.Sprintf("Files like this are made to exhaust a machine, or hold a sheet with very many empty formatted cells (%s).", p.name),
		Remedy: "Delete the empty formatted rows and columns around the table, save the workbook and hand it in again.",
	}
}

func (a *archive) damagedPart(p *part, err error) error {
	var refused *Refused
	if errors.As(err, &refused) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return damaged(CodeDamagedPart, a.origin(), "the part %s of the file is damaged: %s", p.name, plain(err))
}

// plain says in words what the archive or inflating library found.
func plain(err error) string {
	switch {
	case errors.Is(err, zip.ErrChecksum):
		return "its content does not match its checksum"
	case errors.Is(err, zip.ErrAlgorithm):
		return "it is packed with an unusual method"
	case errors.Is(err, zip.ErrFormat):
		return "its table of contents is missing or broken"
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		return "it ends too early"
	}
	return "its packed content is broken"
}

// readArchive tells by content what an archive is and reads it.
func readArchive(ctx context.Context, file string, data []byte, limits Limits) (*Book, error) {
	a, refused := openArchive(file, data, limits)
	if refused != nil {
		return nil, refused
	}
	read := a.readTables
	switch {
	case a.parts["[content_types].xml"] != nil || a.parts["_rels/.rels"] != nil || a.parts["xl/workbook.xml"] != nil:
		read = a.readWorkbook
	case a.parts["mimetype"] != nil && a.parts["content.xml"] != nil:
		read = a.readOpenDocument
	}
	book, err := read(ctx)
	if err != nil {
		return nil, err
	}
	if err := a.checkRest(ctx); err != nil {
		return nil, err
	}
	return book, nil
}

// readTables reads an archive of CSV files.
func (a *archive) readTables(ctx context.Context) (*Book, error) {
	book := &Book{File: a.file, Format: FormatZip}
	var files []textFile
	for _, p := range a.order {
		switch {
		case strings.HasSuffix(p.name, "/") || isHousekeeping(p.name):
			continue
		case !IsTable(p.name):
			book.Notes = append(book.Notes, notRead(finding.Origin{File: baseName(p.name)}))
			continue
		}
		data, err := a.bytesOf(ctx, p)
		if err != nil {
			return nil, err
		}
		files = append(files, textFile{file: a.file, base: baseName(p.name), data: data})
	}
	if len(files) == 0 && (slices.Contains(workbookEndings, strings.ToLower(path.Ext(a.file))) || a.parts["content.xml"] != nil) {
		return nil, damaged(CodeNoSheets, a.origin(), "it is an archive without the parts of a workbook")
	}
	return book.addFiles(ctx, files, a.limits)
}
