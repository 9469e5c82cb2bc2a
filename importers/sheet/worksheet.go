package sheet

import (
	"bytes"
	"errors"
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
	*scanner
	book   *workbook
	sheet  *Sheet
	part   *part
	texts  texts
	row    int    // number of the current row
	column int    // of the last cell, from 0; -1 before the first
	cells  []Cell // of the current row, from column A
	data   bool   // sheetData was read
	value  []byte // text of the v or is element
	shown  []byte
	raw    []byte
}

// cellXML is one c element taken apart.
type cellXML struct {
	kind       string
	style      int
	formula    bool
	hasValue   bool
	hasInline  bool
	errorValue bool
}

func newSheetWalk(w *workbook, s *Sheet, p *part, r io.Reader) *sheetWalk {
	return &sheetWalk{scanner: newScanner(r), book: w, sheet: s, part: p}
}

// read reads the whole part.
func (w *sheetWalk) read() error {
	err := w.document()
	var refused *Refused
	if err == nil || errors.As(err, &refused) {
		return err
	}
	return w.book.archive.badXML(w.part, w.sheet.Origin(w.row, -1), err)
}

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
			err = w.children(w.readRow, "row")
		case w.depth() == 2 && w.is("mergeCells"):
			err = w.children(w.merge, "mergeCell")
		default:
			err = w.skip()
		}
		if err != nil {
			return err
		}
	}
}

// children hands every child with this name to read, which must read it to
// its end, and passes over the others.
func (w *sheetWalk) children(read func() error, name string) error {
	depth := w.depth()
	for {
		t, err := w.next()
		switch {
		case err != nil:
			return err
		case t == tokenClose && w.depth() < depth:
			return nil
		case t != tokenStart:
			continue
		case w.is(name):
			err = read()
		default:
			err = w.skip()
		}
		if err != nil {
			return err
		}
	}
}

// skip passes over the element whose start tag was just read. No row or cell
// may hide in it.
func (w *sheetWalk) skip() error {
	depth := w.depth()
	for {
		if w.is("row") || w.is("c") {
			return xmlError(fmt.Sprintf("it holds a <%s> where none may stand", w.local))
		}
		t, err := w.next()
		if err != nil {
			return err
		}
		if t == tokenClose && w.depth() < depth {
			return nil
		}
	}
}

func (w *sheetWalk) merge() error {
	w.sheet.Merges++
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
	case number > w.book.archive.limits.Rows:
		return tooMuch(CodeRows, w.sheet.Origin(number, -1), fmt.Sprintf("the sheet has more than %d rows", w.book.archive.limits.Rows))
	}
	w.row, w.column, w.cells = number, -1, w.cells[:0]
	if err := w.children(w.readCell, "c"); err != nil {
		return err
	}
	if refused := w.book.shelf.keep(w.sheet, w.row, w.cells); refused != nil {
		return refused
	}
	return nil
}

func (w *sheetWalk) badPlace(format string, args ...any) error {
	return damaged(CodeBadPlace, w.sheet.Origin(w.row, -1), format, args...)
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
	case column >= w.book.archive.limits.Columns:
		return tooMuch(CodeColumns, w.sheet.Origin(w.row, -1), fmt.Sprintf("row %d has more than %d columns", w.row, w.book.archive.limits.Columns))
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

// readCell reads one c element and puts it into its column.
func (w *sheetWalk) readCell() error {
	if err := w.place(); err != nil {
		return err
	}
	x, err := w.cellHead()
	if err != nil {
		return err
	}
	if err := w.cellBody(&x); err != nil {
		return err
	}
	if len(w.value) > w.book.archive.limits.CellBytes {
		return longText(w.sheet.Origin(w.row, w.column), w.book.archive.limits)
	}
	c, err := w.cell(x)
	if err != nil {
		return err
	}
	if c.IsEmpty() {
		return nil
	}
	for len(w.cells) < w.column {
		w.cells = append(w.cells, Cell{})
	}
	w.cells = append(w.cells, c)
	return nil
}

// cellHead reads the attributes of a cell.
func (w *sheetWalk) cellHead() (cellXML, error) {
	x := cellXML{kind: "n"}
	if v, ok := w.attr("t"); ok && len(v) > 0 {
		x.kind = kindName(v)
	}
	if x.kind == "" {
		v, _ := w.attr("t")
		return x, w.badCell("has the unknown type %.40q", v)
	}
	v, ok := w.attr("s")
	if !ok || len(v) == 0 {
		return x, nil
	}
	n, err := strconv.Atoi(string(v))
	if err != nil || n < 0 || n >= max(len(w.book.styles), 1) && (len(w.book.styles) > 0 || n > 0) {
		return x, w.badCell("has the style %.40q, which the workbook does not have", v)
	}
	x.style = n
	return x, nil
}

// kindName returns the type of a cell, empty when there is no such type
// (ISO/IEC 29500-1, 18.18.11). It saves making a text of each.
func kindName(v []byte) string {
	switch string(v) {
	case "s":
		return "s"
	case "n":
		return "n"
	case "str":
		return "str"
	case "inlineStr":
		return "inlineStr"
	case "b":
		return "b"
	case "e":
		return "e"
	case "d":
		return "d"
	}
	return ""
}

func (w *sheetWalk) badCell(format string, args ...any) error {
	at := w.sheet.Origin(w.row, w.column)
	return damaged(CodeBadCell, at, "cell %s%d %s", at.Column, at.Row, fmt.Sprintf(format, args...))
}

// cellBody reads the children of a cell up to its end tag.
func (w *sheetWalk) cellBody(x *cellXML) error {
	w.value = w.value[:0]
	depth := w.depth()
	for {
		t, err := w.next()
		switch {
		case err != nil:
			return err
		case t == tokenClose && w.depth() < depth:
			return nil
		case t != tokenStart:
			continue
		case w.is("v"):
			if x.hasValue {
				return w.badCell("holds two values")
			}
			x.hasValue = true
			err = w.plainText()
		case w.is("is"):
			x.hasInline = true
			w.value, err = richText(w.scanner, w.value)
		case w.is("f"):
			x.formula = true
			err = w.skip()
		default:
			err = w.skip()
		}
		if err != nil {
			return err
		}
	}
}

// plainText appends the text of the element whose start tag was just read.
func (w *sheetWalk) plainText() error {
	depth := w.depth()
	for {
		t, err := w.next()
		switch {
		case err != nil:
			return err
		case t == tokenText:
			w.value = append(w.value, w.text...)
		case t == tokenStart:
			return w.badCell("holds a tag inside its value")
		case t == tokenClose && w.depth() < depth:
			return nil
		}
	}
}

// cell gives a cell its meaning.
func (w *sheetWalk) cell(x cellXML) (Cell, error) {
	if !x.hasValue && !x.hasInline {
		return Cell{NoValue: x.formula}, nil
	}
	switch x.kind {
	case "s":
		return w.sharedText()
	case "b":
		return w.truth()
	case "e":
		return Cell{Text: w.texts.keep(w.value), Error: true}, nil
	case "d":
		return w.isoCell(), nil
	case "n":
		if !x.hasInline {
			return w.number(x), nil
		}
	}
	return Cell{Text: w.texts.keep(unescape(w.value))}, nil
}

func (w *sheetWalk) sharedText() (Cell, error) {
	if !w.book.hasText {
		return Cell{}, w.missingText("the workbook has no table of texts")
	}
	n, err := strconv.Atoi(string(bytes.TrimSpace(w.value)))
	if err != nil || n < 0 || n >= len(w.book.strings) {
		return Cell{}, w.missingText(fmt.Sprintf("the table of texts has %d", len(w.book.strings)))
	}
	return Cell{Text: w.book.strings[n]}, nil
}

func (w *sheetWalk) missingText(why string) error {
	at := w.sheet.Origin(w.row, w.column)
	return damaged(CodeMissingText, at, "cell %s%d refers to text number %.20q, but %s", at.Column, at.Row, w.value, why)
}

func (w *sheetWalk) truth() (Cell, error) {
	switch v := string(bytes.TrimSpace(w.value)); v {
	case "1", "true", "TRUE":
		return Cell{Text: "TRUE"}, nil
	case "0", "false", "FALSE":
		return Cell{Text: "FALSE"}, nil
	default:
		return Cell{}, w.badCell("holds the truth value %.40q", v)
	}
}

// isoCell reads a date of the strict variant; what is no date stays a text.
func (w *sheetWalk) isoCell() Cell {
	v := string(bytes.TrimSpace(w.value))
	serial, format, ok := parseISO(v, w.sheet.Date1904)
	if !ok {
		return Cell{Text: v}
	}
	w.raw = appendFloat(w.raw[:0], serial)
	c := Cell{Text: v, Raw: w.texts.keep(w.raw), Number: true, Date: true}
	if text, ok := isoSerial(serial, w.sheet.Date1904, format); ok {
		c.Text = text
	}
	return c
}

// number reads a number by its format; what is no number stays a text.
func (w *sheetWalk) number(x cellXML) Cell {
	value := bytes.TrimSpace(w.value)
	if len(value) == 0 {
		return Cell{NoValue: x.formula}
	}
	var ok bool
	if w.raw, ok = appendDecimal(w.raw[:0], value); !ok {
		return Cell{Text: w.texts.keep(value)}
	}
	c := Cell{Raw: w.texts.keep(w.raw), Number: true}
	c.Text = c.Raw
	if x.style >= len(w.book.styles) {
		return c
	}
	format := &w.book.styles[x.style]
	switch format.kind {
	case formatPlain:
	case formatDate:
		serial, _ := strconv.ParseFloat(c.Raw, 64)
		if text, ok := isoSerial(serial, w.sheet.Date1904, *format); ok {
			c.Text, c.Date = text, true
		}
	default:
		if w.shown, ok = format.appendShown(w.shown[:0], w.raw); ok {
			c.Text = w.texts.keep(w.shown)
		}
	}
	return c
}
