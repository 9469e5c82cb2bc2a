//go:build unix

package importers

import (
	"bytes"
	"fmt"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// flatColumns are the twenty columns of the table of BenchmarkTypedRatio.
var flatColumns = []string{
	"Part", "Description", "Cell", "Station", "Pieces per hour", "Container", "Length (mm)", "Width (mm)", "Height (mm)", "Standard pack",
	"Piece mass (kg)", "Returnable", "Market address", "Unit cost", "Pick hand", "Scrap (%)", "Service level (%)", "Flow side", "Handles", "Empty mass (kg)",
}

// flatWorkbook is a flat table with this many rows.
func flatWorkbook(b *testing.B, rows int) []byte {
	b.Helper()
	f := excelize.NewFile()
	w, err := f.NewStreamWriter("Sheet1")
	require.NoError(b, err)
	head := make([]any, len(flatColumns))
	for i, h := range flatColumns {
		head[i] = h
	}
	require.NoError(b, w.SetRow("A1", head))
	for r := range rows {
		require.NoError(b, w.SetRow(fmt.Sprintf("A%d", r+2), []any{
			fmt.Sprintf("P-%06d", r), "Bracket, left", fmt.Sprintf("C%d", r/200), fmt.Sprint(10 * (r % 20)), 1.5 + float64(r%40)/4, fmt.Sprintf("B%d", r%12),
			400, 300, 220, 20 + r%30, 0.25, "yes", fmt.Sprintf("M-%05d", r), 1.25, "one", 0, 99.5, "length", "good", 1.2,
		}))
	}
	require.NoError(b, w.Flush())
	var out bytes.Buffer
	require.NoError(b, f.Write(&out))
	return out.Bytes()
}

// BenchmarkTypedRatio reads a flat table of 100,000 rows of twenty cells into
// typed facts with their places, joins and checks them, and iterates over the
// same file with the spreadsheet library in turns: how many times its CPU time
// is needed.
func BenchmarkTypedRatio(b *testing.B) {
	const rows = 100_000
	data := flatWorkbook(b, rows)
	var ours, theirs time.Duration
	for b.Loop() {
		start := processTime()
		r := readBytes(b, "plant.xlsx", data)
		ours += processTime() - start
		require.Equal(b, rows, r.Sheets[0].Used, "%v", r.Findings[:min(len(r.Findings), 3)])
		start = processTime()
		f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true})
		require.NoError(b, err)
		iterator, err := f.Rows("Sheet1")
		require.NoError(b, err)
		for iterator.Next() {
			_, err := iterator.Columns()
			require.NoError(b, err)
		}
		theirs += processTime() - start
	}
	b.ReportMetric(ours.Seconds()/theirs.Seconds(), "cpu-ratio")
	b.ReportMetric(ours.Seconds()/float64(b.N), "import-cpu-s")
	b.ReportMetric(0, "ns/op")
}

// processTime is the CPU time that the process has used, by all its threads.
func processTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
