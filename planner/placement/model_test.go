package placement

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/planner/internal/solvertest"
)

func modelOf(t *testing.T, in Input, goal ModelGoal, most ModelLimits) Model {
	t.Helper()
	m, err := CellModel(in, DefaultSettings(), "C", goal, most)
	require.NoError(t, err)
	return m
}

// noLimits limits nothing.
func noLimits() ModelLimits { return ModelLimits{NoLimit, NoLimit, NoLimit} }

// An outside solver finds the best of all layouts in the models of tiny cells,
// goal by goal.
func TestModelsOfTinyCells(t *testing.T) {
	t.Parallel()
	solvertest.Need(t)
	for seed, in := range tinyCells(0, 100) {
		best, lightest := enumerate(in)
		most := noLimits()
		got := judge(t, modelOf(t, in, GoalUnplaced, most))
		require.True(t, got.Proved, "seed %d", seed)
		require.InDelta(t, best.unplaced, got.Value, 1e-6, "seed %d: unplaced", seed)
		most.Unplaced = best.unplaced
		got = judge(t, modelOf(t, in, GoalCost, most))
		require.InDelta(t, best.cost, got.Value, 1e-6, "seed %d: cost", seed)
		most.Cost = best.cost
		got = judge(t, modelOf(t, in, GoalEffort, most))
		require.InDelta(t, lightest(best.unplaced, best.cost, 1<<20), got.Value, 1e-5*(1+math.Abs(got.Value)), "seed %d: effort", seed)
		got = judge(t, modelOf(t, in, GoalSplits, most))
		require.InDelta(t, best.splits, got.Value, 1e-6, "seed %d: splits", seed)
		most.Splits = best.splits
		got = judge(t, modelOf(t, in, GoalEffort, most))
		require.InDelta(t, best.effort, got.Value, 1e-5*(1+best.effort), "seed %d: effort", seed)
	}
}

func TestModelsThatCanNotBeMade(t *testing.T) {
	t.Parallel()
	in := made(seeded(1), recipe{loops: 3, racks: 1, types: 1, stations: 1, levels: 1, width: 1500, containers: 3})
	_, err := CellModel(in, DefaultSettings(), "D", GoalCost, noLimits())
	require.ErrorIs(t, err, ErrNoSuchCell)
	_, err = CellModel(in, DefaultSettings(), "C", "moves", noLimits())
	require.ErrorIs(t, err, ErrNoSuchGoal)
	large := made(seeded(1), recipe{loops: 3000, racks: 1, types: 1, stations: 1, levels: 3, width: 1500, containers: 9})
	_, err = CellModel(large, DefaultSettings(), "C", GoalEffort, noLimits())
	require.ErrorIs(t, err, ErrManyRacks)
}

// A cell without loops has a model without layouts to choose from.
func TestModelOfAnEmptyCell(t *testing.T) {
	t.Parallel()
	in := made(seeded(1), recipe{loops: 1, racks: 1, types: 1, stations: 1, levels: 1, width: 1500, containers: 3})
	in.Loops = nil
	m := modelOf(t, in, GoalUnplaced, noLimits())
	require.Empty(t, m.Columns)
	require.Empty(t, m.Objective)
}
