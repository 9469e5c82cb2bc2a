package planner_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/placement"
)

// TestCompare compares the made-up plan with itself, with one that was edited by hand
// and with one of another setting; the other way round everything is the other way
// round.
func TestCompare(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	cost := planner.Cost(in.Plant, plan)
	same := planner.Compare(plan, plan, [2]*costing.Cost{&cost, &cost})
	assert.Empty(t, same.Loops)
	assert.Empty(t, same.Cells)
	assert.Empty(t, same.Racks)
	assert.Empty(t, same.Routes)
	assert.Zero(t, same.Floor)
	for _, total := range same.Totals {
		assert.Equal(t, total.Before, total.After, total.Name)
	}

	a, b := loopOn(plan, "MAST-03", 2), loopOn(plan, "MAST-04", 3)
	edited := planner.Edited(in.Plant, plan, []placement.Edit{placement.SwapLoops{A: a.Loop, B: b.Loop}, placement.ChangeInterval{Loop: b.Loop, Interval: 15 * time.Minute}})
	c := planner.Compare(plan, edited, [2]*costing.Cost{})
	back := planner.Compare(edited, plan, [2]*costing.Cost{})
	at := slices.IndexFunc(c.Loops, func(d planner.LoopDifference) bool { return d.Loop == b.Loop })
	require.GreaterOrEqual(t, at, 0)
	d := c.Loops[at]
	assert.NotEqual(t, d.Before.Interval, d.After.Interval)
	assert.True(t, d.Moved())
	held := 0
	for _, l := range d.Lanes[1] {
		held += l.Containers
	}
	assert.Equal(t, held, d.Carried, "all of it lies elsewhere now")
	carried := 0
	for _, d := range c.Loops {
		carried += d.Carried
	}
	assert.Equal(t, c.Floor.Containers, carried)
	for _, r := range c.Racks {
		assert.Contains(t, []string{"MAST-03", "MAST-04"}, string(r.Rack))
		assert.Positive(t, r.Changed)
	}
	require.NotEmpty(t, c.Cells)
	for _, d := range c.Cells {
		assert.Equal(t, "MAST", string(d.Cell))
	}
	require.Equal(t, len(c.Loops), len(back.Loops))
	require.Equal(t, len(c.Routes), len(back.Routes))
	for i, total := range c.Totals {
		assert.Equal(t, total.Before, back.Totals[i].After, total.Name)
	}
	cost2 := c.Totals[len(c.Totals)-1]
	assert.Equal(t, "cost", cost2.Name)
	assert.False(t, cost2.Known, "no costs were given")

	empty := planner.Compare(&planner.Plan{}, plan, [2]*costing.Cost{})
	assert.Len(t, empty.Loops, len(plan.Loops))
	assert.Len(t, empty.Racks, len(plan.Racks))
	assert.Len(t, empty.Routes, len(plan.Routes))
	for _, r := range empty.Routes {
		assert.Nil(t, r.Before)
		assert.Len(t, r.Came, len(r.After.Stops))
	}
	assert.Equal(t, planner.ChangeOnFloor(nil, plan), empty.Floor)
}
