package sheet

import (
	"bytes"
	"strconv"
	"strings"
)

// odsCell is one cell of an OpenDocument table taken apart.
type odsCell struct {
	kind    string // float, percentage, currency, date, time, boolean, string or empty
	value   string // as the attribute of its kind gives it
	text    string // of a string that is not what the cell shows
	hasText bool
	formula bool
	failed  bool // the result is an error
}

// readCell reads one cell and puts it into its columns.
func (w *odsWalk) readCell() error {
	limits := w.archive.limits
	times, err := w.times("number-columns-repeated", limits.Columns)
	if err != nil {
		return err
	}
	x := w.cellHead()
	if err := w.span(); err != nil {
		return err
	}
	w.text = w.text[:0]
	paragraphs := 0
	if err := w.children(func() error { return w.cellPart(&paragraphs) }); err != nil {
		return err
	}
	if len(w.text) > limits.CellBytes || len(x.text) > limits.CellBytes {
		return longText(w.sheet.Origin(w.row, w.column), limits)
	}
	c, err := w.cell(x)
	if err != nil {
		return err
	}
	if err := w.put(c, x.formula, times); err != nil {
		return err
	}
	w.column = min(w.column+times, limits.Columns)
	return nil
}

// cellHead reads the attributes of a cell.
func (w *odsWalk) cellHead() odsCell {
	x := odsCell{kind: w.attrOf(spaceOffice, "value-type"), formula: w.attrOf(spaceTable, "formula") != ""}
	x.failed = w.attrOf(spaceCalcExt, "value-type") == "error"
	switch x.kind {
	case "date":
		x.value = w.attrOf(spaceOffice, "date-value")
	case "time":
		x.value = w.attrOf(spaceOffice, "time-value")
	case "boolean":
		x.value = w.attrOf(spaceOffice, "boolean-value")
	case "string":
		x.text = w.attrOf(spaceOffice, "string-value")
		x.hasText = x.text != ""
	default:
		x.value = w.attrOf(spaceOffice, "value")
	}
	return x
}

// span takes note of merged cells.
func (w *odsWalk) span() error {
	limits := w.archive.limits
	columns, err := w.times("number-columns-spanned", limits.Columns)
	if err != nil {
		return err
	}
	rows, err := w.times("number-rows-spanned", limits.Rows)
	if err != nil || columns*rows == 1 {
		return err
	}
	w.sheet.keepMerge(Range{Top: w.row, Bottom: w.row + rows - 1, Left: w.column, Right: w.column + columns - 1})
	return nil
}

// cellPart reads one child of a cell: a paragraph of its text, or something
// that is no part of its value. A table inside a cell is refused.
func (w *odsWalk) cellPart(paragraphs *int) error {
	switch {
	case w.in(spaceText, "p"):
		if *paragraphs++; *paragraphs > 1 {
			w.text = append(w.text, '\n')
		}
		return w.paragraph()
	case w.in(spaceTable, "table"):
		return w.badCell("holds a table of its own")
	}
	return w.skip()
}

// paragraph appends the text of a paragraph. Runs of white space count as one
// space, outer ones not at all; spaces that count are elements of their own
// (ISO/IEC 26300-1, 6.1.2; from memory).
func (w *odsWalk) paragraph() error {
	depth, start := w.depth(), len(w.text)
	loose := true // a space here would be an outer or a second one
	for {
		t, err := w.next()
		switch {
		case err != nil:
			return err
		case t == tokenText:
			loose = w.collapse(loose)
		case t == tokenStart:
			loose, err = w.inline(loose)
			if err != nil {
				return err
			}
		case t == tokenClose && w.depth() < depth:
			if loose && len(w.text) > start && w.text[len(w.text)-1] == ' ' {
				w.text = w.text[:len(w.text)-1]
			}
			return nil
		}
	}
}

// collapse appends the scanner's text with its white space collapsed.
func (w *odsWalk) collapse(loose bool) bool {
	for _, c := range w.scanner.text {
		if !isBlank(c) {
			w.text = append(w.text, c)
			loose = false
			continue
		}
		if !loose {
			w.text = append(w.text, ' ')
			loose = true
		}
	}
	return loose
}

// inline handles an element inside a paragraph. Spans and links are passed
// through; notes, annotations and reading aids are no part of the text.
func (w *odsWalk) inline(loose bool) (bool, error) {
	switch {
	case w.in(spaceText, "s"):
		n := 1
		if v := w.attrOf(spaceText, "c"); v != "" {
			var err error
			if n, err = strconv.Atoi(v); err != nil || n < 1 || n > w.archive.limits.CellBytes {
				return loose, w.badCell("has %.40q spaces", v)
			}
		}
		w.text = append(w.text, bytes.Repeat([]byte(" "), n)...)
		return false, w.skip()
	case w.in(spaceText, "tab"):
		w.text = append(w.text, '\t')
		return false, w.skip()
	case w.in(spaceText, "line-break"):
		w.text = append(w.text, '\n')
		return true, w.skip()
	case w.in(spaceText, "span"), w.in(spaceText, "a"), w.in(spaceText, "ruby"), w.in(spaceText, "ruby-base"), w.in(spaceText, "meta"):
		return loose, nil
	}
	if w.space == spaceText && !w.in(spaceText, "note") && !w.in(spaceText, "ruby-text") {
		return loose, nil // fields such as a date or a sheet's name
	}
	return loose, w.skip()
}

// cell gives a cell its meaning.
func (w *odsWalk) cell(x odsCell) (Cell, error) {
	shown := string(w.text)
	switch {
	case x.failed, x.formula && looksFailed(shown):
		return Cell{Text: w.texts.keep(w.text), Error: true}, nil
	case x.kind == "" && shown == "":
		return Cell{NoValue: x.formula}, nil
	}
	switch x.kind {
	case "float", "percentage", "currency":
		return w.number(x, shown)
	case "date":
		return w.isoDate(x.value), nil
	case "time":
		return w.time(x)
	case "boolean":
		return w.truth(x.value)
	case "string", "":
		if x.hasText {
			return Cell{Text: x.text}, nil
		}
		return Cell{Text: w.texts.keep(w.text)}, nil
	}
	return Cell{}, w.badCell("has the unknown type %.40q", x.kind)
}

// looksFailed reports whether a formula shows an error value.
func looksFailed(shown string) bool {
	return strings.HasPrefix(shown, "Err:") || strings.HasPrefix(shown, "#") && strings.ContainsAny(shown, "!?/")
}

// number reads a number; what its format shows is kept as far as it fixes a
// code or names a unit.
func (w *odsWalk) number(x odsCell, shown string) (Cell, error) {
	var ok bool
	if w.raw, ok = appendDecimal(w.raw[:0], []byte(x.value)); !ok {
		return Cell{}, w.badCell("holds the number %.40q", x.value)
	}
	c := Cell{Raw: w.texts.keep(w.raw), Number: true}
	c.Text = c.Raw
	if x.kind == "percentage" {
		c.Text = string(append(shiftPoint(nil, w.raw), '%'))
	} else {
		c.Text = shownNumber(c.Raw, shown)
	}
	return c, nil
}

// shownNumber is the text of a number that a cell shows as shown, in whatever
// language: padding, marks between the digits of a code and what stands
// before and behind it are kept; grouping and rounding are not.
func shownNumber(raw, shown string) string {
	first := strings.IndexAny(shown, "0123456789")
	if first < 0 {
		return raw
	}
	last := strings.LastIndexAny(shown, "0123456789") + 1
	before, digits, after := shown[:first], shown[first:last], shown[last:]
	plain := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, digits)
	whole, negative := strings.CutPrefix(raw, "-")
	switch {
	case negative:
		return raw
	case strings.TrimLeft(plain, "0") == strings.TrimLeft(whole, "0") && !strings.ContainsAny(digits, "., '\u00a0\u202f"):
		return strings.TrimLeft(before, " ") + digits + strings.TrimRight(after, " ")
	case strings.ContainsAny(before+after, "()+E"):
		return raw
	}
	return strings.TrimLeft(before, " ") + raw + strings.TrimRight(after, " ")
}

// time reads a duration such as PT06H30M00S as a time of day.
func (w *odsWalk) time(x odsCell) (Cell, error) {
	seconds, ok := isoDuration(x.value)
	if !ok {
		return Cell{}, w.badCell("holds the time %.40q", x.value)
	}
	format := numberFormat{kind: formatDate, hasTime: true, elapsed: seconds >= secondsPerDay}
	return w.serial(seconds/secondsPerDay, format, x.value), nil
}

// isoDuration returns the seconds of PT6H30M0.5S; hours may pass 24.
func isoDuration(s string) (seconds float64, ok bool) {
	rest, ok := strings.CutPrefix(s, "PT")
	for _, unit := range []struct {
		mark   string
		factor float64
	}{{"H", 3600}, {"M", 60}, {"S", 1}} {
		number, after, found := strings.Cut(rest, unit.mark)
		if !found {
			continue
		}
		v, err := strconv.ParseFloat(strings.ReplaceAll(number, ",", "."), 64)
		if err != nil || v < 0 || v > 1e6 {
			return 0, false
		}
		seconds, rest = seconds+v*unit.factor, after
	}
	return seconds, ok && rest == "" && len(s) > len("PT")
}
