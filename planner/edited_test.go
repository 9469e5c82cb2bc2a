package planner_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/search"
)

// TestEditedByNothing: no edit, and edits that take each other back, give the plan
// that there was: its routes, moves, findings and bounds are worked out anew and come
// out the same.
func TestEditedByNothing(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	same := planner.Edited(in.Plant, plan, nil)
	assert.Nil(t, same.Proof)
	want := *plan
	want.Proof = nil
	require.Equal(t, want.Findings, same.Findings)
	require.Equal(t, want.Unserved, same.Unserved)
	require.Equal(t, &want, same)
	a, b := loopOn(plan, "MAST-03", 2), loopOn(plan, "MAST-04", 3)
	swap := placement.SwapLoops{A: a.Loop, B: b.Loop}
	twice := planner.Edited(in.Plant, plan, []placement.Edit{swap, swap})
	require.Equal(t, []placement.Edit{swap, swap}, twice.Edits)
	twice.Edits = nil
	require.Equal(t, &want, twice)
}

// checkEdited looks at an edited plan from all sides.
func checkEdited(t *testing.T, before, p *planner.Plan) {
	t.Helper()
	held := map[demand.Key]int{}
	lanes := map[demand.Key]int{}
	for _, l := range p.Lanes {
		if !l.Empty() {
			held[l.Loop] += l.Containers
			lanes[l.Loop]++
		}
	}
	for _, u := range p.Unplaced {
		held[u.Loop] += u.Containers
		require.Contains(t, codes(p.Findings), u.Reason)
	}
	seen := map[demand.Key]bool{}
	require.Len(t, p.Loops, len(before.Loops))
	for i, l := range p.Loops {
		require.Equal(t, before.Loops[i].Key, l.Key)
		require.False(t, seen[l.Key], "every loop once")
		seen[l.Key] = true
		require.Equal(t, l.Containers, held[l.Key], "%v", l.Key)
		require.Equal(t, lanes[l.Key], l.Lanes, "%v", l.Key)
	}
	unplaced, effort := 0, 0.0
	for _, b := range p.Cells {
		unplaced += b.Unplaced
		effort += b.Effort
		require.LessOrEqual(t, b.UnplacedBound, b.Unplaced)
		require.LessOrEqual(t, b.AddedCostBound, b.AddedCost)
		require.LessOrEqual(t, b.EffortBound, b.Effort)
	}
	s := p.Summary()
	require.Equal(t, s.ContainersUnplaced, unplaced)
	require.InDelta(t, s.Effort, effort, 1e-9)
	for _, r := range p.Routes {
		mean := 0.0
		for _, stop := range r.Stops {
			mean += stop.Containers
		}
		require.InDelta(t, r.LoadMean, mean, 1e-9, "the stops of route %s add up", r.Route)
	}
	for _, u := range p.Unserved {
		require.Contains(t, codes(p.Findings), u.Reason)
	}
	for _, b := range p.Balance {
		require.GreaterOrEqual(t, b.Needed, b.Placed)
	}
}

func TestEdited(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	a, b, c := loopOn(plan, "MAST-03", 2), loopOn(plan, "MAST-04", 3), loopOn(plan, "MAST-04", 2)
	edits := []placement.Edit{
		placement.MoveLoop{Loop: a.Loop, To: placement.Spot{Rack: "MAST-05", Level: 3}},
		placement.ChangeInterval{Loop: b.Loop, Interval: 60 * time.Minute},
		placement.PinLoop{Loop: c.Loop},
		placement.CloseLane{Lane: placement.Spot{Rack: "MAST-05", Level: 2, Lane: 1}},
	}
	for _, l := range plan.Loops {
		if l.Cell != "MAST" && len(edits) < 8 {
			edits = append(edits, placement.ChangeContainer{Loop: l.Key, Container: l.Container, Pack: 1})
		}
	}
	p := planner.Edited(in.Plant, plan, edits)
	checkEdited(t, plan, p)
	require.Equal(t, plan.Revision, p.Revision)
	require.Equal(t, plan.Settings, p.Settings)
	require.Equal(t, edits, p.Edits)
	require.Equal(t, []placement.Edit{
		placement.PinLoop{Loop: c.Loop, To: placement.Spot{Rack: "MAST-04", Level: 2}},
		placement.CloseLane{Lane: placement.Spot{Rack: "MAST-05", Level: 2, Lane: 1}},
	}, p.Held)
	for i, bound := range p.Cells {
		if bound.Cell != "MAST" && plan.Cells[i] == bound {
			continue
		}
		assert.False(t, bound.Optimal)
		assert.Equal(t, search.ByHand, bound.Stopped)
	}
	require.NotEmpty(t, p.BrokenByHand())
	lies := func(p *planner.Plan, k demand.Key) placement.Lane {
		return p.Lanes[slices.IndexFunc(p.Lanes, func(l placement.Lane) bool { return l.Loop == k })]
	}
	assert.Equal(t, "MAST-05", string(lies(p, a.Loop).Rack))
	assert.Zero(t, p.RouteBounds.RoutesBound, "bounds of other loads are not claimed")
	// The same edits one by one on plans that were edited come to the same lanes.
	next := plan
	for i := range edits {
		next = planner.Edited(in.Plant, next, edits[i:i+1])
		checkEdited(t, plan, next)
	}
	require.Equal(t, p.Lanes, next.Lanes)
	require.Equal(t, p.Held, next.Held)
	require.Equal(t, p.Routes, next.Routes)
	require.Equal(t, p.Moves, next.Moves)
	say := func(list finding.List) (said []string) {
		for _, f := range list {
			said = append(said, f.Code+" "+f.Summary)
		}
		return said
	}
	require.Equal(t, say(p.BrokenByHand()), say(next.BrokenByHand()), "what the plan before broke and nobody mended is still broken")
	// A pin of the plan before counts in the next.
	moved := planner.EditPlan(in.Plant, next, []placement.Edit{placement.MoveLoop{Loop: c.Loop, To: placement.Spot{Rack: "MAST-05", Level: 3}}})
	assert.Contains(t, codes(moved.Broken), placement.CodeEditPin)
}

// What is merged onto the edits of others is what touches nothing of theirs.
func TestMerge(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	d := planner.NewDesk(in.Plant, plan)
	a, b := loopOn(plan, "MAST-03", 2), loopOn(plan, "MAST-04", 3)
	var other placement.Lane
	for _, l := range plan.Lanes {
		if !l.Empty() && l.Loop.Cell != "MAST" {
			other = l
			break
		}
	}
	pin := placement.PinLoop{Loop: other.Loop}
	theirs := placement.SwapLoops{A: a.Loop, B: b.Loop}
	mine := []placement.Edit{
		placement.PinLoop{Loop: a.Loop}, pin,
		placement.CloseLane{Lane: placement.Spot{Rack: "MAST-03", Level: 3, Lane: 1}},
	}
	free, clashes := d.Merge(nil, nil, []placement.Edit{theirs}, mine)
	assert.Equal(t, []placement.Edit{pin}, free)
	require.Len(t, clashes, 2)
	assert.Equal(t, planner.Clash{Mine: 0, Theirs: 0, On: placement.Common{Loop: a.Loop}}, clashes[0])
	assert.Equal(t, 2, clashes[1].Mine)
	assert.Equal(t, placement.Spot{Rack: "MAST-03"}, clashes[1].On.At)
	// What others took back meanwhile counts as theirs too.
	free, clashes = d.Merge([]placement.Edit{theirs}, []placement.Edit{theirs}, nil, mine)
	assert.Equal(t, []placement.Edit{pin}, free)
	assert.Len(t, clashes, 2)
	// An edit that builds on one held back is held back with it.
	move := placement.MoveLoop{Loop: other.Loop, To: placement.Spot{Rack: "MAST-03", Level: 2}}
	_, clashes = d.Merge(nil, nil, []placement.Edit{theirs}, []placement.Edit{move, placement.CloseLane{Lane: placement.Spot{Rack: other.Rack, Level: other.Level, Lane: 1}}})
	require.Len(t, clashes, 2)
	assert.Equal(t, -1, clashes[1].Theirs)
	free, clashes = d.Merge(nil, nil, nil, mine)
	assert.Equal(t, mine, free)
	assert.Empty(t, clashes)
}

// Edits are carried to a plan that no edits lead to where it differs in nothing that
// they touch.
func TestCarry(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	d := planner.NewDesk(in.Plant, plan)
	a, b := loopOn(plan, "MAST-03", 2), loopOn(plan, "MAST-04", 3)
	var other placement.Lane
	for _, l := range plan.Lanes {
		if !l.Empty() && l.Loop.Cell != "MAST" {
			other = l
			break
		}
	}
	made := planner.Edited(in.Plant, plan, []placement.Edit{placement.SwapLoops{A: a.Loop, B: b.Loop}})
	pin := placement.PinLoop{Loop: other.Loop}
	free, clashes, differ := d.Carry(made, []placement.Edit{placement.PinLoop{Loop: a.Loop}, pin, placement.CloseLane{Lane: placement.Spot{Rack: "MAST-04", Level: 3, Lane: 1}}})
	assert.Equal(t, []placement.Edit{pin}, free)
	require.Len(t, clashes, 2)
	assert.Equal(t, a.Loop, differ[clashes[0].Theirs].Loop)
	assert.Equal(t, placement.Spot{Rack: "MAST-04"}, clashes[1].On.At)
	free, clashes, differ = d.Carry(plan, []placement.Edit{pin})
	assert.Len(t, free, 1)
	assert.Empty(t, clashes)
	assert.Empty(t, differ)
}

// A story tells where each edit found its loops and where it left them: the last place
// of one edit is the first of the next.
func TestStory(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	a, b := loopOn(plan, "MAST-03", 2), loopOn(plan, "MAST-04", 3)
	spot := func(l placement.Lane) []placement.Spot {
		return []placement.Spot{{Rack: l.Rack, Level: l.Level, Lane: l.Lane}}
	}
	story := planner.NewDesk(in.Plant, plan).Story([]placement.Edit{
		placement.SwapLoops{A: a.Loop, B: b.Loop}, placement.ChangeInterval{Loop: a.Loop, Interval: 15 * time.Minute},
		placement.MoveLoop{Loop: a.Loop, To: placement.Spot{Rack: "MAST-05", Level: 3}}, placement.UnpinLoop{Loop: demand.Key{Part: "none", Cell: "MAST"}},
	})
	require.Len(t, story, 4)
	require.Len(t, story[0], 2)
	assert.Equal(t, spot(a), story[0][0].Before.Spots)
	assert.Equal(t, spot(b)[0].Rack, story[0][0].After.Spots[0].Rack)
	assert.Equal(t, spot(b), story[0][1].Before.Spots)
	require.Len(t, story[1], 1)
	assert.Equal(t, story[0][0].After, story[1][0].Before)
	assert.Equal(t, 15*time.Minute, story[1][0].After.Interval)
	assert.Equal(t, "MAST-05", string(story[2][0].After.Spots[0].Rack))
	assert.Equal(t, 3, story[2][0].After.Spots[0].Level)
	assert.Empty(t, story[3], "nobody knows the loop")
}

// BenchmarkTry tries one edit more, and every level for one loop, in a cell of 150
// loops whose draft has ten edits. An answer has 50 ms.
func BenchmarkTry(b *testing.B) {
	in := fullCell(150)
	plan, err := planner.Run(b.Context(), in, planner.DefaultSettings(in.Plant), planner.Options{Threads: 2})
	require.NoError(b, err)
	var edits []placement.Edit
	for i := range 10 {
		edits = append(edits, placement.SwapLoops{A: plan.Loops[i].Key, B: plan.Loops[140-i].Key})
	}
	laid := planner.NewDesk(in.Plant, plan).After(edits)
	more := []placement.Edit{placement.MoveLoop{Loop: plan.Loops[20].Key, To: placement.Spot{Rack: plan.Lanes[len(plan.Lanes)-1].Rack, Level: 1}}}
	b.Run("edit", func(b *testing.B) {
		for b.Loop() {
			laid.Try(more)
		}
	})
	b.Run("fits", func(b *testing.B) {
		for b.Loop() {
			_, ok := laid.Fits(placement.MoveLoop{Loop: plan.Loops[20].Key})
			require.True(b, ok)
		}
	})
	b.Run("cell", func(b *testing.B) {
		for b.Loop() {
			laid.Cell("C")
		}
	})
	b.Run("whole plan", func(b *testing.B) {
		for b.Loop() {
			laid.Plan()
		}
	})
}
