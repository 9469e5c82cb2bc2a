package export

import (
	"fmt"
	"io"
	"math"
	"sort"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"lanewright/planner/units"
)

// look is how a cell shows; equal looks share one style of the workbook.
type look struct {
	// format is a number format; "" is the program's own choice for numbers
	// and text for text.
	format     string
	bold, wrap bool
	// indent sets text off from the figures on its left; right aligns. The
	// default is left for text, right for numbers.
	indent, right bool
	size          float64
	// ink and paper are colours, RRGGBB; empty is black on none.
	ink, paper string
	// under draws a line below the cell, over one above it.
	under, over bool
	// frame draws one on all four sides.
	frame bool
	// quoted marks text that a spreadsheet program could take for a formula
	// when somebody edits the cell: it is kept as text then too.
	quoted bool
}

const textFormat = "@"

// book is a workbook being written. The first error stays and is returned by
// save, so that the many small steps of a sheet need not each ask.
type book struct {
	file   *excelize.File
	styles map[look]int
	sheets int
	err    error
}

// newBook starts a workbook; made is shown in its properties.
func newBook(title string, made time.Time) *book {
	b := &book{file: excelize.NewFile(), styles: map[look]int{}}
	b.file.SetZipWriter(newOrderedZip)
	stamp := made.UTC().Format(time.RFC3339)
	b.note(b.file.SetDocProps(&excelize.DocProperties{Creator: "Lanewright", Title: title, Created: stamp, Modified: stamp}))
	return b
}

func (b *book) note(err error) {
	if b.err == nil {
		b.err = err
	}
}

// save writes the workbook and releases it.
func (b *book) save(w io.Writer) error {
	if b.err == nil {
		// A chart makes the library list kinds of picture in no fixed order.
		kinds := b.file.ContentTypes.Defaults
		sort.Slice(kinds, func(i, j int) bool { return kinds[i].Extension < kinds[j].Extension })
		_, err := b.file.WriteTo(w)
		b.note(err)
	}
	if err := b.file.Close(); b.err == nil {
		b.note(err)
	}
	if b.err != nil {
		return fmt.Errorf("write workbook: %w", b.err)
	}
	return nil
}

// style returns the number of a look's style.
func (b *book) style(l look) int {
	if id, ok := b.styles[l]; ok {
		return id
	}
	id := 0
	if l.quoted {
		plain := l
		plain.quoted = false
		id = b.quoted(b.style(plain))
	} else {
		var err error
		id, err = b.file.NewStyle(l.excel())
		b.note(err)
	}
	b.styles[l] = id
	return id
}

// quoted adds a copy of a style with the quote prefix, which the workbook
// library knows and has no option for.
func (b *book) quoted(id int) int {
	all := b.file.Styles.CellXfs
	yes := true
	xf := all.Xf[id]
	xf.QuotePrefix = &yes
	all.Xf = append(all.Xf, xf)
	all.Count = len(all.Xf)
	return len(all.Xf) - 1
}

func (l look) excel() *excelize.Style {
	s := &excelize.Style{
		Font:      &excelize.Font{Bold: l.bold, Size: 10, Family: "Calibri", Color: l.ink},
		Alignment: &excelize.Alignment{Vertical: "top", WrapText: l.wrap},
	}
	if l.size > 0 {
		s.Font.Size = l.size
	}
	if l.format != "" {
		s.CustomNumFmt = &l.format
	}
	if l.paper != "" {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{l.paper}}
	}
	switch {
	case l.indent:
		s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
	case l.right:
		s.Alignment.Horizontal = "right"
	}
	if l.frame {
		for _, side := range []string{"left", "right", "top", "bottom"} {
			s.Border = append(s.Border, excelize.Border{Type: side, Color: deepWater, Style: 1})
		}
	}
	if l.under {
		s.Border = append(s.Border, excelize.Border{Type: "bottom", Color: lineColour, Style: 1})
	}
	if l.over {
		s.Border = append(s.Border, excelize.Border{Type: "top", Color: lineColour, Style: 1})
	}
	return s
}

// styled is a value with a look of its own, in place of its column's.
type styled struct {
	value any
	look  look
}

// cell makes a value safe to write: text is stored as text and keeps being
// text when it is edited, ratios stay exact, dates show as dates.
func (b *book) cell(v any, l look) any {
	switch x := v.(type) {
	case nil:
		if l.paper == "" && !l.over && !l.under && !l.frame {
			return nil
		}
		return excelize.Cell{StyleID: b.style(l)}
	case styled:
		return b.cell(x.value, x.look)
	case units.Ratio:
		return b.cell(number(x), l)
	case float64:
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return b.cell("not known", l)
		}
	case uint64:
		if x > 1<<53 {
			return b.cell(fmt.Sprint(x), l)
		}
	case time.Time:
		l.format = "yyyy-mm-dd"
	case string:
		l.format, l.quoted = textFormat, looksActive(x)
	}
	return excelize.Cell{StyleID: b.style(l), Value: v}
}

// looksActive reports whether a spreadsheet program could read s as a formula
// or command when it is typed again or pasted.
func looksActive(s string) bool {
	return s != "" && strings.ContainsRune("=+-@\t\r\n", rune(s[0]))
}

// stream starts the next sheet. The caller sets it up, writes rows and ends
// it with finish.
func (b *book) stream(sheet string, fit bool) *excelize.StreamWriter {
	if b.err != nil {
		return nil
	}
	if b.sheets == 0 {
		b.note(b.file.SetSheetName("Sheet1", sheet))
	} else {
		_, err := b.file.NewSheet(sheet)
		b.note(err)
	}
	b.sheets++
	b.note(b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}))
	sw, err := b.file.NewStreamWriter(sheet)
	b.note(err)
	return sw
}

// row writes one row of cells that share looks by column; a missing look is
// the plain one.
func (b *book) row(sw *excelize.StreamWriter, n int, height float64, cells []any, looks func(int) look) {
	if b.err != nil {
		return
	}
	out := make([]any, len(cells))
	for i, v := range cells {
		out[i] = b.cell(v, looks(i))
	}
	at, err := excelize.CoordinatesToCellName(1, n)
	b.note(err)
	b.note(sw.SetRow(at, out, excelize.RowOpts{Height: height}))
}

// same is the looks of a row whose cells all look alike.
func same(l look) func(int) look { return func(int) look { return l } }
