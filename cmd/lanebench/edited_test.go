package main

import (
	"bytes"
	"context"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/cmd/lanebench/internal/recompute"
	"lanewright/cmd/lanebench/internal/scale"
	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
)

// TestEditedPlansAgreeWithTheirSheets: plans whose loops were moved by hand, where
// that breaks no rule, obey the rules when other code recomputes them from the sheets.
func TestEditedPlansAgreeWithTheirSheets(t *testing.T) {
	t.Parallel()
	all := 0
	for _, c := range []struct {
		cells, loops int
		seed         uint64
	}{{2, 60, 3}, {5, 150, 4}, {8, 320, 5}} {
		dir := filepath.Join(t.TempDir(), "plant")
		require.NoError(t, export.WriteFolder(dir, export.Workbook(scale.Plant(c.cells, c.loops, c.seed))))
		read, err := importers.ReadFiles(context.Background(), dir)
		require.NoError(t, err)
		in := planner.Input{Plant: &read.Plant, Findings: read.Findings}
		plan, err := planner.Run(context.Background(), in, planner.DefaultSettings(in.Plant), planner.Options{})
		require.NoError(t, err)
		desk := planner.NewDesk(in.Plant, plan)
		var edits []placement.Edit
		for i := range plan.Loops {
			laid := desk.After(edits)
			if e, ok := move(laid, plan.Loops[i]); ok && len(edits) < 12 {
				edits = append(edits, e)
			}
		}
		edited := desk.After(edits).Plan()
		// Whether a handler's rounds overlap is told of the whole plan only.
		for slices.ContainsFunc(edited.Findings, func(f finding.Finding) bool { return f.Code == planner.CodeEditOverlap }) {
			edits = edits[:len(edits)-1]
			edited = desk.After(edits).Plan()
		}
		all += len(edits)
		require.Equal(t, len(edits) == 0, slices.Equal(plan.Lanes, edited.Lanes))
		var document bytes.Buffer
		require.NoError(t, wire.WritePlan(&document, edited))
		wrong, err := recompute.Check(dir, document.Bytes())
		require.NoError(t, err)
		assert.Empty(t, wrong, "%d cells, %d loops: %d moves", c.cells, c.loops, len(edits))
	}
	require.Greater(t, all, 10, "there is room for moves")
}

// move is one that breaks no rule, of all of a loop to another rack.
func move(laid *planner.Laid, l planner.Loop) (placement.Edit, bool) {
	fits, _ := laid.Fits(placement.MoveLoop{Loop: l.Key})
	for _, f := range fits {
		e := placement.MoveLoop{Loop: l.Key, To: placement.Spot{Rack: f.At.Rack, Level: f.At.Level}}
		if len(f.Broken) > 0 || f.Here {
			continue
		}
		if tried := laid.Try([]placement.Edit{e}); len(tried.Broken) == 0 && len(tried.Changes) > 0 {
			return e, true
		}
	}
	return nil, false
}
