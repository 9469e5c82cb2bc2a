package planner_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// tightCell is a cell whose loops need more lanes than its only rack has, with
// no frontage for another: five parts of 10 lanes in all, the rack has room for
// six.
func tightCell() *plant.Plant {
	const mm = units.Millimetre
	p := &plant.Plant{Name: "tight", Settings: plant.DefaultSettings()}
	p.Shifts = []plant.Shift{{Shift: "day", Start: 6 * time.Hour, End: 14 * time.Hour, Days: [7]bool{true, true, true, true, true}}}
	p.Cells = []plant.Cell{{Cell: "C", Frontage: 1100 * mm}, {Cell: "D"}}
	p.Stations = []plant.Station{
		{Station: "S", Cell: "C", Place: &plant.Place{}, WalkLimit: 5 * units.Metre}, {Station: "S", Cell: "D", Place: &plant.Place{X: 3 * units.Metre}, WalkLimit: 5 * units.Metre},
	}
	p.Containers = []plant.Container{
		{Container: "tote", Length: 400 * mm, Width: 300 * mm, Height: 150 * mm, FlowSide: plant.LengthAlong, Nests: units.Int(1)},
		{Container: "small", Length: 200 * mm, Width: 150 * mm, Height: 150 * mm, FlowSide: plant.LengthAlong, Nests: units.Int(1)},
	}
	level := func(n int, height, long units.Length) plant.Level {
		return plant.Level{Level: n, Kind: plant.Supply, PickHeight: height * mm, Drop: 50 * mm, LaneLength: long * mm, UsableWidth: 1000 * mm, ClearHeight: 300 * mm}
	}
	p.RackTypes = []plant.RackType{
		{RackType: "flow", Width: 1100 * mm, Depth: 1300 * mm, Height: 1800 * mm, Cost: 500 * units.Unit, Levels: []plant.Level{level(1, 600, 1200), level(2, 1000, 1200)}},
		{RackType: "deep", Width: 1100 * mm, Depth: 2500 * mm, Height: 1800 * mm, Cost: 900 * units.Unit, Levels: []plant.Level{level(1, 600, 2400), level(2, 1000, 2400)}},
	}
	p.Racks = []plant.Rack{{Rack: "R", RackType: "flow", Cell: "C"}, {Rack: "N", RackType: "flow", Cell: "D", Place: &plant.Place{X: 3 * units.Metre}}}
	for _, part := range []plant.PartCode{"A", "B", "E", "F", "G"} {
		p.Parts = append(p.Parts, plant.Part{Part: part, Container: "tote", Pack: 10, PieceMass: 100 * units.Gram})
		p.Usage = append(p.Usage, plant.Usage{Part: part, Cell: "C", Station: "S", PerHour: units.Int(20)})
	}
	p.Usage[0].PerHour = units.Int(10)
	return p
}

func reliefsOf(t *testing.T, p *plant.Plant) (*planner.Plan, []planner.Relief) {
	t.Helper()
	plan := planned(t, p)
	list, err := planner.Reliefs(context.Background(), planner.Input{Plant: p}, plan, "C", planner.Options{})
	require.NoError(t, err)
	return plan, list
}

func planned(t *testing.T, p *plant.Plant) *planner.Plan {
	t.Helper()
	plan, err := planner.Run(context.Background(), planner.Input{Plant: p}, planner.DefaultSettings(p), planner.Options{})
	require.NoError(t, err)
	return plan
}

func unplacedIn(plan *planner.Plan, cell plant.CellCode) int {
	for _, b := range plan.Cells {
		if b.Cell == cell {
			return b.Unplaced
		}
	}
	return -1
}

// noIntervals is the tight cell with no other interval to choose, so that
// shorter intervals do not beat what is bought.
func noIntervals() *plant.Plant {
	p := tightCell()
	p.Settings.IntervalChoices = []time.Duration{time.Hour}
	return p
}

// A plan of the changed facts gives what a relief promises.
func TestReliefsOfATightCell(t *testing.T) {
	t.Parallel()
	plan, list := reliefsOf(t, tightCell())
	_, bought := reliefsOf(t, noIntervals())
	require.Positive(t, unplacedIn(plan, "C"), "the cell must be tight")
	byKind := map[planner.ReliefKind]planner.Relief{}
	for _, r := range append(bought, list...) {
		assert.Equal(t, unplacedIn(plan, "C"), r.UnplacedBefore)
		assert.Less(t, r.Unplaced, r.UnplacedBefore, r.Text)
		if _, seen := byKind[r.Kind]; !seen {
			byKind[r.Kind] = r
		}
	}
	changes := map[planner.ReliefKind]func(*plant.Plant, planner.Relief){
		planner.OtherRackType: func(p *plant.Plant, _ planner.Relief) { p.Racks[0].RackType = "deep" },
		planner.OneRackMore: func(p *plant.Plant, _ planner.Relief) {
			p.Cells[0].Frontage *= 2
			p.Racks = append(p.Racks, plant.Rack{Rack: "M", RackType: "flow", Cell: "C"})
		},
		planner.ShorterInterval: func(p *plant.Plant, r planner.Relief) {
			for i := range p.Usage {
				for _, k := range r.Loops {
					if p.Usage[i].Part == k.Part {
						p.Usage[i].Interval = 30 * time.Minute
					}
				}
			}
		},
	}
	for kind, change := range changes {
		r, found := byKind[kind]
		if !assert.True(t, found, "no relief of kind %s", kind) {
			continue
		}
		changed := tightCell()
		change(changed, r)
		if kind == planner.ShorterInterval {
			assert.LessOrEqual(t, r.Unplaced, unplacedIn(planned(t, changed), "C"), r.Text)
			continue
		}
		assert.Equal(t, unplacedIn(planned(t, changed), "C"), r.Unplaced, r.Text)
	}
	assert.Contains(t, byKind, planner.OtherRack, "the rack of the cell beside it is free")
	assert.Equal(t, 500*units.Unit, byKind[planner.OneRackMore].Price)
	assert.True(t, byKind[planner.OneRackMore].PriceKnown)
	assert.Contains(t, byKind[planner.OneRackMore].Note, "frontage is passed by 1100 mm")
}

// The best come first, none is beaten by another, and the same again gives the
// same.
func TestReliefsAreRanked(t *testing.T) {
	t.Parallel()
	_, list := reliefsOf(t, tightCell())
	require.NotEmpty(t, list)
	assert.LessOrEqual(t, len(list), 10)
	for i := 1; i < len(list); i++ {
		a, b := list[i-1], list[i]
		assert.LessOrEqual(t, a.Unplaced, b.Unplaced)
		if a.Unplaced == b.Unplaced && a.PriceKnown == b.PriceKnown {
			assert.LessOrEqual(t, a.Price, b.Price)
		}
	}
	for _, a := range list {
		for _, b := range list {
			worse := a.Unplaced >= b.Unplaced && a.Price >= b.Price && a.Yearly >= b.Yearly && a.Visits.Cmp(b.Visits) >= 0 && a.LanesFreed <= b.LanesFreed && a.Effort > b.Effort
			assert.False(t, a.PriceKnown == b.PriceKnown && worse, "%q is beaten by %q", a.Text, b.Text)
		}
	}
	_, again := reliefsOf(t, tightCell())
	assert.Equal(t, list, again)
}

// Where no single relief is enough, two together are shown, and a plan of the facts
// with both gives what they promise.
func TestReliefsInPairs(t *testing.T) {
	t.Parallel()
	crowded := func() *plant.Plant {
		p := noIntervals()
		p.Cells = p.Cells[:1]
		p.Stations, p.Racks, p.RackTypes = p.Stations[:1], p.Racks[:1], p.RackTypes[:1]
		for _, part := range []plant.PartCode{"H", "I", "J", "K", "L", "M", "N"} {
			p.Parts = append(p.Parts, plant.Part{Part: part, Container: "tote", Pack: 10, PieceMass: 100 * units.Gram})
			p.Usage = append(p.Usage, plant.Usage{Part: part, Cell: "C", Station: "S", PerHour: units.Int(20)})
		}
		return p
	}
	plan, list := reliefsOf(t, crowded())
	least, pairs := unplacedIn(plan, "C"), 0
	for _, r := range list {
		if r.Kind != planner.TwoTogether {
			least = min(least, r.Unplaced)
		}
	}
	require.Positive(t, least, "no single relief is enough")
	for _, r := range list {
		if r.Kind != planner.TwoTogether {
			continue
		}
		pairs++
		assert.Less(t, r.Unplaced, least, r.Text)
		if r.Price != 1000*units.Unit || len(r.Loops) > 0 {
			continue
		}
		p := crowded()
		p.Cells[0].Frontage *= 3
		p.Racks = append(p.Racks, plant.Rack{Rack: "X", RackType: "flow", Cell: "C"}, plant.Rack{Rack: "Y", RackType: "flow", Cell: "C"})
		assert.Equal(t, unplacedIn(planned(t, p), "C"), r.Unplaced, r.Text)
		assert.Contains(t, r.Note, "frontage is passed by 2200 mm")
	}
	assert.Positive(t, pairs)
	assert.LessOrEqual(t, pairs, 4)
	assert.Contains(t, texts(list), "Add a rack of type flow, 1100 mm wide. Add a rack of type flow, 1100 mm wide.")
}

func texts(list []planner.Relief) []string {
	var all []string
	for _, r := range list {
		all = append(all, r.Text)
	}
	return all
}

// Free lanes of a neighbouring rack with fixed guides count, those that lanes in
// use part not as neighbours.
func TestReliefsOnFixedGuides(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		widths []int64
		helps  bool
	}{
		{"three lanes wide enough", []int64{320, 320, 320}, true},
		{"too narrow", []int64{200, 200, 200, 200}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := noIntervals()
			var widths []units.Length
			for _, w := range c.widths {
				widths = append(widths, units.Length(w)*units.Millimetre)
			}
			p.Racks[1].FixedLanes = []plant.FixedLanes{{Level: 1, Widths: widths}, {Level: 2, Widths: widths}}
			_, list := reliefsOf(t, p)
			assert.Equal(t, c.helps, slices.Contains(texts(list), "Use the free lanes of rack N of cell D."), "%v", texts(list))
		})
	}
}

// Only free lanes of a level with fixed guides count: one beside a lane in use, two
// that it parts.
func TestReliefsBetweenLanesInUse(t *testing.T) {
	t.Parallel()
	const mm = units.Millimetre
	left := map[int]int{}
	for _, lanes := range []int{2, 3} {
		p := noIntervals()
		wide := []units.Length{320 * mm, 320 * mm, 320 * mm}
		p.Racks[1].FixedLanes = []plant.FixedLanes{{Level: 1, Widths: wide[:lanes]}, {Level: 2, Widths: []units.Length{100 * mm}}}
		p.Parts = append(p.Parts, plant.Part{Part: "Z", Container: "tote", Pack: 10, PieceMass: 100 * units.Gram})
		p.Usage = append(p.Usage, plant.Usage{Part: "Z", Cell: "D", Station: "S", PerHour: units.Int(5)})
		p.Pins = []plant.Pin{{Part: "Z", Rack: "N", Level: 1, Lane: 2}}
		_, list := reliefsOf(t, p)
		at := slices.IndexFunc(list, func(r planner.Relief) bool { return r.Text == "Use the free lanes of rack N of cell D." })
		require.GreaterOrEqual(t, at, 0, "%d lanes: %v", lanes, texts(list))
		left[lanes] = list[at].UnplacedBefore - list[at].Unplaced
	}
	assert.Equal(t, map[int]int{2: 2, 3: 4}, left, "two loops miss two containers each, one lane of them")
}

// A loop that only has fewer containers without a lane is not relieved.
func TestHollowReliefsAreLeftOut(t *testing.T) {
	t.Parallel()
	p := tightCell()
	p.Containers[0].Height = 500 * units.Millimetre
	p.Usage = p.Usage[:1]
	plan, list := reliefsOf(t, p)
	require.Positive(t, unplacedIn(plan, "C"))
	for _, r := range list {
		assert.NotEqual(t, planner.ShorterInterval, r.Kind, r.Text)
	}
}

// Where every container has its lane, lanes freed count.
func TestReliefsOfACellWithRoom(t *testing.T) {
	t.Parallel()
	p := tightCell()
	p.Usage = p.Usage[:3]
	plan, list := reliefsOf(t, p)
	require.Zero(t, unplacedIn(plan, "C"))
	require.NotEmpty(t, list)
	for _, r := range list {
		assert.Zero(t, r.Unplaced)
		assert.Positive(t, r.LanesFreed)
	}
}

func TestReliefsRefuse(t *testing.T) {
	t.Parallel()
	p := tightCell()
	plan := planned(t, p)
	_, err := planner.Reliefs(context.Background(), planner.Input{Plant: p}, plan, "X", planner.Options{})
	require.ErrorIs(t, err, planner.ErrUnknownCell)
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = planner.Reliefs(ended, planner.Input{Plant: p}, plan, "C", planner.Options{})
	require.ErrorIs(t, err, context.Canceled)
}

// TestReliefsByHand: the edits of a relief leave no more without a lane than the relief
// promises, and break no rule of the layout.
func TestReliefsByHand(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	hasty := planner.DefaultSettings(in.Plant)
	hasty.Placement.Steps, hasty.Placement.ProofSteps = 0, 0
	quick, err := planner.Run(t.Context(), in, hasty, planner.Options{})
	require.NoError(t, err)
	made := reliefsByHand(t, in, run(t, in)) + reliefsByHand(t, in, quick)
	assert.GreaterOrEqual(t, made, 8, "of reliefs by hand")
}

func reliefsByHand(t *testing.T, in planner.Input, plan *planner.Plan) int {
	desk := planner.NewDesk(in.Plant, plan)
	made := 0
	for _, cell := range plan.Cells {
		if cell.Unplaced == 0 {
			continue
		}
		list, err := planner.Reliefs(t.Context(), in, plan, cell.Cell, planner.Options{Threads: 2})
		require.NoError(t, err)
		for _, r := range list {
			if r.Edits == nil {
				continue
			}
			made++
			l := desk.After(r.Edits)
			_, after := l.Tally(cell.Cell)
			assert.LessOrEqual(t, after.Unplaced, r.Unplaced, r.Text)
			assert.False(t, slices.ContainsFunc(placement.Worse(desk.After(nil).Broken, l.Broken), planner.OfLayout), r.Text)
		}
	}
	return made
}
