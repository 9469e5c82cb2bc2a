package importers

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/testdata/sheets"
)

// TestOddFiles: whatever program wrote the table, it gives the same plant, no
// row is lost and nothing is an error.
func TestOddFiles(t *testing.T) {
	t.Parallel()
	want := ""
	for i, f := range sheets.Odd() {
		if i == 0 {
			want = oddRevision(t, f)
		}
		t.Run(f.Name, func(t *testing.T) {
			t.Parallel()
			began := time.Now()
			assert.Equal(t, want, oddRevision(t, f), f.What)
			assert.Less(t, time.Since(began), 10*time.Second)
		})
	}
}

// oddRevision reads an odd file and returns the name of its facts.
func oddRevision(t *testing.T, f sheets.File) string {
	t.Helper()
	r := readBytes(t, f.Name, f.Data)
	require.False(t, r.Findings.HasErrors(), "%s: %v", f.What, r.Findings)
	require.Len(t, r.Plant.Parts, 3, "%s: %v", f.What, r.Findings)
	if f.Code != "" {
		assert.NotEmpty(t, ofCode(r.Findings, f.Code), "%s: %s is not said", f.What, f.Code)
	}
	for i, row := range sheets.Table()[1:] {
		assert.Equal(t, row[0], string(r.Plant.Parts[i].Part), f.What)
		assert.Equal(t, row[8], fmt.Sprint(r.Plant.Parts[i].Pack), f.What)
	}
	r.Plant.Name = "odd"
	return plant.Revision(&r.Plant)
}
