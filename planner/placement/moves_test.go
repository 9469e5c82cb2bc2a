package placement

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func move(m Move) string {
	spot := func(s *Spot) string {
		if s == nil {
			return "-"
		}
		return fmt.Sprintf("%s.%d.%d", s.Rack, s.Level, s.Lane)
	}
	return fmt.Sprintf("%s %s>%s %d", m.Part, spot(m.From), spot(m.To), m.Containers)
}

// movesOf are the moves to a layout, each in a word.
func movesOf(in Input, l Layout) []string {
	var list []string
	for _, m := range Moves(in, l) {
		list = append(list, move(m))
	}
	return list
}

func TestMoves(t *testing.T) {
	t.Parallel()
	lane := func(level, lane int, part plant.PartCode, containers int) plant.CurrentLane {
		return plant.CurrentLane{Rack: "R", Level: level, Lane: lane, Part: part, Containers: containers}
	}
	// Level 1 at 600 mm is nearest to 750 mm for hands at 75 mm above it: both
	// loops lie there when there is room.
	tests := []struct {
		name   string
		today  []plant.CurrentLane
		expect []string
	}{
		{"no layout today", nil, nil},
		{"as today", []plant.CurrentLane{lane(1, 1, "A", 3), lane(1, 2, "B", 3)}, nil},
		{"another lane of the same level", []plant.CurrentLane{lane(1, 3, "A", 3), lane(1, 1, "B", 3)}, nil},
		{"one moves down", []plant.CurrentLane{lane(2, 2, "A", 2), lane(1, 2, "B", 3)}, []string{"A R.2.2>R.1.1 2"}},
		{"one is new", []plant.CurrentLane{lane(1, 2, "B", 3)}, []string{"A ->R.1.1 3"}},
		{"one is gone", []plant.CurrentLane{lane(1, 1, "A", 3), lane(1, 2, "B", 3), lane(2, 1, "Z", 4)}, []string{"Z R.2.1>- 4"}},
		{"two places become one", []plant.CurrentLane{lane(1, 1, "A", 2), lane(2, 1, "A", 1), lane(1, 2, "B", 3)}, []string{"A R.2.1>- 1"}},
		{"unknown containers", []plant.CurrentLane{lane(1, 1, "A", 3), lane(1, 2, "B", 3), lane(2, 2, "B", 0)}, []string{"B R.2.2>- 1"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSmall(3, 3)
			s.plant.Current = test.today
			in := s.input()
			l := placed(in, 1)
			require.Empty(t, broken(in, l))
			assert.Equal(t, test.expect, movesOf(in, l))
		})
	}
}

// Rows that name no station belong to the loops of their part lane by lane, so
// that least is moved; never more containers move than lie there today.
func TestMovesOfSharedParts(t *testing.T) {
	t.Parallel()
	row := func(level, lane, containers int) plant.CurrentLane {
		return plant.CurrentLane{Rack: "R", Level: level, Lane: lane, Part: "A", Containers: containers}
	}
	tests := []struct {
		name   string
		today  []plant.CurrentLane
		expect []string
	}{
		{"both as planned", []plant.CurrentLane{row(1, 1, 3), row(2, 1, 3)}, nil},
		{"the other way round", []plant.CurrentLane{row(2, 2, 3), row(1, 3, 3)}, nil},
		{"both on one level", []plant.CurrentLane{row(1, 1, 3), row(1, 2, 2)}, []string{"A R.1.2>R.2.3 2"}},
		{"four today", []plant.CurrentLane{row(1, 1, 3), {Rack: "R", Level: 1, Lane: 2, Part: "B", Containers: 4}}, []string{"B R.1.2>R.2.1 4", "A ->R.2.3 3"}},
		{"a level that is not there", []plant.CurrentLane{row(1, 1, 3), row(2, 1, 3), row(3, 1, 3), row(7, 1, 3)}, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSmall(3, 6)
			s.plant.Stations = append(s.plant.Stations, plant.Station{Station: "T", Cell: "C", WalkLimit: 5 * units.Metre})
			twin := s.loops[0]
			twin.Station = "T"
			s.loops = append(s.loops, twin)
			s.plant.Pins = []plant.Pin{{Part: "A", Station: "S", Rack: "R", Level: 1}, {Part: "A", Station: "T", Rack: "R", Level: 2}, {Part: "B", Rack: "R", Level: 2}}
			s.plant.Current = append(test.today, plant.CurrentLane{Rack: "R", Level: 2, Lane: 3, Part: "B", Containers: 6})
			if test.name == "four today" {
				s.plant.Current = test.today
			}
			in := s.input()
			l := placed(in, 1)
			require.Empty(t, broken(in, l))
			assert.Equal(t, test.expect, movesOf(in, l))
			warned := 0
			for _, f := range l.Findings {
				if f.Code == CodeCurrentLevel {
					warned++
				}
			}
			assert.Equal(t, max(0, len(test.today)-2), warned)
		})
	}
}

// A type without a cost is as dear per millimetre as the dearest with one.
func TestRackTypesWithoutCost(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		cost   units.Money
		expect float64
		warned bool
	}{{0, 1100, false}, {500 * units.Unit, 500, true}, {777 * units.Unit, 777, true}} {
		s := newSmall(9, 9, 9)
		s.plant.Cells[0].Frontage = 0
		free := s.plant.RackTypes[0]
		s.plant.RackTypes[0].Cost = test.cost
		free.RackType, free.Width = "free", 1200*mm
		s.plant.RackTypes = append(s.plant.RackTypes, free)
		in := s.input()
		l := placed(in, 1)
		require.Empty(t, broken(in, l))
		assert.InDelta(t, test.expect, l.Bounds[0].AddedCost, 1e-6)
		assert.Equal(t, test.warned, strings.Contains(fmt.Sprint(l.Findings), CodeNoCost))
	}
	p := newSmall().plant
	p.RackTypes = append(p.RackTypes, plant.RackType{RackType: "free", Width: 1000 * mm})
	p.RackTypes[0].Cost = 500 * units.Unit
	assert.Equal(t, 455*units.Unit, costOf(plant.NewIndex(p), &p.RackTypes[1])) // 454.54... for 1000 mm
}

// Two racks that cost the same effort: everything stays where it lies today.
func TestStaysWhereItIs(t *testing.T) {
	t.Parallel()
	s := newSmall(3, 3, 3, 3, 3)
	s.plant.Racks = append(s.plant.Racks, plant.Rack{Rack: "Q", RackType: "flow", Cell: "C"}, plant.Rack{Rack: "U", RackType: "flow", Cell: "C"})
	for i, part := range []plant.PartCode{"A", "B", "C", "D", "E"} {
		s.plant.Current = append(s.plant.Current, plant.CurrentLane{Rack: []plant.RackCode{"U", "Q", "R"}[i%3], Level: 1, Lane: 1 + i/3, Part: part, Containers: 3})
	}
	for i := range s.loops {
		s.loops[i].Rate = units.Int(int64(i + 1))
	}
	in := s.input()
	assert.Empty(t, Moves(in, placed(in, 1)))
}

func TestBalanceAndEmptyLanes(t *testing.T) {
	t.Parallel()
	s := newSmall(3, 6)
	l := placed(s.input(), 1)
	assert.Equal(t, []Balance{{Cell: "C", Width: 320 * mm, Needed: 3, Placed: 3, Room: 3}}, l.Balance)
	var empty []string
	for _, x := range l.Lanes {
		if x.Kind == plant.Supply && x.Empty() {
			empty = append(empty, fmt.Sprint(x.Level, ".", x.Lane, " ", x.Offset, " ", x.Width))
		}
	}
	assert.Len(t, empty, 3)
	assert.Contains(t, empty, "2.3 660 mm 320 mm")
}

// A loop too wide for every level is shared out, and said so.
func TestSplitIsReported(t *testing.T) {
	t.Parallel()
	s := newSmall(12, 3)
	in := s.input()
	l := placed(in, 1)
	require.Empty(t, broken(in, l))
	assert.Empty(t, l.Unplaced)
	require.Equal(t, 1, splitsOf(l))
}

// The cheapest racks are added, named after the cell and none that stands.
func TestRacksAreAdded(t *testing.T) {
	t.Parallel()
	s := newSmall(9, 9, 9, 9)
	s.plant.Cells[0].Frontage = 2200 * mm
	s.plant.Racks[0].Rack = "c-n1"
	in := s.input()
	l := placed(in, 1)
	require.Empty(t, broken(in, l))
	require.Len(t, l.Racks, 2)
	assert.Equal(t, plant.RackCode("C-N2"), l.Racks[0].Rack)
	assert.True(t, l.Racks[0].Proposed)
	b := l.Bounds[0]
	assert.Equal(t, []float64{1100, 1100}, []float64{b.AddedCost, b.AddedCostBound}) // no costs: frontage in mm
	assert.Contains(t, fmt.Sprint(l.Findings), CodeRacksAdded)
}

func TestRollerPitch(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		pitch units.Length
		noted bool
	}{{133 * mm, false}, {134 * mm, true}, {0, false}} {
		s := newSmall(3)
		s.plant.Settings.RollerPitch = test.pitch
		l := placed(s.input(), 1)
		found := false
		for _, f := range l.Findings {
			found = found || f.Code == CodeRollerPitch
		}
		assert.Equal(t, test.noted, found, test.pitch)
	}
}

func TestPinnedLaneHasItsNumber(t *testing.T) {
	t.Parallel()
	s := newSmall(3, 3)
	s.plant.Pins = []plant.Pin{{Part: "A", Rack: "R", Level: 2, Lane: 3}}
	in := s.input()
	l := placed(in, 1)
	require.Empty(t, broken(in, l))
	require.Empty(t, l.Unplaced)
	for _, x := range l.Lanes {
		if x.Loop.Part == "A" {
			assert.Equal(t, []int{2, 3}, []int{x.Level, x.Lane})
		}
	}
}
