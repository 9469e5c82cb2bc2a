package placement

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/internal/solvertest"
)

// A general solver of linear programs in whole numbers agrees on cells of 9 to 18
// loops: it finds no less effort than the bound, no more than the layout, and just
// that where the layout is called optimal. What it can not close in time is not
// counted.
func TestAgainstAnOutsideSolver(t *testing.T) {
	t.Parallel()
	solvertest.Need(t)
	cells, proved, best := 0, 0, 0
	for seed := uint64(0); seed < 60; seed++ {
		d := seeded(seed)
		in := made(d, recipe{loops: d.from(9, 18), racks: d.from(2, 4), types: 1, stations: 3, levels: 3, width: 1800, frontage: 1, masses: []int{0, 60}[d(2)], places: true, containers: 5})
		l := placed(in, 1)
		b := l.Bounds[0]
		if b.Unplaced > 0 || splitsOf(l) > 0 {
			continue
		}
		j := judge(t, modelOf(t, in, GoalEffort, ModelLimits{Unplaced: 0, Cost: b.AddedCost, Splits: 0}))
		if !j.Proved {
			continue
		}
		cells++
		require.LessOrEqual(t, b.EffortBound, j.Value+1e-5*(1+j.Value), "seed %d", seed)
		require.GreaterOrEqual(t, b.Effort, j.Value-1e-5*(1+j.Value), "seed %d", seed)
		if b.Effort <= j.Value+1e-5*(1+j.Value) {
			best++
		}
		if b.Optimal {
			proved++
			require.InDelta(t, j.Value, b.Effort, 1e-5*(1+j.Value), "seed %d", seed)
		}
	}
	t.Logf("of %d cells %d have the least effort, %d are proved optimal", cells, best, proved)
	assert.GreaterOrEqual(t, cells, 20)
	assert.GreaterOrEqual(t, 20*best, 19*cells)
	assert.GreaterOrEqual(t, 20*proved, 17*cells)
}
