package planner_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/demand"
	"lanewright/planner/ergonomics"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
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

// TestBuildProposed: a plan document lists the proposed racks of a plant with kits,
// the same with every number of threads, from the stock on hand first.
func TestBuildProposed(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	b, err := planner.BuildProposed(context.Background(), in.Plant, plan, 2)
	require.NoError(t, err)
	assert.Nil(t, b, "without kits nobody knows the tubes")

	facts := *in.Plant
	kit := plant.ShippedKit("mm")
	facts.Kits = []plant.Kit{kit}
	b, err = planner.BuildProposed(context.Background(), &facts, plan, 2)
	require.NoError(t, err)
	proposed := 0
	for _, r := range plan.Racks {
		if r.Proposed {
			proposed++
		}
	}
	require.NotZero(t, proposed)
	assert.Len(t, b.Racks, proposed)
	assertCut(t, *b)
	again, err := planner.BuildProposed(context.Background(), &facts, plan, 1)
	require.NoError(t, err)
	assert.Equal(t, b, again)

	tube := kit.Of(plant.TubePart)
	facts.StockOnHand = []plant.StockBar{{Part: tube.Part, Length: tube.StockLengths[0], Count: 3}}
	spared, err := planner.BuildProposed(context.Background(), &facts, plan, 2)
	require.NoError(t, err)
	assert.Less(t, bought(*spared, tube.Part), bought(*b, tube.Part))

	none := *plan
	none.Racks = slices.DeleteFunc(slices.Clone(plan.Racks), func(r structure.Rack) bool { return r.Proposed })
	b, err = planner.BuildProposed(context.Background(), &facts, &none, 2)
	require.NoError(t, err)
	assert.Nil(t, b)
}

// bought is the length bought of a part.
func bought(b planner.Build, part plant.KitPartCode) (sum units.Length) {
	for _, c := range b.Cuts {
		if c.Part.Part == part {
			sum += c.Bought
		}
	}
	return sum
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

// TestWhatCanNotBe: what does not fit, does not roll, is overloaded, too heavy to
// lift or longer than its stock is found with the number that governs and with
// what would help.
func TestWhatCanNotBe(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		code string
		bend func(*plant.Plant, *planner.Plan)
	}{
		{structure.CodeNoPassage, func(p *plant.Plant, _ *planner.Plan) { p.Containers[0].Height = 600 * units.Millimetre }},
		{structure.CodeSlopeLow, func(p *plant.Plant, _ *planner.Plan) { p.RackTypes[1].Levels[1].Drop = 10 * units.Millimetre }},
		{structure.CodeLevelLoad, func(_ *plant.Plant, p *planner.Plan) { p.Loops[0].Gross = 400 * units.Kilogram }},
		{structure.CodeTubeTooLong, func(p *plant.Plant, _ *planner.Plan) { shortTubes(p) }},
		{buildlist.CodeTooLong, func(p *plant.Plant, _ *planner.Plan) { shortTubes(p) }},
		{ergonomics.CodeRefill, func(_ *plant.Plant, p *planner.Plan) { p.Loops[0].Gross = 40 * units.Kilogram }},
	} {
		t.Run(c.code, func(t *testing.T) {
			t.Parallel()
			facts, plan := oneLoop()
			assert.Empty(t, codeIn(t, facts, plan, c.code), "nothing is wrong with it as it is")
			c.bend(facts, plan)
			found := codeIn(t, facts, plan, c.code)
			require.NotEmpty(t, found)
			require.NotNil(t, found[0].Measure, "%s", found[0].Summary)
			assert.NotEqual(t, found[0].Measure.Value, found[0].Measure.Limit)
			assert.NotEmpty(t, found[0].Remedy)
		})
	}
}

// shortTubes gives the plant a kit whose tubes are 1 m long.
func shortTubes(p *plant.Plant) {
	k := plant.ShippedKit("mm")
	k.Of(plant.TubePart).StockLengths = []units.Length{units.Metre}
	p.Kits = []plant.Kit{k}
	for i := range p.RackTypes {
		p.RackTypes[i].Kit = k.Kit
	}
}

// oneLoop is a plan of one rack with one lane of boxes of 9 kg.
func oneLoop() (*plant.Plant, *planner.Plan) {
	facts, p := manyRacks(2)
	p.Racks = p.Racks[1:]
	p.Racks[0].Type.Kit = plant.MetricKit
	key := demand.Key{Part: "P", Cell: "C", Station: "S"}
	facts.Parts = []plant.Part{{Part: "P", Container: "BOX", Pack: 10}}
	facts.Containers = []plant.Container{{Container: "BOX", Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 200 * units.Millimetre}}
	p.Loops = []planner.Loop{{Loop: sizing.Loop{Loop: demand.Loop{Key: key, Container: "BOX", Pack: 10}, Gross: 9 * units.Kilogram}}}
	p.Lanes = []placement.Lane{{
		Rack: p.Racks[0].Rack, Level: 2, Lane: 1, Kind: plant.Supply, Width: 320 * units.Millimetre, Loop: key, Side: plant.LengthAlong, Capacity: 3, Containers: 3,
	}}
	for _, l := range p.Racks[0].Type.Levels {
		p.Racks[0].Levels = append(p.Racks[0].Levels, structure.Level{Level: l})
	}
	return facts, p
}

// codeIn are the findings of a code about building a plan's racks and lifting at
// their lanes.
func codeIn(t *testing.T, facts *plant.Plant, plan *planner.Plan, code string) (list finding.List) {
	t.Helper()
	b, err := planner.BuildRacks(context.Background(), facts, plan, planner.BuildScope{}, planner.BuildOptions{})
	require.NoError(t, err)
	found := b.Findings
	for _, l := range planner.Lifts(facts, plan).Lifts {
		found = append(found, ergonomics.Judge(l.Task, plan.Settings.Ergonomics)...)
	}
	for _, f := range found {
		if f.Code == code {
			list = append(list, f)
		}
	}
	return list
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
