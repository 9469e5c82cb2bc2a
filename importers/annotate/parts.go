package annotate

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
)

// Kinds of references between parts, and content types.
const (
	relSpace       = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	relSpaceStrict = "http://purl.oclc.org/ooxml/officeDocument/relationships"
	packageRels    = "http://schemas.openxmlformats.org/package/2006/relationships"
	mainSpace      = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	mainStrict     = "http://purl.oclc.org/ooxml/spreadsheetml/main"
	commentsType   = "application/vnd.openxmlformats-officedocument.spreadsheetml.comments+xml"
	sheetType      = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
	vmlType        = "application/vnd.openxmlformats-officedocument.vmlDrawing"
	declaration    = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
)

// ErrNoWorkbook says that a file is no .xlsx workbook.
var ErrNoWorkbook = errors.New("it is no workbook of the .xlsx kind")

// parts is a workbook taken apart.
type parts struct {
	zip *zip.Reader
	// changed are the parts that are written anew, by their name in the
	// archive; added those that the archive does not have, in order.
	changed map[string][]byte
	added   []string
	main    string
	strict  bool
	sheets  []listed
}

// listed is one worksheet.
type listed struct{ name, part string }

func open(data []byte) (*parts, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("open workbook: %w", err)
	}
	p := &parts{zip: z, changed: map[string][]byte{}}
	for _, r := range p.relations("") {
		if path.Base(r.kind) == "officeDocument" {
			p.main = p.find("", r.target)
		}
	}
	if p.main == "" {
		return nil, ErrNoWorkbook
	}
	err = p.listSheets()
	return p, err
}

// find returns the name in the archive of the part that a reference leads to.
func (p *parts) find(folder, target string) string {
	target = strings.ReplaceAll(target, `\`, "/")
	if strings.HasPrefix(target, "/") {
		folder = ""
	}
	want := strings.TrimPrefix(path.Join("/", folder, target), "/")
	for _, name := range p.added {
		if name == want {
			return name
		}
	}
	for _, f := range p.zip.File {
		if strings.EqualFold(strings.ReplaceAll(f.Name, `\`, "/"), want) {
			return f.Name
		}
	}
	return ""
}

// read returns the content of a part as it is by now; nil when there is none.
func (p *parts) read(name string) []byte {
	if data, ok := p.changed[name]; ok {
		return data
	}
	for _, f := range p.zip.File {
		if f.Name == name && name != "" {
			return inflate(f)
		}
	}
	return nil
}

// inflate returns the content of a file, nil of one that is damaged; the gate
// lets none of those through.
func inflate(f *zip.File) []byte {
	r, err := f.Open()
	if err != nil {
		return nil
	}
	defer r.Close()
	data, err := io.ReadAll(r)
	if err != nil {
		return nil
	}
	return data
}

// set gives a part new content, adding it where there is none.
func (p *parts) set(name string, data []byte) {
	if _, known := p.changed[name]; !known && p.read(name) == nil {
		p.added = append(p.added, name)
	}
	p.changed[name] = data
}

// free returns the name of a part that is not there yet.
func (p *parts) free(stem, extension string) string {
	name := stem + extension
	for n := 2; p.find("", name) != ""; n++ {
		name = fmt.Sprintf("%s%d%s", stem, n, extension)
	}
	return name
}

// relation is one reference of a part.
type relation struct{ id, kind, target string }

func relsOf(name string) string {
	folder, base := path.Split(strings.ReplaceAll(name, `\`, "/"))
	return folder + "_rels/" + base + ".rels"
}

// relations lists the references of a part.
func (p *parts) relations(name string) (list []relation) {
	_ = walk(p.read(p.find("", relsOf(name))), func(t tag) {
		if !t.end && t.Name.Local == "Relationship" {
			list = append(list, relation{t.attr("Id"), t.attr("Type"), t.attr("Target")})
		}
	})
	return list
}

// relate adds a reference from a part to another one and returns its name.
func (p *parts) relate(name, kind, target string) string {
	space := relSpace
	if p.strict {
		space = relSpaceStrict
	}
	taken := map[string]bool{}
	for _, r := range p.relations(name) {
		taken[strings.ToLower(r.id)] = true
	}
	id := ""
	for n := 1; id == "" || taken[id]; n++ {
		id = fmt.Sprintf("rid%d", 9000+n)
	}
	line := "<Relationship" + attribute("Id", id) + attribute("Type", space+"/"+kind) + attribute("Target", target) + "/>"
	rels := p.find("", relsOf(name))
	if rels == "" {
		p.set(relsOf(name), []byte(declaration+`<Relationships xmlns="`+packageRels+`">`+line+`</Relationships>`))
		return id
	}
	p.intoRoot(rels, func(prefix string) string { return strings.ReplaceAll(line, "<R", "<"+prefix+"R") })
	return id
}

// intoRoot puts text before the end of the root element of a part.
func (p *parts) intoRoot(name string, text func(prefix string) string) {
	data := p.read(name)
	var start tag
	_ = walk(data, func(t tag) {
		if t.depth != 1 {
			return
		}
		if !t.end {
			start = t
			return
		}
		p.set(name, apply(data, []edit{into(data, start, t, text(start.prefix()))}))
	})
}

// declare states the content type of a part, or of an extension.
func (p *parts) declare(part, extension, kind string) {
	name := p.find("", "[Content_Types].xml")
	if name == "" || bytes.Contains(p.read(name), []byte(`"`+part+`"`)) && part != "" {
		return
	}
	if extension != "" && bytes.Contains(bytes.ToLower(p.read(name)), []byte(`extension="`+extension+`"`)) {
		return
	}
	p.intoRoot(name, func(prefix string) string {
		if part != "" {
			return "<" + prefix + "Override" + attribute("PartName", part) + attribute("ContentType", kind) + "/>"
		}
		return "<" + prefix + "Default" + attribute("Extension", extension) + attribute("ContentType", kind) + "/>"
	})
}

// listSheets finds the worksheets and their parts.
func (p *parts) listSheets() error {
	target := map[string]relation{}
	for _, r := range p.relations(p.main) {
		target[r.id] = r
		p.strict = p.strict || strings.HasPrefix(r.kind, relSpaceStrict)
	}
	return walk(p.read(p.main), func(t tag) {
		if t.end || t.depth != 3 || t.Name.Local != "sheet" {
			return
		}
		r := target[t.id()]
		if part := p.find(path.Dir(p.main), r.target); part != "" && path.Base(r.kind) == "worksheet" {
			p.sheets = append(p.sheets, listed{t.attr("name"), part})
		}
	})
}

// write writes the workbook: untouched parts as they lie in the archive.
func (p *parts) write(w io.Writer) error {
	out := zip.NewWriter(w)
	for _, f := range p.zip.File {
		data, ok := p.changed[f.Name]
		if !ok {
			if err := out.Copy(f); err != nil {
				return fmt.Errorf("write workbook: %w", err)
			}
			continue
		}
		if err := writePart(out, f.Name, data); err != nil {
			return err
		}
	}
	for _, name := range p.added {
		if err := writePart(out, name, p.changed[name]); err != nil {
			return err
		}
	}
	return out.Close()
}

func writePart(out *zip.Writer, name string, data []byte) error {
	f, err := out.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err == nil {
		_, err = f.Write(data)
	}
	if err != nil {
		return fmt.Errorf("write workbook: %w", err)
	}
	return nil
}
