package planner_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

func withIntervals(t *testing.T, in planner.Input) *planner.Plan {
	t.Helper()
	s := planner.DefaultSettings(in.Plant)
	s.ChooseIntervals = true
	plan, err := planner.Run(t.Context(), in, s, planner.Options{Threads: 2})
	require.NoError(t, err)
	return plan
}

func ofCode(plan *planner.Plan, code string) finding.List {
	return slices.DeleteFunc(slices.Clone(plan.Findings), func(f finding.Finding) bool { return f.Code != code })
}

// TestIntervalsAreChosen: at an hour five containers find no lane; at a shorter
// interval the loops are smaller and all do. The row that gives its interval keeps it.
func TestIntervalsAreChosen(t *testing.T) {
	t.Parallel()
	p := tightCell()
	p.Usage[1].Interval = time.Hour
	require.Positive(t, unplacedIn(planned(t, p), "C"))
	plan := withIntervals(t, planner.Input{Plant: p})
	assert.Zero(t, unplacedIn(plan, "C"))
	for _, l := range plan.Loops {
		if l.Part == "B" {
			assert.Equal(t, time.Hour, l.Interval)
			continue
		}
		assert.Contains(t, p.Settings.IntervalChoices, l.Interval)
		assert.Less(t, l.Interval, time.Hour)
	}
	found := ofCode(plan, planner.CodeIntervalsChosen)
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Summary, "instead of 60 min")
	assert.Equal(t, plan, withIntervals(t, planner.Input{Plant: p}), "the same again")
}

func TestNoOtherIntervalToChoose(t *testing.T) {
	t.Parallel()
	p := noIntervals()
	plan := withIntervals(t, planner.Input{Plant: p})
	assert.Empty(t, ofCode(plan, planner.CodeIntervalsChosen))
	assert.Equal(t, planned(t, p).Loops, plan.Loops)
}

// TestChosenIntervalsAreNeverWorse on the made-up plant with three of its cells.
func TestChosenIntervalsAreNeverWorse(t *testing.T) {
	t.Parallel()
	in := fewCells(t)
	usual, chosen := run(t, in), withIntervals(t, in)
	racks := func(p *planner.Plan) (cost int64) {
		for _, b := range p.Cells {
			cost += int64(b.AddedCost)
		}
		return cost
	}
	assert.LessOrEqual(t, chosen.Summary().ContainersUnplaced, usual.Summary().ContainersUnplaced)
	if chosen.Summary().ContainersUnplaced == usual.Summary().ContainersUnplaced && len(chosen.Unserved) == len(usual.Unserved) {
		assert.LessOrEqual(t, racks(chosen), racks(usual))
	}
	for _, l := range chosen.Loops {
		given := slices.ContainsFunc(in.Plant.Usage, func(u plant.Usage) bool { return u.Part == l.Part && u.Interval == l.Interval })
		assert.True(t, given || slices.Contains(in.Plant.Settings.IntervalChoices, l.Interval) || l.Interval == in.Plant.Settings.Interval)
	}
}
