package planner_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/units"
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
		assert.Positive(t, r.Most.Planned)
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
	assert.Contains(t, codes(e.Broken), planner.CodeEditLong)
	require.NotEmpty(t, e.Routes)
	for _, r := range e.Routes {
		at := slices.IndexFunc(plan.Routes, func(o routing.Route) bool { return o.Route == r.Route })
		require.InDelta(t, plan.Routes[at].LoadPlanned, r.Before.Planned, 1e-6, "before is what the plan says")
		require.InDelta(t, plan.Routes[at].MassPlanned.KG(), r.Before.Mass.KG(), 1e-3)
		require.Equal(t, plan.Routes[at].Round, r.Before.Round)
		require.Greater(t, r.After.Planned, r.Before.Planned)
	}
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

// BenchmarkEditPlanWhole makes a move, a swap and another interval in a plant of one
// cell of 150 loops with its rounds, return lanes and lifts.
func BenchmarkEditPlanWhole(b *testing.B) {
	in := fullCell(150)
	plan, err := planner.Run(b.Context(), in, planner.DefaultSettings(in.Plant), planner.Options{Threads: 2})
	require.NoError(b, err)
	require.NotEmpty(b, plan.Routes)
	edits := []placement.Edit{
		placement.SwapLoops{A: plan.Loops[3].Key, B: plan.Loops[90].Key},
		placement.MoveLoop{Loop: plan.Loops[10].Key, To: placement.Spot{Rack: plan.Lanes[len(plan.Lanes)-1].Rack, Level: 1}},
		placement.ChangeInterval{Loop: plan.Loops[40].Key, Interval: 20 * time.Minute},
	}
	for b.Loop() {
		planner.EditPlan(in.Plant, plan, edits)
	}
}

// fullCell is a plant of one cell with so many loops, racks added as they need, and
// rounds of a cart.
func fullCell(loops int) planner.Input {
	p := tightCell()
	p.Cells, p.Stations, p.Racks = p.Cells[:1], p.Stations[:1], nil
	p.Cells[0].Frontage, p.Cells[0].NewRack, p.Cells[0].NewRackPoint = 0, &plant.Place{}, "L"
	p.Parts, p.Usage = nil, nil
	p.AislePoints = []plant.AislePoint{{Point: "M", Kind: plant.Market}, {Point: "L", Place: plant.Place{X: 20 * units.Metre}}}
	p.Aisles = []plant.Aisle{{From: "M", To: "L"}}
	p.Vehicles = []plant.Vehicle{{Vehicle: "CART", Count: 90, Containers: 40, Speed: units.MetrePerSecond, StopTime: 20 * time.Second, LoadTime: 5 * time.Second, UnloadTime: 6 * time.Second}}
	for i := range loops {
		part := plant.PartCode(fmt.Sprintf("P%03d", i))
		p.Parts = append(p.Parts, plant.Part{Part: part, Container: "tote", Pack: 10, PieceMass: 100 * units.Gram})
		p.Usage = append(p.Usage, plant.Usage{Part: part, Cell: "C", Station: "S", PerHour: units.Int(int64(10 + i%37))})
	}
	return planner.Input{Plant: p}
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
