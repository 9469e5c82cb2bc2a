package planner_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/ergonomics"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// TestBuildRacks: a rack, a cell and the proposed racks are built from the same
// lists, and threads change nothing.
func TestBuildRacks(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	build := func(s planner.BuildScope, threads int) planner.Build {
		b, err := planner.BuildRacks(context.Background(), in.Plant, plan, s, planner.BuildOptions{Threads: threads})
		require.NoError(t, err)
		return b
	}
	all := build(planner.BuildScope{}, 2)
	require.Len(t, all.Racks, len(plan.Racks))
	assert.Equal(t, all, build(planner.BuildScope{}, 1))
	count := func(b planner.Build) (n int) {
		for _, one := range b.Buys {
			n += one.Count
		}
		return n
	}
	cells := 0
	for _, c := range in.Plant.Cells {
		b := build(planner.BuildScope{Cell: c.Cell}, 2)
		for _, r := range b.Racks {
			assert.Equal(t, c.Cell, r.Rack.Cell)
		}
		cells += count(b)
	}
	assert.Equal(t, count(all), cells, "the cells together are the plant")
	one := build(planner.BuildScope{Rack: plan.Racks[0].Rack}, 2)
	require.Len(t, one.Racks, 1)
	assert.Equal(t, all.Racks[0], one.Racks[0])
	for _, r := range build(planner.BuildScope{Proposed: true}, 2).Racks {
		assert.True(t, r.Rack.Proposed)
	}
	_, err := planner.BuildRacks(context.Background(), in.Plant, plan, planner.BuildScope{Rack: "none"}, planner.BuildOptions{})
	require.ErrorIs(t, err, planner.ErrUnknownRack)
	assertCut(t, all)
}

// assertCut: the cut lists of a plant hold every tube, within a hundredth of the
// bound.
func assertCut(t *testing.T, b planner.Build) {
	t.Helper()
	tubes := 0
	for _, r := range b.Racks {
		tubes += r.List.Tubes()
	}
	for _, c := range b.Cuts {
		assert.Empty(t, c.Uncut)
		assert.LessOrEqual(t, float64(c.Bought), 1.01*float64(c.Least), "%s", c.Part.Part)
		if c.Part.Kind == plant.TubePart {
			assert.Equal(t, tubes, c.Pieces)
		}
	}
}

// TestBuildWithoutAKit: a kit that lacks a part gives no list, and says so.
func TestBuildWithoutAKit(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	k := plant.ShippedKit("mm")
	k.Kit, k.Parts = plan.Racks[0].Type.Kit, k.Parts[:1]
	in.Plant.Kits = []plant.Kit{k}
	b, err := planner.BuildRacks(context.Background(), in.Plant, plan, planner.BuildScope{Rack: plan.Racks[0].Rack}, planner.BuildOptions{})
	require.NoError(t, err)
	assert.Nil(t, b.Racks[0].Frame)
	assert.Empty(t, b.Buys)
	assert.Equal(t, structure.CodeKitLacks, b.Findings[0].Code)
}

// TestLifts: the indices of all lanes are those that the findings name.
func TestLifts(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	lifts := planner.Lifts(in.Plant, plan)
	want, got := map[string]int{}, map[string]int{}
	for _, f := range plan.Findings {
		want[f.Code]++
	}
	for _, l := range lifts.Lifts {
		if l.RefillOK && l.Refill > 1 {
			got[ergonomics.CodeRefill]++
		}
		if l.PickOK && l.Pick > 1 {
			got[ergonomics.CodePick]++
		}
	}
	for _, j := range lifts.Rounds {
		if j.Lifts > 1 && j.Index > 1 {
			got[ergonomics.CodeRound]++
		}
	}
	for _, j := range lifts.Stations {
		if j.Lifts > 1 && j.Index > 1 {
			got[ergonomics.CodeStation]++
		}
	}
	assert.Positive(t, got[ergonomics.CodeRefill])
	for _, code := range []string{ergonomics.CodeRefill, ergonomics.CodePick, ergonomics.CodeRound, ergonomics.CodeStation} {
		assert.Equal(t, want[code], got[code], code)
	}
}

// manyRacks is a plan of n racks of the shipped types with all their levels full
// of lanes, and the plant they stand in.
func manyRacks(n int) (*plant.Plant, *planner.Plan) {
	facts := &plant.Plant{Name: "many", Settings: plant.DefaultSettings(), RackTypes: plant.ShippedRackTypes()}
	p := &planner.Plan{Settings: planner.DefaultSettings(facts)}
	for i := range n {
		t := facts.RackTypes[i%len(facts.RackTypes)]
		t.Width += units.Length(i%40) * 20 * units.Millimetre
		t.Levels = append([]plant.Level{}, t.Levels...)
		for j := range t.Levels {
			t.Levels[j].UsableWidth = t.Width - 80*units.Millimetre
		}
		p.Racks = append(p.Racks, structure.Rack{Rack: plant.RackCode(fmt.Sprintf("R%04d", i)), Type: &t, Cell: "C", Proposed: true})
	}
	return facts, p
}

// BenchmarkBuild lists and cuts 2,500 racks.
func BenchmarkBuild(b *testing.B) {
	facts, plan := manyRacks(2500)
	for b.Loop() {
		built, err := planner.BuildRacks(context.Background(), facts, plan, planner.BuildScope{}, planner.BuildOptions{Threads: 2})
		require.NoError(b, err)
		gap, pieces := 0.0, 0
		for _, c := range built.Cuts {
			gap = max(gap, float64(c.Bought)/float64(c.Least)-1)
			pieces += c.Pieces
		}
		b.ReportMetric(100*gap, "%gap")
		b.ReportMetric(float64(pieces), "pieces")
	}
}

// BenchmarkCutLists cuts the 8,400 pieces of some 130 racks.
func BenchmarkCutLists(b *testing.B) {
	facts, plan := manyRacks(130)
	built, err := planner.BuildRacks(context.Background(), facts, plan, planner.BuildScope{}, planner.BuildOptions{Threads: 2})
	require.NoError(b, err)
	var lists []buildlist.List
	for _, r := range built.Racks {
		lists = append(lists, r.List)
	}
	for b.Loop() {
		cuts, _, err := buildlist.CutLists(context.Background(), lists, buildlist.CutOptions{Seed: 1})
		require.NoError(b, err)
		gap, pieces := 0.0, 0
		for _, c := range cuts {
			gap = max(gap, float64(c.Bought)/float64(c.Least)-1)
			pieces += c.Pieces
		}
		b.ReportMetric(100*gap, "%gap")
		b.ReportMetric(float64(pieces), "pieces")
	}
}
