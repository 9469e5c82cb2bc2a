package main

import (
	"encoding/json"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/importers"
	"lanewright/planner"
)

// TestTablesOfManyHabitsGiveOnePlan: a flat table in whatever habit gives the
// plan of the canonical sheets, findings and names of files apart.
func TestTablesOfManyHabitsGiveOnePlan(t *testing.T) {
	t.Parallel()
	const habits = "../../testdata/sheets/habits"
	want := planOf(t, filepath.Join(habits, "canonical"))
	files, err := filepath.Glob(filepath.Join(habits, "0*"))
	require.NoError(t, err)
	more, err := filepath.Glob(filepath.Join(habits, "1[12]*"))
	require.NoError(t, err)
	files = append(files, more...)
	require.Len(t, files, 8)
	for _, name := range files {
		assert.JSONEq(t, want, planOf(t, name), name)
	}
}

// places are where facts were read, which is what differs.
var places = regexp.MustCompile(`\{"file":"[^"]*","sheet":"[^"]*","row":\d+,"column":"[^"]*"\}`)

// planOf is what a plan decides, as JSON.
func planOf(t *testing.T, name string) string {
	t.Helper()
	read, err := importers.ReadFiles(t.Context(), name)
	require.NoError(t, err)
	require.False(t, read.Findings.HasErrors(), "%v", read.Findings)
	read.Plant.Name = "Habits"
	made, err := planner.Run(t.Context(), planner.Input{Plant: &read.Plant}, planner.DefaultSettings(&read.Plant), planner.Options{Threads: 1})
	require.NoError(t, err)
	doc := wire.NewPlan(made)
	text, err := json.Marshal([]any{doc.Loops, doc.Racks, doc.Lanes, doc.Unplaced, doc.Routes, doc.Summary, doc.Bounds})
	require.NoError(t, err)
	return places.ReplaceAllString(string(text), "{}")
}
