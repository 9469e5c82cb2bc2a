package sheet_test

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"lanewright/importers/sheet"
)

// written is what a test hands to the spreadsheet library for one cell.
type written struct {
	value any
	text  string
}

func drawWritten(t *rapid.T) written {
	switch rapid.IntRange(0, 5).Draw(t, "kind") {
	case 0:
		s := rapid.StringOfN(rapid.SampledFrom([]rune("aé<&> \"'_x1\n")), 1, 8, -1).Draw(t, "text")
		return written{s, s}
	case 1:
		n := rapid.Int64Range(-1e15, 1e15).Draw(t, "integer")
		return written{n, fmt.Sprint(n)}
	case 2:
		n := rapid.Int64Range(1, 1e9).Draw(t, "thousandths")
		f := float64(n*10+1) / 1000
		return written{f, fmt.Sprint(excelFloat(f))}
	case 3:
		b := rapid.Bool().Draw(t, "truth")
		return written{b, map[bool]string{true: "TRUE", false: "FALSE"}[b]}
	default:
		return written{}
	}
}

// excelFloat is the number written out.
func excelFloat(f float64) string { return fmt.Sprintf("%.3f", f) }

// What the spreadsheet library writes is read back cell by cell, in both of
// its ways to write.
func TestReadsWhatTheLibraryWrites(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(rapid.SliceOfN(rapid.Custom(drawWritten), 1, 5), 1, 6).Draw(t, "rows")
		f := excelize.NewFile()
		defer f.Close()
		if rapid.Bool().Draw(t, "stream") {
			writeStream(t, f, rows)
		} else {
			writeCells(t, f, rows)
		}
		var buf bytes.Buffer
		require.NoError(t, f.Write(&buf))
		book, err := sheet.Read(context.Background(), "Plant.xlsx", buf.Bytes(), sheet.DefaultLimits())
		require.NoError(t, err)
		checkWritten(t, rows, book.Sheets[0])
	})
}

func writeStream(t *rapid.T, f *excelize.File, rows [][]written) {
	w, err := f.NewStreamWriter("Sheet1")
	require.NoError(t, err)
	for i, row := range rows {
		values := make([]any, len(row))
		for j, c := range row {
			values[j] = c.value
		}
		require.NoError(t, w.SetRow(fmt.Sprintf("A%d", i+1), values))
	}
	require.NoError(t, w.Flush())
}

func writeCells(t *rapid.T, f *excelize.File, rows [][]written) {
	for i, row := range rows {
		for j, c := range row {
			require.NoError(t, f.SetCellValue("Sheet1", fmt.Sprintf("%s%d", sheet.Letters(j), i+1), c.value))
		}
	}
}

// checkWritten compares cell by cell; rows without any value are not there.
func checkWritten(t *rapid.T, rows [][]written, s sheet.Sheet) {
	got := map[string]string{}
	for _, row := range s.Rows {
		for j, c := range row.Cells() {
			if c.Text != "" {
				got[fmt.Sprint(row.Number, j)] = c.Text
			}
		}
	}
	want := map[string]string{}
	for i, row := range rows {
		for j, c := range row {
			if c.text != "" {
				want[fmt.Sprint(i+1, j)] = c.text
			}
		}
	}
	require.Equal(t, want, got)
}

// Styles that the library writes come out as the sheet shows them.
func TestReadsTheLibrarysStyles(t *testing.T) {
	t.Parallel()
	f := excelize.NewFile()
	defer f.Close()
	custom := func(code string) excelize.Style { return excelize.Style{CustomNumFmt: &code} }
	for i, c := range []struct {
		style excelize.Style
		value float64
	}{
		{custom("00000"), 123}, {excelize.Style{NumFmt: 14}, 45356}, {excelize.Style{NumFmt: 20}, 0.25}, {excelize.Style{NumFmt: 22}, 45356.5},
		{excelize.Style{NumFmt: 9}, 0.5}, {excelize.Style{NumFmt: 11}, 100000}, {excelize.Style{NumFmt: 46}, 1.5}, {excelize.Style{NumFmt: 2}, 1},
	} {
		id, err := f.NewStyle(&c.style)
		require.NoError(t, err)
		at := fmt.Sprintf("%s1", sheet.Letters(i))
		require.NoError(t, f.SetCellValue("Sheet1", at, c.value))
		require.NoError(t, f.SetCellStyle("Sheet1", at, at, id))
	}
	var buf bytes.Buffer
	require.NoError(t, f.Write(&buf))
	require.Equal(t, []string{"1: 00123|2024-03-05|06:00|2024-03-05T12:00:00|50%|1.00E+05|36:00|1.00"}, grid(read(t, "Plant.xlsx", buf.Bytes()).Sheets[0]))
}
