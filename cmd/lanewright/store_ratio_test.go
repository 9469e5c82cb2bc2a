package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lanewright/importers"
	"lanewright/storage"
	"lanewright/storage/storagetest"
	"lanewright/testdata/sheets"
)

// BenchmarkStoreRatio reads a flat table of 100,000 rows of twenty cells and
// stores it as a revision of a plant, in a Postgres that keeps what it is
// told: how many times the time of reading storing takes, by the clock, for
// the database works beside us.
func BenchmarkStoreRatio(b *testing.B) {
	const rows = 100_000
	data := sheets.Large(rows)
	db, err := storage.Open(b.Context(), storagetest.Durable(b))
	require.NoError(b, err)
	b.Cleanup(db.Close)
	require.NoError(b, db.Migrate(b.Context()))
	var reading, storing time.Duration
	n := 0
	for b.Loop() {
		start := time.Now()
		read, err := importers.ReadBytes(b.Context(), "plant.xlsx", data)
		require.NoError(b, err)
		reading += time.Since(start)
		require.Equal(b, rows, read.Sheets[0].Used)
		start = time.Now()
		n++
		_, created, err := saveRevision(b.Context(), &store{DB: db}, fmt.Sprintf("large %d", n), 0, read)
		require.NoError(b, err)
		require.True(b, created)
		storing += time.Since(start)
	}
	b.ReportMetric(storing.Seconds()/reading.Seconds(), "store/read")
	b.ReportMetric(reading.Seconds()/float64(b.N), "read-s")
	b.ReportMetric(storing.Seconds()/float64(b.N), "store-s")
	b.ReportMetric(0, "ns/op")
}
