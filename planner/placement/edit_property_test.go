package placement

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
)

// laidOut is a made-up cell with its layout; a container has a gross limit.
func laidOut(d dice) (Input, Layout) {
	in := made(d, anyRecipe(d))
	p := *in.Index.Plant
	p.Containers = slices.Clone(p.Containers)
	p.Containers[1].GrossLimit = 6 * kg
	p.Usage = slices.Clone(p.Usage)
	x := plant.NewIndex(&p)
	in.Index = x
	return in, hasty(in, 1)
}

// anyEdit is an edit of a cell; some name what is not there.
func anyEdit(d dice, in Input, l Layout) Edit {
	loop := func() demand.Key { return in.Loops[d(len(in.Loops))].Key }
	spot := func() Spot {
		if len(l.Racks) == 0 {
			return Spot{Rack: "none", Level: 1}
		}
		r := l.Racks[d(len(l.Racks))]
		return Spot{r.Rack, d.from(1, len(r.Levels)), d(6)}
	}
	switch d(10) {
	case 0, 1:
		return SwapLoops{loop(), loop()}
	case 2:
		return PinLoop{loop(), spot()}
	case 3:
		return UnpinLoop{loop()}
	case 4:
		return CloseLane{spot()}
	case 9:
		return OpenLane{spot()}
	case 5:
		return ChangeContainer{loop(), in.Index.Plant.Containers[d(6)].Container, int64(d(3) * d(40))}
	case 6:
		return ChangeInterval{loop(), time.Duration(d.from(1, 12)) * 10 * time.Minute}
	default:
		m := MoveLoop{Loop: loop(), To: spot(), Containers: d(3) * d(5)}
		m.Side = []plant.FlowSide{"", "", plant.LengthAlong, plant.WidthAlong}[d(4)]
		if d.yes(15) {
			m.From = spot()
		}
		return m
	}
}

// TestEditsReportEveryRule: what edits say is broken is what somebody finds who
// knows the rules and not the program; the lanes are whole; racks that no edit
// touched are the same to the last byte, and so is the input.
func TestEditsReportEveryRule(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		in, l := laidOut(d)
		before := printed(l)
		for range 4 {
			var edits []Edit
			for range d.from(1, 5) {
				edits = append(edits, anyEdit(d, in, l))
			}
			short := Apply(in, DefaultSettings(), l, edits[1:])
			e := Apply(in, DefaultSettings(), l, edits)
			require.Equal(t, before, printed(l), "the layout was changed in place")
			require.Equal(t, wrongs(in, e, l), reported(e), "%+v", edits)
			wholeLanes(t, in, e, l)
			require.Equal(t, short, Apply(in, DefaultSettings(), l, edits[1:]), "undone by leaving an edit out")
		}
	})
}

// wholeLanes: lanes count from 1 and stand side by side; every container has a lane
// or is listed without one; loops that no edit names stay on their levels.
func wholeLanes(t *rapid.T, in Input, e Edited, l Layout) {
	loops, held := map[demand.Key]sizing.Loop{}, map[demand.Key]int{}
	for _, s := range slices.Concat(in.Loops, e.Loops) {
		loops[s.Key] = s
	}
	var last Lane
	for _, lane := range e.On(l).Lanes {
		if lane.Rack != last.Rack || lane.Level != last.Level {
			last = Lane{Rack: lane.Rack, Level: lane.Level}
			require.Zero(t, lane.Offset)
		} else {
			require.Equal(t, last.Offset+last.Width+in.Plant.GuideWidth, lane.Offset, "%+v", lane)
		}
		require.Equal(t, last.Lane+1, lane.Lane)
		require.Positive(t, lane.Width)
		if last = lane; !lane.Empty() {
			require.True(t, lane.Containers >= 1 && lane.Containers <= lane.Capacity, "%+v", lane)
			held[lane.Loop] += lane.Containers
		}
	}
	for _, u := range e.On(l).Unplaced {
		require.NotEmpty(t, u.Detail)
		held[u.Loop] += u.Containers
	}
	for k, s := range loops {
		require.Equal(t, s.Containers, held[k], "%v", k)
	}
	for _, lane := range l.Lanes {
		if !slices.Contains(e.Racks, lane.Rack) {
			require.Contains(t, e.On(l).Lanes, lane)
		}
	}
}

// TestEditsThatChangeNothing: no edit, a swap and the same again, and a move to the
// place where the loop lies leave every lane as it is.
func TestEditsThatChangeNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		in, l := laidOut(d)
		a, b := in.Loops[d(len(in.Loops))].Key, in.Loops[d(len(in.Loops))].Key
		edits := [][]Edit{nil, {SwapLoops{a, b}, SwapLoops{a, b}}, {SwapLoops{a, b}, SwapLoops{b, a}}}
		levels := map[Spot]Lane{}
		for _, lane := range slices.Backward(l.Lanes) {
			if lane.Loop == a {
				levels[Spot{Rack: lane.Rack, Level: lane.Level}] = lane
			}
		}
		whole := !slices.ContainsFunc(l.Unplaced, func(u Unplaced) bool { return u.Loop == a })
		for at, lane := range levels {
			if len(levels) == 1 && whole {
				edits = append(edits,
					[]Edit{MoveLoop{Loop: a, To: at}},
					[]Edit{MoveLoop{Loop: a, To: Spot{at.Rack, at.Level, lane.Lane}}},
					[]Edit{MoveLoop{Loop: a, To: at, Side: lane.Side}, PinLoop{Loop: a}})
			}
		}
		for _, list := range edits {
			e := Apply(in, DefaultSettings(), l, list)
			require.Equal(t, append([]Lane{}, l.Lanes...), append([]Lane{}, e.On(l).Lanes...), "%+v", list)
			require.Empty(t, e.Racks)
			require.Empty(t, e.Changes)
			require.Equal(t, l.Unplaced, e.On(l).Unplaced)
			for _, c := range e.Cells {
				require.Equal(t, c.Before, c.After)
			}
		}
	})
}

// TestTalliesAgreeWithTheSearch: what is counted of a cell before any edit is what
// the search says of it.
func TestTalliesAgreeWithTheSearch(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		in, l := laidOut(seeded(seed))
		e := Apply(in, DefaultSettings(), l, []Edit{UnpinLoop{in.Loops[0].Key}})
		require.Len(t, e.Cells, 1)
		c := e.Cells[0].Before
		require.InDelta(t, l.Bounds[0].Effort, c.Effort, 1e-9*(1+c.Effort))
		require.InDelta(t, l.Bounds[0].AddedCost, c.AddedCost, 1e-6)
		require.Equal(t, l.Bounds[0].Unplaced, c.Unplaced)
		moved := 0
		for _, m := range Moves(in, l) {
			moved += m.Containers
		}
		require.Equal(t, moved, c.Moved)
		lanes := 0
		for _, lane := range l.Lanes {
			if !lane.Empty() {
				lanes++
			}
		}
		require.Equal(t, lanes, c.Used)
		require.Empty(t, e.Broken, "the search breaks no rule")
	}
}
