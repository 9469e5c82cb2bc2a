package placement

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// todayOf writes a layout down as the current one.
func todayOf(l Layout) []plant.CurrentLane {
	var rows []plant.CurrentLane
	for _, lane := range l.Lanes {
		if !lane.Empty() {
			rows = append(rows, plant.CurrentLane{Rack: lane.Rack, Level: lane.Level, Lane: lane.Lane, Part: lane.Loop.Part, Station: lane.Loop.Station, Containers: lane.Containers})
		}
	}
	return rows
}

// elsewhere counts the containers that lie on a level today and of which the
// loop has fewer on its levels of today in a layout, though it does not need
// fewer.
func elsewhere(today []plant.CurrentLane, l Layout) int {
	type loop struct {
		part    plant.PartCode
		station plant.StationCode
	}
	home, was, now, stay := map[string]bool{}, map[loop]int{}, map[loop]int{}, map[loop]int{}
	for _, r := range today {
		was[loop{r.Part, r.Station}] += r.Containers
		home[fmt.Sprint(r.Part, "@", r.Station, "@", r.Rack, "@", r.Level)] = true
	}
	for _, lane := range l.Lanes {
		k := loop{lane.Loop.Part, lane.Loop.Station}
		now[k] += lane.Containers
		if home[fmt.Sprint(k.part, "@", k.station, "@", lane.Rack, "@", lane.Level)] {
			stay[k] += lane.Containers
		}
	}
	n := 0
	for k := range was {
		n += max(0, min(was[k], now[k])-stay[k])
	}
	return n
}

func wholeEffort(l Layout) float64 {
	sum := 0.0
	for _, b := range l.Bounds {
		sum += b.Effort
	}
	return sum
}

// carelessly is a layout that obeys every rule and takes more effort than it
// need: each loop lies on any level that has room.
func carelessly(in Input, seed uint64) Layout {
	groups := split(in)
	var results []result
	for i := range groups {
		c := newCell(in, DefaultSettings(), &groups[i], overall{})
		st := newState(c, nil)
		st.fill(c.byWidth(), whim(rand.New(rand.NewPCG(seed, 1))))
		results = append(results, c.report(st, newRelaxed(c), func() bool { return true }, taken(in.Racks)))
	}
	return merge(in, results, nil)
}

// withToday makes an input with a careless layout of today.
func withToday(d dice) (Input, Layout) {
	r := anyRecipe(d)
	r.fixed, r.apart, r.pins, r.today, r.racks, r.frontage = 0, 0, 0, 0, 1+d(4), 1
	in := made(d, r)
	today := carelessly(in, uint64(d(1000)))
	in.Index.Plant.Current = todayOf(today)
	return in, today
}

func TestNoMoreMovesThanAsked(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		in, today := withToday(d)
		if len(in.Index.Plant.Current) == 0 {
			return
		}
		limit := []int{0, 3, 10, 1000}[d(4)]
		l := placedAs(in, shortly, func(s *Settings) { s.Limited, s.MoveLimit = true, limit })
		if found := broken(in, l); len(found) > 0 {
			t.Fatalf("%v", found)
		}
		if n := elsewhere(in.Index.Plant.Current, l); n > limit {
			t.Fatalf("%d containers moved, %d are allowed", n, limit)
		}
		was, now := 0, 0
		for i := range l.Bounds {
			was, now = was+today.Bounds[i].Unplaced, now+l.Bounds[i].Unplaced
		}
		if now > was {
			t.Fatalf("%d containers without a lane, today %d", now, was)
		}
	})
}

// With nothing to move the layout stays; with more the effort falls, and the
// note says how much was moved.
func TestMoveLimit(t *testing.T) {
	t.Parallel()
	in := made(seeded(7), recipe{loops: 24, racks: 4, types: 2, stations: 3, levels: 3, width: 1500, containers: 6})
	in.Index.Plant.Current = todayOf(carelessly(in, 1))
	before := 0.0
	for _, limit := range []int{0, 4, 12, 40, 1000} {
		l := placedAs(in, shortly, func(s *Settings) { s.Limited, s.MoveLimit = true, limit })
		require.Empty(t, broken(in, l))
		moved := elsewhere(in.Index.Plant.Current, l)
		assert.LessOrEqual(t, moved, limit)
		note := found(t, l, CodeMoveLimit)
		assert.InDelta(t, moved, note.Measure.Value, 0, "limit %d", limit)
		if limit == 0 {
			assert.Zero(t, moved)
			assert.Contains(t, note.Summary, "The plan moves 0 containers of the 0 that may move")
		} else {
			assert.Less(t, wholeEffort(l), before, "limit %d", limit)
		}
		before = wholeEffort(l)
	}
	again := func(threads int) Layout {
		s := DefaultSettings()
		s.Limited, s.MoveLimit = true, 12
		return Place(context.Background(), in, s, 1, threads, nil)
	}
	assert.Equal(t, again(1), again(4))
}

func found(t *testing.T, l Layout, code string) finding.Finding {
	t.Helper()
	for _, f := range l.Findings {
		if f.Code == code {
			return f
		}
	}
	require.Fail(t, "no finding", code)
	return finding.Finding{}
}

// What has no place where it lies today moves, whatever the limit, and is told.
func TestMoveLimitOfWhatMustMove(t *testing.T) {
	t.Parallel()
	s := newSmall(3, 3)
	row := func(level, lane int, part plant.PartCode) plant.CurrentLane {
		return plant.CurrentLane{Rack: "R", Level: level, Lane: lane, Part: part, Station: "S", Containers: 3}
	}
	s.plant.Current = []plant.CurrentLane{row(2, 1, "A"), row(1, 1, "B")}
	s.plant.RackTypes[0].Levels[1].ClearHeight = 200 * mm
	in := s.input()
	l := placedAs(in, shortly, func(s *Settings) { s.Limited = true })
	require.Empty(t, broken(in, l))
	assert.Empty(t, l.Unplaced)
	assert.Equal(t, "The plan moves 0 containers of the 0 that may move; 3 more could not stay where they lie", found(t, l, CodeMoveLimit).Summary)
}

// A loop without a lane gets one when another may move for it.
func TestMovesForALane(t *testing.T) {
	t.Parallel()
	s := newSmall(3, 6)
	s.plant.RackTypes[0].Levels[0].ClearHeight = 400 * mm
	s.plant.Containers = append(s.plant.Containers, s.plant.Containers[0])
	s.plant.Containers[1].Container, s.plant.Containers[1].Height = "high", 300*mm
	s.plant.Parts[1].Container, s.loops[1].Container = "high", "high"
	s.plant.Racks[0].FixedLanes = nil
	s.plant.RackTypes[0].Levels[0].UsableWidth = 660 * mm
	s.plant.Current = []plant.CurrentLane{{Rack: "R", Level: 1, Lane: 1, Part: "A", Station: "S", Containers: 3}}
	s.plant.Cells[0].RackTypes = []plant.RackTypeCode{"none"}
	in := s.input()
	for limit, unplaced := range map[int]int{2: 1, 3: 0} {
		l := placedAs(in, shortly, func(s *Settings) { s.Limited, s.MoveLimit = true, limit })
		require.Empty(t, broken(in, l))
		assert.Len(t, l.Unplaced, unplaced, "limit %d", limit)
	}
}

func TestAllot(t *testing.T) {
	t.Parallel()
	cells := [][]gain{
		{{effort: 10, moved: 5}, {effort: 50, moved: 1}},
		{{effort: 9, moved: 3}, {effort: 1, moved: 10}},
		{{placed: 2, moved: 2}, {effort: 100, moved: 50}},
	}
	changes, moved := allot(cells, 11)
	assert.Equal(t, []int{2, 1, 1}, changes)
	assert.Equal(t, []int64{6, 3, 2}, moved)
	changes, _ = allot(cells, 4)
	assert.Equal(t, []int{0, 0, 1}, changes)
}

// Kept loops stay on their level, whatever would be better; the others go where
// they are best.
func TestKeep(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name string
		keep Keep
		stay string
	}{
		{"nothing", Keep{}, ""},
		{"the cell", Keep{Cells: []string{"C"}}, "AB"},
		{"the rack", Keep{Racks: []string{"R"}}, "AB"},
		{"the level", Keep{Levels: []string{"R/2"}}, "AB"},
		{"another level", Keep{Levels: []string{"R/1"}}, ""},
		{"a loop", Keep{Loops: []string{"B@C/S"}}, "B"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSmall(3, 3)
			for i, part := range []plant.PartCode{"A", "B"} {
				s.plant.Current = append(s.plant.Current, plant.CurrentLane{Rack: "R", Level: 2, Lane: i + 1, Part: part, Station: "S", Containers: 3})
			}
			in := s.input()
			l := placedAs(in, shortly, func(s *Settings) { s.Keep = test.keep })
			require.Empty(t, broken(in, l))
			stay := ""
			for _, lane := range l.Lanes {
				if lane.Level == 2 {
					stay += string(lane.Loop.Part)
				}
			}
			assert.Equal(t, test.stay, stay)
		})
	}
}

// What is kept but does not fit any more is placed freely and told, with what is
// in the way.
func TestKeepThatDoesNotFit(t *testing.T) {
	t.Parallel()
	row := func(level int, part plant.PartCode, n int) plant.CurrentLane {
		return plant.CurrentLane{Rack: "R", Level: level, Lane: 1, Part: part, Station: "S", Containers: n}
	}
	tests := []struct {
		name   string
		sizes  []int
		today  []plant.CurrentLane
		change func(*small)
		detail string
	}{
		{"it grew", []int{12}, []plant.CurrentLane{row(2, "A", 3)}, nil, "Its 12 containers take more width than the level has"},
		{"both grew", []int{6, 6}, []plant.CurrentLane{row(2, "A", 3), row(2, "B", 3)}, nil, "Its 6 containers take 650 mm with guides, and 340 mm are left"},
		{"too tall now", []int{3}, []plant.CurrentLane{row(2, "A", 3)}, func(s *small) { s.plant.RackTypes[0].Levels[1].ClearHeight = 209 * mm }, "209 mm"},
		{"on two levels", []int{6}, []plant.CurrentLane{row(1, "A", 3), row(2, "A", 3)}, nil, "Only a loop that lies on one level can be kept there"},
		{"too heavy beside the others", []int{3, 3}, []plant.CurrentLane{row(2, "A", 3), row(2, "B", 3)}, func(s *small) { s.plant.RackTypes[0].Levels[1].MassLimit = 5 * kg }, "Its 3 containers weigh 3 kg, and the level carries only 2 kg more"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSmall(test.sizes...)
			s.plant.Current = test.today
			if test.change != nil {
				test.change(s)
			}
			in := s.input()
			l := placedAs(in, shortly, func(s *Settings) { s.Keep.Cells = []string{"C"} })
			require.Empty(t, broken(in, l))
			f := found(t, l, CodeKeepNoFit)
			assert.Contains(t, f.Detail, test.detail)
			assert.Contains(t, f.Detail, "placed freely")
		})
	}
}

func TestKeepOfUnknownNames(t *testing.T) {
	t.Parallel()
	s := newSmall(3)
	s.plant.Current = []plant.CurrentLane{{Rack: "R", Level: 2, Lane: 1, Part: "A", Station: "S", Containers: 3}}
	l := placedAs(s.input(), func(s *Settings) {
		s.Keep = Keep{Cells: []string{"C", "X"}, Racks: []string{"R", "Q"}, Levels: []string{"R/2", "R/1"}, Loops: []string{"A@C/S", "A@C/T"}}
	})
	var told []string
	for _, f := range l.Findings {
		if f.Code == CodeKeepUnknown {
			told = append(told, strings.TrimSuffix(f.Summary, ", where nothing lies today"))
		}
	}
	assert.ElementsMatch(t, []string{"keep_cells names X", "keep_racks names Q", "keep_levels names R/1", "keep_loops names A@C/T"}, told)
}
