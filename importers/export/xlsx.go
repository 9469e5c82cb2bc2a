package export

import (
	"io"
	"time"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// The colours of every workbook: ink on paper, quiet enough to print.
const (
	deepWater  = "17405C"
	paleWater  = "DCE8EF"
	palestSand = "F4F1EA"
	lineColour = "9DB2BF"
	white      = "FFFFFF"
)

// epoch stands in the properties of workbooks of facts, which carry no time
// so that the same facts give the same bytes.
var epoch = time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC)

// WriteXLSX writes the tables as one workbook: header rows frozen, required
// columns bold, help as cell comments, text always as text. The same tables
// give the same bytes.
func WriteXLSX(w io.Writer, tables []Table) error {
	b := newBook("Plant workbook", epoch)
	for _, t := range tables {
		b.table(t)
	}
	return b.save(w)
}

func (b *book) table(t Table) {
	sw := b.stream(t.Sheet, true)
	if b.err != nil {
		return
	}
	b.note(sw.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	for i := range t.Header {
		b.note(sw.SetColWidth(i+1, i+1, t.width(i)))
	}
	b.comments(t)
	b.row(sw, 1, 0, texts(t.Header), func(i int) look {
		return look{bold: i < len(t.Required) && t.Required[i], paper: paleWater, under: true, wrap: true}
	})
	for i, row := range t.Rows {
		b.row(sw, i+2, 0, row, same(look{}))
	}
	b.note(sw.Flush())
}

func (b *book) comments(t Table) {
	for i, help := range t.Help {
		if help == "" {
			continue
		}
		at, err := excelize.CoordinatesToCellName(i+1, 1)
		b.note(err)
		height := uint(40 + 18*(len(help)/34))
		b.note(b.file.AddComment(t.Sheet, excelize.Comment{
			Author: "Lanewright", Cell: at, Width: 260, Height: height,
			Paragraph: []excelize.RichTextRun{{Text: help}},
		}))
	}
}

// width fits a column to its first rows, within reason.
func (t Table) width(column int) float64 {
	const least, most, sample = 9, 46, 200
	n := utf8.RuneCountInString(t.Header[column])
	for _, row := range t.Rows[:min(sample, len(t.Rows))] {
		if column < len(row) {
			n = max(n, utf8.RuneCountInString(cellText(row[column])))
		}
	}
	return float64(max(least, min(most, n+2)))
}

func texts(list []string) []any {
	out := make([]any, len(list))
	for i, s := range list {
		out[i] = s
	}
	return out
}
