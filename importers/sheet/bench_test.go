package sheet_test

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/importers/sheet"
)

// largeWorkbook has this many rows of twenty cells: texts, whole numbers,
// decimals.
func largeWorkbook(b *testing.B, rows int) []byte {
	b.Helper()
	f := excelize.NewFile()
	defer f.Close()
	w, err := f.NewStreamWriter("Sheet1")
	require.NoError(b, err)
	row := make([]any, 20)
	for r := range rows {
		for c := range row {
			row[c] = []any{fmt.Sprintf("P-%05d", r), float64(r) * 0.25, r * c, "box"}[c%4]
		}
		require.NoError(b, w.SetRow(fmt.Sprintf("A%d", r+1), row))
	}
	require.NoError(b, w.Flush())
	var buf bytes.Buffer
	require.NoError(b, f.Write(&buf))
	return buf.Bytes()
}

const benchRows = 10_000

// libraryRows iterates over a workbook with the spreadsheet library.
func libraryRows(b *testing.B, data []byte, want int) {
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true})
	require.NoError(b, err)
	rows, err := f.Rows("Sheet1")
	require.NoError(b, err)
	n := 0
	for rows.Next() {
		_, err := rows.Columns()
		require.NoError(b, err)
		n++
	}
	require.Equal(b, want, n)
	require.NoError(b, f.Close())
}

func BenchmarkRead(b *testing.B) {
	data := largeWorkbook(b, benchRows)
	b.ReportAllocs()
	for b.Loop() {
		book, err := sheet.Read(context.Background(), "Plant.xlsx", data, sheet.DefaultLimits())
		require.NoError(b, err)
		require.Len(b, book.Sheets[0].Rows, benchRows)
	}
}

// BenchmarkLibraryRows is the measuring stick: the spreadsheet library's bare
// iteration over the raw rows of the same file.
func BenchmarkLibraryRows(b *testing.B) {
	data := largeWorkbook(b, benchRows)
	b.ReportAllocs()
	for b.Loop() {
		libraryRows(b, data, benchRows)
	}
}
