package sheet

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
)

// Codes of refusals about the content of one sheet.
const (
	CodeMissingText = "sheet.missing-text"
	CodeBadPlace    = "sheet.bad-place"
	CodeBadCell     = "sheet.bad-cell"
)

// sheetWalk reads the XML of one sheet. It knows every place where a row or a
// cell may stand; one anywhere else refuses the sheet, so none is passed over.
type sheetWalk struct {
	grid
	book  *workbook
	part  *part
	data  bool   // sheetData was read
	value []byte // text of the v or is element
	shown []byte
}

func newSheetWalk(w *workbook, s *Sheet, p *part, r io.Reader) *sheetWalk {
	return &sheetWalk{grid: grid{scanner: newScanner(r, p.entry.UncompressedSize64), archive: w.archive, shelf: w.shelf, sheet: s}, book: w, part: p}
}

// read reads the whole part.
func (w *sheetWalk) read() error { return w.judge(w.part, w.document()) }

func (w *sheetWalk) document() error {
	for {
		t, err := w.next()
		switch {
		case err != nil || t == tokenEnd:
			return err
		case t != tokenStart:
		case w.depth() == 1:
			if !w.is("worksheet") {
				return xmlError("it is no worksheet")
			}
		case w.depth() == 2 && w.is("sheetData"):
			if w.data {
				return xmlError("it holds the cells of the sheet twice")
			}
			w.data = true
			err = w.only("row", w.readRow)
		case w.depth() == 2 && w.is("mergeCells"):
			err = w.only("mergeCell", w.merge)
		case w.depth() == 2 && w.is("cols"):
			err = w.only("col", w.col)
		case w.depth() == 2 && w.is("autoFilter"):
			w.sheet.Filtered = true
			err = w.skip()
		default:
			err = w.skip()
		}
		if err != nil {
			return err
		}
	}
}

// only hands every child with this name to read, which must read it to its
// end, and passes over the others. One of another namespace is none that any
// program shows, but refuses the sheet: it may be a row that went astray.
func (w *sheetWalk) only(name string, read func() error) error {
	return w.children(func() error {
		switch {
		case w.is(name):
			return read()
		case string(w.local) == name:
			return xmlError("it holds a <" + name + "> of another namespace")
		}
		return w.skip()
	})
}

// skip passes over the current element.
func (w *sheetWalk) skip() error {
	return w.pass(func() bool { return w.is("row") || w.is("c") })
}

// merge takes one range of merged cells; what is none is counted only.
func (w *sheetWalk) merge() error {
	ref, _ := w.attr("ref")
	from, to, ok := bytes.Cut(ref, []byte(":"))
	left, top := parseReference(from)
	right, bottom := parseReference(to)
	if !ok || left < 0 || right < left || bottom < top {
		w.sheet.Merges++
		return w.skip()
	}
	w.sheet.keepMerge(Range{Top: top, Bottom: bottom, Left: left, Right: right})
	return w.skip()
}

// col takes note of hidden columns.
func (w *sheetWalk) col() error {
	from, errFrom := strconv.Atoi(attrText(w.scanner, "min"))
	to, errTo := strconv.Atoi(attrText(w.scanner, "max"))
	if isTrue(attrText(w.scanner, "hidden")) && errFrom == nil && errTo == nil && 1 <= from && from <= to {
		w.sheet.hide(from-1, to-1)
	}
	return w.skip()
}

// readRow reads one row element.
func (w *sheetWalk) readRow() error {
	number := w.row + 1
	if v, ok := w.attr("r"); ok {
		n, err := strconv.Atoi(string(v))
		if err != nil || n < 1 {
			return w.badPlace("a row has the number %.40q", v)
		}
		number = n
	}
	switch {
	case number <= w.row:
		return w.badPlace("row %d stands after row %d", number, w.row)
	case number > w.archive.limits.Rows:
		return tooMuch(CodeRows, w.sheet.Origin(number, -1), fmt.Sprintf("the sheet has more than %d rows", w.archive.limits.Rows))
	}
	w.row, w.column, w.cells = number, -1, w.cells[:0] // no cell yet
	hidden := false
	if v, ok := w.attr("hidden"); ok {
		hidden = isTrue(string(v))
	}
	if err := w.only("c", w.readCell); err != nil {
		return err
	}
	return w.keepRow(1, hidden)
}

// place finds the column of the cell whose start tag was just read.
func (w *sheetWalk) place() error {
	column := w.column + 1
	if ref, ok := w.attr("r"); ok {
		c, row := parseReference(ref)
		if c < 0 || row != w.row {
			return w.badPlace("a cell of row %d has the place %.40q", w.row, ref)
		}
		column = c
	}
	switch {
	case column <= w.column:
		return w.badPlace("cell %s%d stands after cell %s%d", Letters(column), w.row, Letters(w.column), w.row)
	case column >= w.archive.limits.Columns:
		return tooWide(w.sheet, w.row, w.archive.limits)
	}
	w.column = column
	return nil
}

// parseReference reads "C41" as column 2 and row 41; the column is -1 when it
// is no reference.
func parseReference(ref []byte) (column, row int) {
	i := 0
	for i < len(ref) && i < 4 && (ref[i]|0x20) >= 'a' && (ref[i]|0x20) <= 'z' {
		column = column*26 + int(ref[i]|0x20-'a') + 1
		i++
	}
	if i == 0 || i == len(ref) || len(ref)-i > 9 {
		return -1, 0
	}
	for _, c := range ref[i:] {
		if c < '0' || c > '9' {
			return -1, 0
		}
		row = row*10 + int(c-'0')
	}
	return column - 1, row
}
