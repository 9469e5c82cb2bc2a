//go:build unix

package sheet_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

// ratioRows is the workbook of the ratios: 100,000 rows of twenty cells.
const ratioRows = 100_000

// BenchmarkRatio reads one workbook through the gate and iterates over it with
// the spreadsheet library in turns, and reports how many times the library's
// CPU time and memory the gate needs. Peak memory is what is held beside the
// result when the garbage was just collected, sampled while reading.
func BenchmarkRatio(b *testing.B) {
	data := largeWorkbook(b, ratioRows)
	var ours, theirs time.Duration
	var oursPeak, theirsPeak uint64
	for b.Loop() {
		cpu, peak := sheets.Measured(func() {
			book, err := sheet.Read(context.Background(), "Plant.xlsx", data, sheet.DefaultLimits())
			require.NoError(b, err)
			require.Len(b, book.Sheets[0].Rows, ratioRows)
		})
		ours, oursPeak = ours+cpu, max(oursPeak, peak)
		cpu, peak = sheets.Measured(func() { libraryRows(b, data, ratioRows) })
		theirs, theirsPeak = theirs+cpu, max(theirsPeak, peak)
	}
	b.ReportMetric(ours.Seconds()/theirs.Seconds(), "cpu-ratio")
	b.ReportMetric(ours.Seconds()/float64(b.N), "gate-cpu-s")
	b.ReportMetric(float64(oursPeak>>20), "gate-MiB")
	b.ReportMetric(float64(theirsPeak>>20), "library-MiB")
	b.ReportMetric(0, "ns/op")
}
