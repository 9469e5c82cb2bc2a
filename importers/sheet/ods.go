package sheet

import (
	"bytes"
	"context"
	"io"
	"strconv"
	"strings"

	"lanewright/planner/finding"
)

// readOpenDocument reads an .ods file: the tables of content.xml.
func (a *archive) readOpenDocument(ctx context.Context) (*Book, error) {
	if err := a.checkOpenDocument(ctx); err != nil {
		return nil, err
	}
	book := &Book{File: a.file, Format: FormatODS}
	p := a.parts["content.xml"]
	err := a.inflate(ctx, p, func(r io.Reader) error {
		w := &odsWalk{
			grid: grid{scanner: newScanner(r, p.entry.UncompressedSize64), archive: a, shelf: newShelf(&budget{cells: a.limits.Cells}, a.limits)},
			book: book, hidden: map[string]bool{}, names: newNameSet(a.origin()),
		}
		return w.judge(p, w.document())
	})
	if err == nil && len(book.Sheets) == 0 {
		err = damaged(CodeNoSheets, a.origin(), "the workbook lists no sheets")
	}
	if err != nil {
		return nil, err
	}
	return book, nil
}

// checkOpenDocument refuses what is encrypted and what is no table.
func (a *archive) checkOpenDocument(ctx context.Context) error {
	kind, err := a.bytesOf(ctx, a.parts["mimetype"])
	if err != nil {
		return err
	}
	if !bytes.Contains(kind, []byte("opendocument.spreadsheet")) {
		return otherOffice(a.origin())
	}
	manifest := a.parts["meta-inf/manifest.xml"]
	if manifest == nil {
		return nil
	}
	return a.walk(ctx, manifest, func(names []string, _ *scanner) error {
		if names[len(names)-1] == "encryption-data" {
			return encrypted(a.file)
		}
		return nil
	})
}

// odsWalk reads the content of an OpenDocument workbook. As in sheetWalk, a
// row or cell where none may stand refuses the file.
type odsWalk struct {
	grid
	book   *Book
	names  *nameSet
	hidden map[string]bool // styles of tables that are not shown
	text   []byte          // that the current cell shows
}

// document reads the styles of tables and the tables; macros are told.
func (w *odsWalk) document() error {
	for {
		t, err := w.next()
		switch {
		case err != nil || t == tokenEnd:
			return err
		case t != tokenStart:
		case w.depth() == 1 && !w.in(spaceOffice, "document-content"):
			return xmlError("it is no OpenDocument content")
		case w.depth() == 2 && w.in(spaceOffice, "scripts"):
			err = w.scripts()
		case w.depth() == 2 && w.in(spaceOffice, "automatic-styles"):
			err = w.children(w.style)
		case w.depth() == 3 && w.in(spaceOffice, "spreadsheet"):
			err = w.children(w.spreadsheet)
		case w.depth() == 2 && w.in(spaceOffice, "body"), w.depth() == 1:
		default:
			err = w.skip()
		}
		if err != nil {
			return err
		}
	}
}

// skip passes over the current element; changes that were tracked keep old
// cells, but no row.
func (w *odsWalk) skip() error {
	return w.pass(func() bool { return w.in(spaceTable, "table-row") })
}

// scripts tells of macros where there are any.
func (w *odsWalk) scripts() error {
	found := false
	err := w.children(func() error {
		found = found || w.in(spaceOffice, "script")
		return w.skip()
	})
	if found {
		w.book.Notes = append(w.book.Notes, macrosIgnored(w.archive.origin()))
	}
	return err
}

// style takes note of styles of tables that are not shown.
func (w *odsWalk) style() error {
	name := w.attrOf(spaceStyle, "name")
	return w.children(func() error {
		if w.in(spaceStyle, "table-properties") && w.attrOf(spaceTable, "display") == "false" && len(w.hidden) < maxListed {
			w.hidden[name] = true
		}
		return w.skip()
	})
}

func (w *odsWalk) spreadsheet() error {
	switch {
	case w.in(spaceTable, "table"):
		return w.table()
	case w.in(spaceTable, "calculation-settings"):
		return w.children(w.nullDate)
	case w.in(spaceTable, "database-ranges"):
		return w.children(w.skip)
	}
	return w.skip()
}

// nullDate reads the day that serial dates count from.
func (w *odsWalk) nullDate() error {
	if w.in(spaceTable, "null-date") && strings.HasPrefix(w.attrOf(spaceTable, "date-value"), "1904") {
		w.book.Date1904 = true
	}
	return w.skip()
}

// table reads one sheet.
func (w *odsWalk) table() error {
	name := w.attrOf(spaceTable, "name")
	if len(w.book.Sheets) >= w.archive.limits.Sheets {
		return tooMany(w.archive.origin(), "or more sheets", len(w.book.Sheets)+1, w.archive.limits.Sheets)
	}
	if refused := w.names.add(name); refused != nil {
		return refused
	}
	s := Sheet{File: w.archive.file, Name: name, State: Visible, Date1904: w.book.Date1904}
	if w.hidden[w.attrOf(spaceTable, "style-name")] {
		s.State = Hidden
	}
	w.sheet, w.row, w.column = &s, 0, 0
	if err := w.children(w.tablePart); err != nil {
		return err
	}
	w.book.Sheets = append(w.book.Sheets, s)
	w.sheet = nil
	return nil
}

// tablePart reads rows and columns, which may stand in groups.
func (w *odsWalk) tablePart() error {
	switch {
	case w.in(spaceTable, "table-row"):
		return w.readRow()
	case w.in(spaceTable, "table-row-group"), w.in(spaceTable, "table-header-rows"), w.in(spaceTable, "table-rows"),
		w.in(spaceTable, "table-column-group"), w.in(spaceTable, "table-header-columns"), w.in(spaceTable, "table-columns"):
		return w.children(w.tablePart)
	case w.in(spaceTable, "table-column"):
		return w.tableColumn()
	}
	return w.skip()
}

func (w *odsWalk) tableColumn() error {
	n, err := w.times("number-columns-repeated", w.archive.limits.Columns)
	if err != nil {
		return err
	}
	if v := w.attrOf(spaceTable, "visibility"); v == "collapse" || v == "filter" {
		w.sheet.hide(w.column, w.column+n-1)
	}
	w.column += n
	return w.skip()
}

// times reads how often a row, column or cell is repeated: 1 where nothing is
// said. Far more than limit is one more than limit: empty ones reach that far
// and are nothing, filled ones are too many.
func (w *odsWalk) times(name string, limit int) (int, error) {
	v := w.attrOf(spaceTable, name)
	if v == "" {
		return 1, nil
	}
	n, err := strconv.Atoi(v)
	if err != nil || n < 1 {
		return 0, w.badPlace("%s is %.40q", name, v)
	}
	return min(n, limit+1), nil
}

// readRow reads one row as often as it is repeated. Empty rows may reach to
// the end of the sheet and beyond; filled ones may not.
func (w *odsWalk) readRow() error {
	limits := w.archive.limits
	n, err := w.times("number-rows-repeated", limits.Rows)
	if err != nil {
		return err
	}
	v := w.attrOf(spaceTable, "visibility")
	w.column, w.cells, w.row = 0, w.cells[:0], w.row+1
	if err := w.children(w.rowPart); err != nil {
		return err
	}
	if err := w.keepRow(n, v == "collapse" || v == "filter"); err != nil {
		return err
	}
	w.sheet.Filtered = w.sheet.Filtered || v == "filter"
	w.row = min(w.row+n-1, limits.Rows)
	return nil
}

func (w *odsWalk) rowPart() error {
	if w.in(spaceTable, "table-cell") || w.in(spaceTable, "covered-table-cell") {
		return w.readCell()
	}
	return w.skip()
}

// otherOffice refuses a document of an office program that is no workbook.
func otherOffice(at finding.Origin) *Refused {
	return &Refused{
		Code: CodeOtherOffice, Origin: at,
		Summary: "this is a text document or a presentation, not a workbook",
		Detail:  "Only workbooks and CSV files hold tables that can be read.",
		Remedy:  "Copy the table into a spreadsheet program and save it as .xlsx.",
	}
}

func macrosIgnored(at finding.Origin) finding.Finding {
	return finding.Finding{
		Severity: finding.Note, Code: CodeMacros, Origin: at,
		Summary: "the workbook holds macros, which were ignored",
		Detail:  "Only the values saved in the cells are read; nothing in a file is ever run.",
		Remedy:  "If macros fill the sheets, run them and save the workbook before handing it in.",
	}
}
