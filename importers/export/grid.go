package export

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"
)

// gridColumn is one column of a report sheet.
type gridColumn struct {
	head  string
	width float64
	look  look
}

// grid is one report sheet that is a table: header row, rows, sums.
type grid struct {
	name    string
	columns []gridColumn
	rows    [][]any
	// total stands below the rows; nil is no sums.
	total []any
	// frozen is how many columns on the left stay in view.
	frozen int
}

// Number formats of the report.
const (
	wholeFormat   = "#,##0"
	oneFormat     = "#,##0.0"
	twoFormat     = "#,##0.00"
	percentFormat = "0.0%"
)

// Columns by what they hold: identifiers and words are text, figures numbers.
func idColumn(head string, width float64) gridColumn {
	return gridColumn{head, width, look{format: textFormat, indent: true}}
}

func wordColumn(head string, width float64) gridColumn {
	return gridColumn{head, width, look{format: textFormat, wrap: true, indent: true}}
}

func figureColumn(head string, width float64, format string) gridColumn {
	return gridColumn{head, width, look{format: format}}
}

// grid writes one sheet. The header repeats on each printed page; filters
// cover the rows and leave the sums out.
func (b *book) grid(g grid, plantName string) {
	sw := b.stream(g.name, true)
	if b.err != nil {
		return
	}
	last := len(g.rows) + 1
	b.note(sw.SetPanes(&excelize.Panes{
		Freeze: true, XSplit: g.frozen, YSplit: 1, ActivePane: "bottomRight",
		TopLeftCell: cellName(g.frozen+1, 2),
	}))
	for i, c := range g.columns {
		b.note(sw.SetColWidth(i+1, i+1, c.width))
	}
	b.note(b.file.AutoFilter(g.name, "A1:"+cellName(len(g.columns), last), nil))
	if g.total != nil {
		last++
	}
	b.page(g.name, plantName, "A1:"+cellName(len(g.columns), last), 1)
	b.row(sw, 1, 30, g.heads(), g.headLook)
	for i, row := range g.rows {
		b.row(sw, i+2, 0, row, g.look)
	}
	if g.total != nil {
		b.row(sw, last, 0, g.total, g.totalLook)
	}
	b.note(sw.Flush())
}

func (g grid) heads() []any {
	var heads []any
	for _, c := range g.columns {
		heads = append(heads, c.head)
	}
	return heads
}

func (g grid) look(i int) look { return g.columns[i].look }

// headLook stands a heading as its column does: words left, figures right.
func (g grid) headLook(i int) look {
	l := look{bold: true, wrap: true, ink: white, paper: deepWater, indent: g.columns[i].look.indent}
	l.right = !l.indent
	return l
}

func (g grid) totalLook(i int) look {
	l := g.columns[i].look
	l.bold, l.over, l.paper = true, true, palestSand
	return l
}

// sums returns a row of sums: the word, then the values under their heads.
func (g grid) sums(values map[string]any) []any {
	row := make([]any, len(g.columns))
	row[0] = "Sum"
	for i, c := range g.columns {
		if v, ok := values[c.head]; ok {
			row[i] = v
		}
	}
	return row
}

// page sets up printing: landscape A4, one page wide, the area given, the
// first rows on each page, plant and page number at the foot.
func (b *book) page(name, plantName, area string, repeat int) {
	paper, orientation, wide, tall := 9, "landscape", 1, 0
	b.note(b.file.SetPageLayout(name, &excelize.PageLayoutOptions{
		Size: &paper, Orientation: &orientation, FitToWidth: &wide, FitToHeight: &tall,
	}))
	b.note(b.file.SetHeaderFooter(name, &excelize.HeaderFooterOptions{
		OddFooter: "&L" + footText(plantName) + "&C" + footText(name) + "&RPage &P of &N",
	}))
	b.define("_xlnm.Print_Area", name, absolute(area))
	if repeat > 0 {
		b.define("_xlnm.Print_Titles", name, fmt.Sprintf("$1:$%d", repeat))
	}
}

func (b *book) define(name, sheet, what string) {
	b.note(b.file.SetDefinedName(&excelize.DefinedName{Name: name, Scope: sheet, RefersTo: "'" + sheet + "'!" + what}))
}

// footText is a text in a page's foot, where & is a command.
func footText(s string) string {
	runes := []rune(s)
	return strings.ReplaceAll(string(runes[:min(60, len(runes))]), "&", "&&")
}

// absolute makes $A$1:$B$2 of A1:B2.
func absolute(area string) string {
	var out strings.Builder
	letter := false
	for _, r := range area {
		isLetter := r >= 'A' && r <= 'Z'
		if isLetter != letter && r != ':' {
			out.WriteByte('$')
		}
		out.WriteRune(r)
		letter = isLetter
	}
	return out.String()
}

// cellName is "B3" for column 2, row 3. Columns here are far below the limit.
func cellName(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		panic(fmt.Sprintf("no cell at column %d, row %d", column, row))
	}
	return name
}
