//go:build unix

package importers

import (
	"bytes"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/testdata/sheets"
)

// BenchmarkTypedRatio reads a flat table of 100,000 rows of twenty cells into
// typed facts with their places, joins and checks them, and iterates over the
// same file with the spreadsheet library in turns: how many times its CPU time
// is needed.
func BenchmarkTypedRatio(b *testing.B) {
	const rows = 100_000
	data := sheets.Large(rows)
	var ours, theirs time.Duration
	for b.Loop() {
		start := processTime()
		r := readBytes(b, "plant.xlsx", data)
		ours += processTime() - start
		require.Equal(b, rows, r.Sheets[0].Used, "%v", r.Findings[:min(len(r.Findings), 3)])
		start = processTime()
		f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true})
		require.NoError(b, err)
		iterator, err := f.Rows("Parts")
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
