package sheet

import (
	"bytes"
	"fmt"
	"strconv"
)

// cellXML is one c element taken apart.
type cellXML struct {
	kind      string
	style     int
	formula   bool
	hasValue  bool
	hasInline bool
}

// noStyle is the style of a cell whose style the workbook does not have. A
// text needs none; a number might be a date, so it is refused.
const noStyle = -1

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
	if len(w.value) > w.archive.limits.CellBytes {
		return longText(w.sheet.Origin(w.row, w.column), w.archive.limits)
	}
	c, err := w.cell(x)
	if err != nil {
		return err
	}
	return w.put(c, x.formula, 1)
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
	if err != nil || n < 0 || n >= max(len(w.book.styles), 1) {
		n = noStyle
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
		return w.truth(string(bytes.TrimSpace(w.value)))
	case "e":
		return Cell{Text: w.texts.keep(w.value), Error: true}, nil
	case "d":
		return w.isoDate(string(bytes.TrimSpace(w.value))), nil
	case "n":
		if !x.hasInline {
			return w.number(x)
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

// number reads a number by its format; what is no number stays a text.
func (w *sheetWalk) number(x cellXML) (Cell, error) {
	value := bytes.TrimSpace(w.value)
	if len(value) == 0 {
		return Cell{NoValue: x.formula}, nil
	}
	var ok bool
	if w.raw, ok = appendDecimal(w.raw[:0], value); !ok {
		return Cell{Text: w.texts.keep(value)}, nil
	}
	if x.style == noStyle {
		return Cell{}, w.badCell("is a number whose style the workbook does not have")
	}
	c := Cell{Raw: w.texts.keep(w.raw), Number: true}
	c.Text = c.Raw
	if x.style < len(w.book.styles) {
		w.show(&c, &w.book.styles[x.style])
	}
	return c, nil
}

// show gives a number the text that its format shows.
func (w *sheetWalk) show(c *Cell, format *numberFormat) {
	switch format.kind {
	case formatPlain:
	case formatDate:
		serial, _ := strconv.ParseFloat(c.Raw, 64)
		if text, ok := isoSerial(serial, w.sheet.Date1904, *format); ok {
			c.Text, c.Date = text, true
		}
	default:
		var ok bool
		if w.shown, ok = format.appendShown(w.shown[:0], w.raw); ok {
			c.Text = w.texts.keep(w.shown)
		}
	}
}
