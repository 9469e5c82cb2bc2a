package export

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/xuri/excelize/v2"

	"lanewright/planner"
)

// Charts of the report: so many bars in each, so many rows high and so wide in pixels.
const (
	barsOfChart = 40
	rowsOfChart = 18
	chartWide   = 1040
	rowPixels   = 20
)

const chartSheet = "Charts"

// chartsSheet draws lanes needed and there by cell, the short cells first, and how
// busy handlers are; the numbers stand beside the charts.
func (r *report) chartsSheet(b *book) {
	sw := b.stream(chartSheet, true)
	if b.err != nil {
		return
	}
	b.note(sw.SetColWidth(1, 1, 16))
	b.note(sw.SetColWidth(2, 5, 9))
	c := chartWriter{summaryWriter{book: b, sw: sw}}
	cells := r.inOrder()
	slices.SortStableFunc(cells, func(a, b *cellFigures) int { return cmp.Compare(b.short, a.short) })
	for part := range slices.Chunk(cells, barsOfChart) {
		rows := make([][]any, len(part))
		for i, f := range part {
			rows[i] = []any{string(f.cell), f.needed, f.used + f.free, f.free, f.short}
		}
		c.block("Lanes by cell, the short ones first", []any{"Cell", "Needed", "There", "Free", "Short"}, rows, 2, wholeFormat)
	}
	uses := r.whole.HandlerUses()
	slices.SortStableFunc(uses, func(a, b planner.HandlerUse) int { return cmp.Compare(b.Busy, a.Busy) })
	for part := range slices.Chunk(uses, barsOfChart) {
		rows := make([][]any, len(part))
		for i, u := range part {
			rows[i] = []any{u.Handler, rounded(u.Busy, 4)}
		}
		c.block("Share of handlers' time that rounds fill", []any{"Handler", "Busy"}, rows, 1, percentFormat)
	}
	b.page(chartSheet, r.plan.Plant, "A1:"+cellName(24, max(c.at, 1)), 0)
	b.note(sw.Flush())
}

// chartWriter walks down the sheet of charts.
type chartWriter struct{ summaryWriter }

// block writes rows under their heads and beside them a chart of the first columns of
// figures.
func (c *chartWriter) block(title string, heads []any, rows [][]any, series int, format string) {
	c.at++
	start := c.at
	c.line(0, same(look{bold: true, under: true, paper: paleWater}), heads...)
	head := c.at
	for _, row := range rows {
		c.line(0, func(i int) look {
			if i == 0 {
				return look{format: textFormat, indent: true}
			}
			return look{format: format}
		}, row...)
	}
	span := func(column int) string {
		return fmt.Sprintf("%s!%s", chartSheet, absolute(cellName(column, head+1)+":"+cellName(column, c.at)))
	}
	single, ink := false, excelize.Font{Color: "000000", Size: 9}
	chart := &excelize.Chart{
		Type: excelize.Col, Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: title}}},
		Dimension: excelize.ChartDimension{Width: chartWide, Height: (rowsOfChart - 1) * rowPixels},
		Legend:    excelize.ChartLegend{Position: "bottom"}, VaryColors: &single,
		XAxis: excelize.ChartAxis{Font: ink},
		YAxis: excelize.ChartAxis{Font: ink, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: format}},
	}
	for i := range series {
		chart.Series = append(chart.Series, excelize.ChartSeries{
			Name: fmt.Sprintf("%s!%s", chartSheet, absolute(cellName(i+2, head))), Categories: span(1), Values: span(i + 2),
			Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{[]string{deepWater, lineColour}[i]}},
		})
	}
	c.note(c.file.AddChart(chartSheet, cellName(7, start), chart))
	c.at = max(c.at, start+rowsOfChart)
}
