package planner_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// TestEditPlan edits the made-up plant: the plan stays as it is, a swap and the same
// again change nothing, and what an edit means for rounds, empties and lifts is told.
func TestEditPlan(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	lanes := slices.Clone(plan.Lanes)
	a, b := loopOn(plan, "MAST-03", 2), loopOn(plan, "MAST-04", 3)
	swap := placement.SwapLoops{A: a.Loop, B: b.Loop}
	twice := planner.EditPlan(in.Plant, plan, []placement.Edit{swap, swap})
	assert.Empty(t, twice.Changes)
	assert.Empty(t, twice.Broken)
	assert.Empty(t, twice.Routes)
	assert.Empty(t, twice.Returns)
	assert.Empty(t, twice.Lifting)

	once := planner.EditPlan(in.Plant, plan, []placement.Edit{swap})
	assert.Equal(t, []plant.RackCode{"MAST-03", "MAST-04"}, once.Racks)
	assert.Equal(t, lanes, plan.Lanes, "the plan was not changed")
	for _, r := range once.Routes {
		assert.NotEqual(t, r.Before, r.After)
		assert.Positive(t, r.Limit)
	}

	often := planner.EditPlan(in.Plant, plan, []placement.Edit{placement.ChangeInterval{Loop: a.Loop, Interval: 10 * time.Minute}})
	require.Len(t, often.Loops, 1)
	assert.Contains(t, codes(often.Broken), planner.CodeEditSeldom)

	heavy := planner.EditPlan(in.Plant, plan, []placement.Edit{placement.ChangeContainer{Loop: a.Loop, Container: "B64-28", Pack: 400}})
	assert.NotEmpty(t, append(heavy.Lifting, heavy.Eased...), "another mass is judged anew")
}

// A loop that every container fills with one piece only floods its round.
func TestEditedRoundsAreTooSmall(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	var edits []placement.Edit
	for _, l := range plan.Loops {
		if l.Cell == "MAST" {
			edits = append(edits, placement.ChangeContainer{Loop: l.Key, Container: l.Container, Pack: 1})
		}
	}
	e := planner.EditPlan(in.Plant, plan, edits)
	assert.Contains(t, codes(e.Broken), planner.CodeEditLoad)
	assert.Contains(t, codes(e.Broken), placement.CodeEditUnplaced)
}

// A rack that held nothing has no stop.
func TestEditToARackWithoutAStop(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	a := loopOn(plan, "MAST-03", 2)
	for i := range plan.Routes {
		plan.Routes[i].Stops = slices.Clone(plan.Routes[i].Stops)
		for n := range plan.Routes[i].Stops {
			if plan.Routes[i].Stops[n].Rack == "MAST-05" {
				plan.Routes[i].Stops[n].Rack = "elsewhere"
			}
		}
	}
	e := planner.EditPlan(in.Plant, plan, []placement.Edit{placement.MoveLoop{Loop: a.Loop, To: placement.Spot{Rack: "MAST-05", Level: 3}}})
	assert.Contains(t, codes(e.Broken), planner.CodeEditUnserved)
}

// loopOn is the first lane on a level of a loop that lies nowhere else.
func loopOn(p *planner.Plan, rack plant.RackCode, level int) placement.Lane {
	at := slices.IndexFunc(p.Lanes, func(l placement.Lane) bool {
		return l.Rack == rack && l.Level == level && !l.Empty() && !slices.ContainsFunc(p.Lanes, func(o placement.Lane) bool {
			return o.Loop == l.Loop && (o.Rack != rack || o.Level != level)
		})
	})
	return p.Lanes[at]
}

func codes(list finding.List) []string {
	var c []string
	for _, f := range list {
		c = append(c, f.Code)
	}
	return c
}

// BenchmarkEditPlan makes one move in a cell of the made-up plant.
func BenchmarkEditPlan(b *testing.B) {
	in := skerrow(b)
	plan, err := planner.Run(b.Context(), in, planner.DefaultSettings(in.Plant), planner.Options{Threads: 2})
	require.NoError(b, err)
	edits := []placement.Edit{placement.MoveLoop{Loop: loopOn(plan, "MAST-03", 2).Loop, To: placement.Spot{Rack: "MAST-05", Level: 3}}}
	for b.Loop() {
		planner.EditPlan(in.Plant, plan, edits)
	}
}
