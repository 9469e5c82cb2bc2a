package value

import (
	"iter"

	"lanewright/importers/sheet"
)

// MarksOf returns the decimal mark that the clear numbers among texts agree
// on: 1.5 and 1,234.5 speak for the point, 0,25 and 1.234,5 for the comma. It
// is not known when none speaks, or when they disagree. Give it columns of
// numbers only: codes with marks in them would mislead it.
func MarksOf(cells iter.Seq[sheet.Cell]) Marks {
	var points, commas int
	for c := range cells {
		if c.Number || unusable(c) {
			continue
		}
		switch decimalOf(clean(c.Text)) {
		case '.':
			points++
		case ',':
			commas++
		}
	}
	switch {
	case points > 0 && commas == 0:
		return Marks{Decimal: '.'}
	case commas > 0 && points == 0:
		return Marks{Decimal: ','}
	}
	return Marks{}
}

// Doubtful reports whether a cell holds a text that is two numbers, depending
// on the decimal mark: 1,234.
func Doubtful(c sheet.Cell) bool {
	if c.Number || unusable(c) {
		return false
	}
	t, ok := scan(clean(c.Text))
	if !ok {
		return false
	}
	v, other, ok := t.number(Marks{})
	return ok && other != nil && !other.Equal(v)
}

// decimalOf returns the mark that must be the decimal one in this number, or
// 0 when it could be either or the text is no number.
func decimalOf(text string) rune {
	t, ok := scan(text)
	if !ok {
		return 0
	}
	p, _, point := t.reading('.')
	c, _, comma := t.reading(',')
	switch {
	case p == c || point && comma:
		return 0
	case point:
		return '.'
	case comma:
		return ','
	}
	return 0
}

func (t *scanned) reading(decimal rune) (string, string, bool) {
	return t.plain(Marks{Decimal: decimal})
}
