package planner_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
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

	assert.Equal(t, c.Came, back.Gone)
	assert.Equal(t, c.Gone, back.Came)
	assert.Len(t, edited.Findings, len(c.Came)+len(c.Changed)+len(c.Stay))
	assert.Len(t, plan.Findings, len(c.Gone)+len(c.Changed)+len(c.Stay))
	for _, x := range c.Changed {
		assert.Equal(t, x.Before.Code, x.After.Code)
		assert.Equal(t, x.Before.Subject, x.After.Subject)
		assert.NotEqual(t, x.Before.Summary, x.After.Summary)
	}

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

// TestStepsFrom works the move list from one plan to another down on paper, both ways:
// nothing is put beside another loop, and in the end every lane is as the plan says.
func TestStepsFrom(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	a, b, c := loopOn(plan, "MAST-03", 2), loopOn(plan, "MAST-04", 3), loopOn(plan, "MAST-04", 2)
	edited := planner.Edited(in.Plant, plan, []placement.Edit{
		placement.SwapLoops{A: a.Loop, B: b.Loop}, placement.ChangeInterval{Loop: b.Loop, Interval: 15 * time.Minute},
		placement.MoveLoop{Loop: c.Loop, To: placement.Spot{Rack: "MAST-05", Level: 3}},
	})
	assert.Empty(t, planner.StepsFrom(in.Plant, plan, plan))
	assert.Equal(t, edited.MoveSteps, planner.StepsFrom(in.Plant, nil, edited), "from today's layout where no plan is worked to")
	for _, pair := range [][2]*planner.Plan{{plan, edited}, {edited, plan}} {
		steps := planner.StepsFrom(in.Plant, pair[0], pair[1])
		require.NotEmpty(t, steps)
		held := onPaper(pair[0])
		for _, s := range steps {
			k := demand.Key{Part: s.Part, Cell: s.Cell, Station: s.Station}
			assert.Positive(t, s.Time)
			if s.From != nil && s.From.Level > 0 {
				require.GreaterOrEqual(t, held[*s.From][k], s.Containers, "step %d takes what lies there", s.Step)
				if held[*s.From][k] -= s.Containers; held[*s.From][k] == 0 {
					delete(held[*s.From], k)
				}
			}
			if s.To != nil && s.To.Level > 0 {
				if held[*s.To] == nil {
					held[*s.To] = map[demand.Key]int{}
				}
				held[*s.To][k] += s.Containers
				require.Len(t, held[*s.To], 1, "step %d puts nothing beside another loop", s.Step)
			}
		}
		for at, loops := range held {
			if len(loops) == 0 {
				delete(held, at)
			}
		}
		assert.Equal(t, onPaper(pair[1]), held)
	}
}

// onPaper is what lies in each lane of a plan.
func onPaper(p *planner.Plan) map[placement.Spot]map[demand.Key]int {
	held := map[placement.Spot]map[demand.Key]int{}
	for _, l := range p.Lanes {
		if !l.Empty() {
			held[placement.Spot{Rack: l.Rack, Level: l.Level, Lane: l.Lane}] = map[demand.Key]int{l.Loop: l.Containers}
		}
	}
	return held
}

// TestCompareFindings: what is found of the same thing under the same code is one change,
// one for one; all else is new, gone or the same.
func TestCompareFindings(t *testing.T) {
	t.Parallel()
	f := func(code, rack, summary string) finding.Finding {
		return finding.Finding{Code: code, Summary: summary, Subject: finding.Subject{Rack: rack}}
	}
	before := &planner.Plan{Findings: finding.List{f("a", "R1", "1"), f("a", "R1", "2"), f("a", "R2", "3"), f("b", "R1", "4"), f("c", "R1", "same")}}
	after := &planner.Plan{Findings: finding.List{f("a", "R1", "5"), f("a", "R3", "6"), f("b", "R1", "7"), f("b", "R1", "8"), f("c", "R1", "same")}}
	c := planner.Compare(before, after, [2]*costing.Cost{})
	assert.Equal(t, []planner.FindingChange{{Before: f("a", "R1", "1"), After: f("a", "R1", "5")}, {Before: f("b", "R1", "4"), After: f("b", "R1", "7")}}, c.Changed)
	assert.Equal(t, finding.List{f("a", "R3", "6"), f("b", "R1", "8")}, c.Came)
	assert.Equal(t, finding.List{f("a", "R1", "2"), f("a", "R2", "3")}, c.Gone)
	assert.Equal(t, finding.List{f("c", "R1", "same")}, c.Stay)
}
