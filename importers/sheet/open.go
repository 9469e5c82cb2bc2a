package sheet

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"lanewright/planner/finding"
)

// Codes of refusals that need no look at the content.
const (
	CodeTooBig = "sheet.too-big"
)

// Open reads the file, archive or folder at path. A *Refused error is the
// file's fault; any other error is a failing world.
func Open(ctx context.Context, path string, limits Limits) (*Book, error) {
	return OpenAs(ctx, path, Form{}, limits)
}

// OpenAs is Open for texts of which somebody said how they are written.
func OpenAs(ctx context.Context, path string, form Form, limits Limits) (*Book, error) {
	limits.form = form
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", baseName(path), err)
	}
	if info.IsDir() {
		return readFolder(ctx, path, limits)
	}
	data, err := load(path, limits.FileBytes)
	if err != nil {
		return nil, err
	}
	return ReadAs(ctx, path, data, form, limits)
}

// Read reads what an upload or standard input brought. The name serves for
// its extension and as the origin of every fact; a path before it is cut.
func Read(ctx context.Context, name string, data []byte, limits Limits) (*Book, error) {
	return ReadAs(ctx, name, data, Form{}, limits)
}

// ReadAs is Read for texts of which somebody said how they are written.
func ReadAs(ctx context.Context, name string, data []byte, form Form, limits Limits) (*Book, error) {
	limits.form = form
	name = baseName(name)
	if int64(len(data)) > limits.FileBytes {
		return nil, tooBig(name, limits.FileBytes)
	}
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	switch kind, refused := sniff(name, data); {
	case refused != nil:
		return nil, refused
	case kind == kindArchive:
		return readArchive(ctx, name, data, limits)
	default:
		return readTextBook(ctx, name, data, limits)
	}
}

// load reads one file, but never more than limit bytes of it.
func load(path string, limit int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", baseName(path), err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", baseName(path), err)
	}
	if int64(len(data)) > limit {
		return nil, tooBig(baseName(path), limit)
	}
	return data, nil
}

func tooBig(file string, limit int64) *Refused {
	return &Refused{
		Code: CodeTooBig, Origin: finding.Origin{File: file},
		Summary: fmt.Sprintf("there is more than %d MiB in it", limit>>20),
		Detail:  "Files above this size are not read, so that one upload cannot harm the machine for everybody.",
		Remedy:  "Remove pictures and sheets that have nothing to do with the plan, or hand in the sheets as CSV files in several parts.",
	}
}

// baseName cuts every path before the name, of this machine or another one.
func baseName(path string) string {
	if path == "" {
		return ""
	}
	path = filepath.Base(filepath.Clean(path))
	if i := strings.LastIndexAny(path, `/\`); i >= 0 {
		path = path[i+1:]
	}
	return readable(path)
}

// readable makes a file's name text that can be shown and stored, for every
// fact carries it: without control characters, and broken UTF-8 marked.
func readable(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(name, string(utf8.RuneError)))
}

// withoutExtension returns "Parts" for "Parts.csv".
func withoutExtension(name string) string {
	return strings.TrimSuffix(name, filepath.Ext(name))
}
