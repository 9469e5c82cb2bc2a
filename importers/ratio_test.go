//go:build unix

package importers

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/testdata/sheets"
)

// BenchmarkTypedRatio reads a flat table of 100,000 rows of twenty cells into
// typed facts with their places, joins and checks them, and iterates over the
// same file with the spreadsheet library in turns: how many times its CPU time
// is needed, and the most heap of each.
func BenchmarkTypedRatio(b *testing.B) {
	const rows = 100_000
	data := sheets.Large(rows)
	var ours, theirs time.Duration
	var oursPeak, theirsPeak uint64
	for b.Loop() {
		cpu, peak := sheets.Measured(func() {
			r := readBytes(b, "plant.xlsx", data)
			require.Equal(b, rows, r.Sheets[0].Used, "%v", r.Findings[:min(len(r.Findings), 3)])
		})
		ours, oursPeak = ours+cpu, max(oursPeak, peak)
		cpu, peak = sheets.Measured(func() {
			f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true})
			require.NoError(b, err)
			iterator, err := f.Rows("Parts")
			require.NoError(b, err)
			for iterator.Next() {
				_, err := iterator.Columns()
				require.NoError(b, err)
			}
		})
		theirs, theirsPeak = theirs+cpu, max(theirsPeak, peak)
	}
	b.ReportMetric(ours.Seconds()/theirs.Seconds(), "cpu-ratio")
	b.ReportMetric(ours.Seconds()/float64(b.N), "import-cpu-s")
	b.ReportMetric(float64(oursPeak>>20), "import-MiB")
	b.ReportMetric(float64(theirsPeak>>20), "library-MiB")
	b.ReportMetric(0, "ns/op")
}
