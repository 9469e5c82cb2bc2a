package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// LabelSheet is a sheet of labels, or of cards, as they are sold; measures in mm.
type LabelSheet struct {
	// Name is the size of one label: "63.5x38.1" in mm, "4x2in" in inches; one label
	// on a page of its own is "page:100x60" or "page:4x3in".
	Name          string
	Sheet         Size
	Columns, Rows int
	// Label is the size of one; Left and Top are the margins before the first, StepX
	// and StepY lead from one to the next.
	Label                   Size
	Left, Top, StepX, StepY float64
	// Cut says that the sheet is cut after it was printed.
	Cut bool
}

var (
	a4Upright     = Size{a4.Height, a4.Width}
	letterUpright = Size{letter.Height, letter.Width}
)

// labelSheets are common sizes of self-adhesive sheets (common practice, from
// memory): the labels stand in the middle of the sheet, columns with the gap given.
var labelSheets = [...]LabelSheet{
	sheetOf("63.5x38.1", a4Upright, 3, 7, Size{63.5, 38.1}, 2.54),
	sheetOf("99.1x38.1", a4Upright, 2, 7, Size{99.1, 38.1}, 2.54),
	sheetOf("99.1x67.7", a4Upright, 2, 4, Size{99.1, 67.7}, 2.54),
	sheetOf("4x2in", letterUpright, 2, 5, Size{4 * inch, 2 * inch}, 0.1875*inch),
	sheetOf("4x3.33in", letterUpright, 2, 3, Size{4 * inch, 10 * inch / 3}, 0.1875*inch),
}

// cardSheets hold loop cards, eight on a sheet of paper or card that is cut.
var cardSheets = [...]LabelSheet{
	cut8("105x74", a4Upright),
	cut8("4.25x2.75in", letterUpright),
}

const inch = 25.4

func sheetOf(name string, s Size, columns, rows int, label Size, gap float64) LabelSheet {
	l := LabelSheet{Name: name, Sheet: s, Columns: columns, Rows: rows, Label: label, StepX: label.Width + gap, StepY: label.Height}
	l.Left = (s.Width - float64(columns)*label.Width - float64(columns-1)*gap) / 2
	l.Top = (s.Height - float64(rows)*label.Height) / 2
	return l
}

func cut8(name string, s Size) LabelSheet {
	l := sheetOf(name, s, 2, 4, Size{s.Width / 2, s.Height / 4}, 0)
	l.Cut = true
	return l
}

// LabelSheets lists the sheets that have a name.
func LabelSheets() []LabelSheet { return labelSheets[:] }

// Least and largest measures of a label on a page of its own, in mm. A smaller one
// has no room for an address that can be read from 2 m and what else is on it.
const (
	leastLabelWide = 60.0
	leastLabelHigh = 36.0
	mostLabel      = 420.0
)

// ParseLabelSheet finds a sheet by its name, or makes one of a page: "page:100x60"
// in mm, "page:4x3in" in inches, width first. The error says what there is.
func ParseLabelSheet(name string) (LabelSheet, error) {
	for _, l := range labelSheets {
		if l.Name == name {
			return l, nil
		}
	}
	size, single := strings.CutPrefix(name, "page:")
	if !single {
		return LabelSheet{}, fmt.Errorf("there is no size %q: it is %s, or page:WIDTHxHEIGHT for one label on each page (mm, or inches as in page:4x3in)", name, sheetNames())
	}
	s, ok := parseSize(size)
	if !ok {
		return LabelSheet{}, fmt.Errorf("size %q: expected page:WIDTHxHEIGHT, in mm as in page:100x60 or in inches as in page:4x3in", name)
	}
	if s.Width < leastLabelWide || s.Height < leastLabelHigh || max(s.Width, s.Height) > mostLabel {
		return LabelSheet{}, fmt.Errorf("size %q: a label is at least %g x %g mm, for its address is to be read from 2 m, and at most %g mm long", name, leastLabelWide, leastLabelHigh, mostLabel)
	}
	l := sheetOf(name, s, 1, 1, s, 0)
	return l, nil
}

func sheetNames() string {
	names := make([]string, len(labelSheets))
	for i, l := range labelSheets {
		names[i] = l.Name
	}
	return strings.Join(names, ", ")
}

// parseSize reads "100x60" or "4x3in".
func parseSize(s string) (Size, bool) {
	unit := 1.0
	if rest, ok := strings.CutSuffix(s, "in"); ok {
		s, unit = rest, inch
	}
	wide, high, ok := strings.Cut(strings.TrimSuffix(s, "mm"), "x")
	w, err := strconv.ParseFloat(wide, 64)
	h, err2 := strconv.ParseFloat(high, 64)
	finite := !math.IsNaN(w) && !math.IsInf(w, 0) && !math.IsNaN(h) && !math.IsInf(h, 0)
	return Size{w * unit, h * unit}, ok && err == nil && err2 == nil && finite
}

// PerSheet is how many labels are on a sheet.
func (l LabelSheet) PerSheet() int { return l.Columns * l.Rows }

// place is where the nth label of a sheet is, from 0, row by row.
func (l LabelSheet) place(n int) box {
	left, top := l.Left+float64(n%l.Columns)*l.StepX, l.Top+float64(n/l.Columns)*l.StepY
	return box{left, top, left + l.Label.Width, top + l.Label.Height}
}

// inset is what of a label stays free at its edges: sheets shift in printers, and on
// a sheet that is cut most printers leave more white at its edges.
func (l LabelSheet) inset() float64 {
	if l.Cut {
		return 5.5
	}
	return 2
}
