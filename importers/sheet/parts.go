package sheet

import (
	"context"
	"errors"
	"io"
	"path"
	"strings"

	"lanewright/planner/finding"
)

// Codes of refusals about the XML of a part.
const (
	CodeDoctype = "sheet.doctype"
	CodeBadXML  = "sheet.bad-xml"
)

// maxListed bounds the lists of a workbook that are kept: references, content
// types, number formats, cell formats (of which spreadsheet programs allow
// 65 490).
const maxListed = 1 << 17

// walk reads the XML of a part to its end and hands every start tag to visit,
// with the names of the elements it stands in, itself last.
func (a *archive) walk(ctx context.Context, p *part, visit func(names []string, s *scanner) error) error {
	return a.inflate(ctx, p, func(r io.Reader) error {
		s := newScanner(r, p.entry.UncompressedSize64)
		var names []string
		for {
			t, err := s.next()
			if err != nil {
				return a.badXML(p, a.origin(), err)
			}
			switch t {
			case tokenEnd:
				return nil
			case tokenStart:
				names = append(names, string(s.local))
				if err := visit(names, s); err != nil {
					return err
				}
			case tokenClose:
				names = names[:len(names)-1]
			}
		}
	})
}

// badXML turns an error of the scanner into a refusal; refusals and errors of
// the world behind it go through as they are.
func (a *archive) badXML(p *part, at finding.Origin, err error) error {
	var bad xmlError
	switch {
	case errors.Is(err, errDoctype):
		return damaged(CodeDoctype, at, "the part %s was not read: %s", p.name, err)
	case errors.Is(err, errEncoding), errors.Is(err, errTooLong), errors.As(err, &bad):
		return damaged(CodeBadXML, at, "the part %s was not read: %s", p.name, err)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return damaged(CodeBadXML, at, "the part %s was not read: it ends too early", p.name)
	}
	return err
}

// at reports whether names is exactly this path.
func at(names []string, path ...string) bool {
	if len(names) != len(path) {
		return false
	}
	for i := range path {
		if names[i] != path[i] {
			return false
		}
	}
	return true
}

// relation is one reference from a part to another one.
type relation struct {
	id, kind, target string
	external         bool
}

// relations reads what the part with this name refers to. A part without a
// list of references refers to nothing.
func (a *archive) relations(ctx context.Context, name string) ([]relation, error) {
	folder, base := path.Split(name)
	p := a.parts[strings.ToLower(folder+"_rels/"+base+".rels")]
	if p == nil {
		return nil, nil
	}
	var list []relation
	seen := map[string]bool{}
	err := a.walk(ctx, p, func(names []string, s *scanner) error {
		if !at(names, "Relationships", "Relationship") {
			return nil
		}
		r := relation{id: attrText(s, "Id"), kind: path.Base(attrText(s, "Type")), target: attrText(s, "Target")}
		r.external = strings.EqualFold(attrText(s, "TargetMode"), "external")
		switch {
		case len(list) >= maxListed:
			return a.tooLong(p)
		case seen[r.id]:
			return damaged(CodeBadXML, a.origin(), "the part %s names two references %q", p.name, r.id)
		}
		seen[r.id] = true
		list = append(list, r)
		return nil
	})
	return list, err
}

// attrText returns an attribute as text, empty when it is not there.
func attrText(s *scanner, name string) string {
	v, _ := s.attr(name)
	return string(v)
}

// contentTypes reads the declared type of every part, by lower-case name; a
// name that begins with a dot is an extension.
func (a *archive) contentTypes(ctx context.Context) (map[string]string, error) {
	types := map[string]string{}
	p := a.parts["[content_types].xml"]
	if p == nil {
		return types, nil
	}
	err := a.walk(ctx, p, func(names []string, s *scanner) error {
		switch kind := attrText(s, "ContentType"); {
		case len(types) >= maxListed:
			return a.tooLong(p)
		case at(names, "Types", "Override"):
			name := strings.ReplaceAll(attrText(s, "PartName"), `\`, "/")
			types[strings.ToLower(strings.TrimPrefix(name, "/"))] = kind
		case at(names, "Types", "Default"):
			types["."+strings.ToLower(attrText(s, "Extension"))] = kind
		}
		return nil
	})
	return types, err
}

// tooLong refuses a part with a list of unreasonable length.
func (a *archive) tooLong(p *part) *Refused {
	return damaged(CodeBadXML, a.origin(), "the part %s holds a list of unreasonable length", p.name)
}

// missingPart refuses a workbook that refers to a part it does not have.
func (a *archive) missingPart(what string) *Refused {
	return damaged(CodeMissingPart, a.origin(), "the workbook lacks %s", what)
}
