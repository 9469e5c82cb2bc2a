package sheet

import (
	"context"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"lanewright/planner/finding"
)

// Codes about the workbook as a whole.
const (
	CodeBinaryWorkbook = "sheet.binary-workbook"
	CodeOtherOffice    = "sheet.other-office-document"
	CodeMacros         = "sheet.macros-ignored"
	CodeNoTable        = "sheet.no-table"
	CodeStraySheet     = "sheet.stray-sheet"
)

// workbook is a workbook while it is read.
type workbook struct {
	archive *archive
	book    *Book
	name    string // of the main part
	listed  []listed
	parts   []relation
	strings []string
	hasText bool // there is a table of shared strings
	styles  []numberFormat
	shelf   *shelf
}

// listed is one sheet as the workbook's list names it.
type listed struct{ name, state, id string }

// readWorkbook reads an .xlsx or .xlsm file.
func (a *archive) readWorkbook(ctx context.Context) (*Book, error) {
	w := &workbook{archive: a, book: &Book{File: a.file, Format: FormatXLSX}}
	w.shelf = newShelf(&budget{cells: a.limits.Cells}, a.limits)
	for _, step := range []func(context.Context) error{
		w.findMain, w.readMain, w.readStrings, w.readStyles, w.readSheets,
	} {
		if err := step(ctx); err != nil {
			return nil, err
		}
	}
	w.noteStrays()
	return w.book, nil
}

// findMain finds the part that lists the sheets, and refuses documents that
// are no workbook or one in the binary format.
func (w *workbook) findMain(ctx context.Context) error {
	root, err := w.archive.relations(ctx, "")
	if err != nil {
		return err
	}
	types, err := w.archive.contentTypes(ctx)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(root, func(r relation) bool { return r.kind == "officeDocument" && !r.external })
	if i < 0 {
		return w.archive.missingPart("the reference to its main part")
	}
	main := w.archive.find("", root[i].target)
	if main == nil {
		return w.archive.missingPart("its main part " + root[i].target)
	}
	w.name = main.name
	kind := types[strings.ToLower(main.name)]
	if kind == "" {
		kind = types[strings.ToLower(path.Ext(main.name))]
	}
	return w.checkKind(kind)
}

// checkKind judges the declared content type of the main part.
func (w *workbook) checkKind(kind string) error {
	low := strings.ToLower(kind)
	switch {
	case strings.Contains(low, "sheet.binary"):
		return &Refused{
			Code: CodeBinaryWorkbook, Origin: w.archive.origin(),
			Summary: "this is a binary workbook (.xlsb)",
			Detail:  "The binary format is not read, because its content cannot be checked part by part.",
			Remedy:  saveAsXLSX,
		}
	case strings.Contains(low, "wordprocessing"), strings.Contains(low, "presentation"):
		return otherOffice(w.archive.origin())
	case strings.Contains(low, "macroenabled"):
		w.book.Notes = append(w.book.Notes, macrosIgnored(w.archive.origin()))
	}
	return nil
}

// readMain reads the list of sheets and the date system.
func (w *workbook) readMain(ctx context.Context) error {
	main := w.archive.find("", w.name)
	err := w.archive.walk(ctx, main, func(names []string, s *scanner) error {
		switch {
		case len(names) == 1 && !s.is("workbook"):
			return damaged(CodeBadXML, w.archive.origin(), "the main part %s is no list of sheets", main.name)
		case !s.main:
		case at(names, "workbook", "workbookPr"):
			w.book.Date1904 = isTrue(attrText(s, "date1904"))
		case at(names, "workbook", "sheets", "sheet"):
			if len(w.listed) >= w.archive.limits.Sheets {
				return tooMany(w.archive.origin(), "or more sheets", len(w.listed)+1, w.archive.limits.Sheets)
			}
			l := listed{name: attrText(s, "name"), state: attrText(s, "state")}
			var named bool
			if l.id, named = prefixedID(s); named && l.id == "" {
				w.book.Notes = append(w.book.Notes, noContent(w.sheetOrigin(l.name)))
				return nil
			}
			w.listed = append(w.listed, l)
		}
		return nil
	})
	if err != nil {
		return err
	}
	w.parts, err = w.archive.relations(ctx, main.name)
	return err
}

// prefixedID returns the attribute r:id, whatever its prefix, and whether there
// is one.
func prefixedID(s *scanner) (id string, ok bool) {
	for _, a := range s.attrs {
		if prefix, local, ok := strings.Cut(string(a.name), ":"); ok && local == "id" && prefix != "xml" {
			return string(a.value), true
		}
	}
	return "", false
}

// isTrue reads a truth value as workbooks write them.
func isTrue(s string) bool { return s == "1" || s == "true" || s == "on" }

// related returns the only part of a kind that the main part refers to, nil
// when it refers to none.
func (w *workbook) related(kind, what string) (*part, error) {
	var found *part
	for _, r := range w.parts {
		if r.kind != kind || r.external {
			continue
		}
		p := w.archive.find(path.Dir(w.name), r.target)
		if p == nil {
			return nil, w.archive.missingPart(what + ", " + r.target)
		}
		if found != nil && found != p {
			return nil, damaged(CodeBadXML, w.archive.origin(), "the workbook has two parts for %s", what)
		}
		found = p
	}
	return found, nil
}

// readSheets reads every sheet in the order of the list.
func (w *workbook) readSheets(ctx context.Context) error {
	if len(w.listed) == 0 {
		return damaged(CodeNoSheets, w.archive.origin(), "the workbook lists no sheets")
	}
	names := newNameSet(w.archive.origin())
	taken := map[*part]bool{}
	for _, l := range w.listed {
		if refused := names.add(l.name); refused != nil {
			return refused
		}
		p, kind, err := w.partOf(l)
		if err != nil {
			return err
		}
		if taken[p] {
			return damaged(CodeBadXML, w.sheetOrigin(l.name), "two sheets share the part %s", p.name)
		}
		taken[p] = true
		switch kind {
		case "worksheet":
		case "chartsheet", "dialogsheet", "xlMacrosheet", "xlIntlMacrosheet":
			w.book.Notes = append(w.book.Notes, noTable(w.sheetOrigin(l.name)))
			continue
		default:
			return damaged(CodeMissingPart, w.sheetOrigin(l.name), "the content of this sheet is of the unknown kind %.40q", kind)
		}
		if err := w.readSheet(ctx, l, p); err != nil {
			return err
		}
	}
	return nil
}

func (w *workbook) sheetOrigin(name string) finding.Origin {
	return finding.Origin{File: w.archive.file, Sheet: name}
}

// partOf finds the part of a listed sheet and the kind of the reference.
func (w *workbook) partOf(l listed) (*part, string, error) {
	i := slices.IndexFunc(w.parts, func(r relation) bool { return r.id == l.id && l.id != "" })
	if i < 0 || w.parts[i].external {
		return nil, "", damaged(CodeMissingPart, w.sheetOrigin(l.name), "the workbook does not say where the content of this sheet is")
	}
	p := w.archive.find(path.Dir(w.name), w.parts[i].target)
	if p == nil {
		return nil, "", damaged(CodeMissingPart, w.sheetOrigin(l.name), "the part %s with the content of this sheet is missing", w.parts[i].target)
	}
	return p, w.parts[i].kind, nil
}

func (w *workbook) readSheet(ctx context.Context, l listed, p *part) error {
	s := Sheet{File: w.archive.file, Name: l.name, State: stateOf(l.state), Date1904: w.book.Date1904}
	err := w.archive.inflate(ctx, p, func(r io.Reader) error {
		return newSheetWalk(w, &s, p, r).read()
	})
	if err != nil {
		return err
	}
	w.book.Sheets = append(w.book.Sheets, s)
	return nil
}

func stateOf(s string) string {
	switch {
	case strings.EqualFold(s, Hidden):
		return Hidden
	case strings.EqualFold(s, VeryHidden):
		return VeryHidden
	}
	return Visible
}

// noteStrays tells of sheets in the file that the list does not name: some
// program lost the reference to them.
func (w *workbook) noteStrays() {
	for _, p := range w.archive.order {
		low := strings.ToLower(p.name)
		if p.checked || path.Dir(low) != "xl/worksheets" || path.Ext(low) != ".xml" {
			continue
		}
		w.book.Notes = append(w.book.Notes, finding.Finding{
			Severity: finding.Warning, Code: CodeStraySheet, Origin: w.archive.origin(),
			Summary: fmt.Sprintf("the file holds a sheet that no list names: %s", p.name),
			Detail:  "A spreadsheet program does not show such a sheet, and it was not read.",
			Remedy:  "Look whether a sheet is missing in the workbook; if so, go back to an earlier copy of it.",
		})
	}
}

// noContent is about a sheet that is listed with a blank reference: what is
// left of a module whose macros were taken out.
func noContent(at finding.Origin) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeNoTable, Origin: at,
		Summary: fmt.Sprintf("the workbook lists %q, but says that it has no content", at.Sheet),
		Detail:  "Workbooks whose macros were taken out keep such entries; no program shows a sheet for them.",
		Remedy:  "If there should be a sheet of this name, go back to an earlier copy of the workbook.",
	}
}

func noTable(at finding.Origin) finding.Finding {
	return finding.Finding{
		Severity: finding.Note, Code: CodeNoTable, Origin: at,
		Summary: fmt.Sprintf("%q is a chart, dialog or macro sheet and holds no cells", at.Sheet),
		Detail:  "Only worksheets are read.",
		Remedy:  "Nothing needs to be done.",
	}
}
