package placement

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

func someEdits(d dice, in Input, l Layout, most int) []Edit {
	var edits []Edit
	for range d.from(0, most) {
		edits = append(edits, anyEdit(d, in, l))
	}
	return edits
}

// twoSides reports whether a loop of the layout lies on both of its sides: which of
// its lanes is the first, and so its class, is then a matter of the racks' order.
func twoSides(l Layout) bool {
	side := map[demand.Key]plant.FlowSide{}
	return slices.ContainsFunc(l.Lanes, func(lane Lane) bool {
		was, known := side[lane.Loop]
		side[lane.Loop] = lane.Side
		return known && !lane.Empty() && was != lane.Side
	})
}

// TestBalanceAgreesWithTheSearch: the lanes by width class before any edit are those
// that the search counts of its layout.
func TestBalanceAgreesWithTheSearch(t *testing.T) {
	t.Parallel()
	for seed := range uint64(200) {
		in, l := laidOut(seeded(seed))
		if twoSides(l) {
			continue
		}
		e := Apply(in, DefaultSettings(), l, []Edit{UnpinLoop{demand.Key{Part: "none", Cell: in.Loops[0].Cell}}})
		want := slices.Clone(l.Balance)
		require.Len(t, e.Balance, len(want))
		for i, b := range e.Balance {
			require.GreaterOrEqual(t, b.Needed, b.Placed)
			if len(l.Unplaced) > 0 && b.Needed > b.Placed {
				// How many lanes a loop without one would need is an estimate: the search
				// knows which levels and types it rules out.
				want[i].Needed = b.Needed
			}
		}
		require.Equal(t, want, e.Balance, "seed %d", seed)
	}
}

// TestFurtherIsTheSameLayout: edits made on others give the layout that all of them
// give at once, and what is said to change is the difference.
func TestFurtherIsTheSameLayout(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		in, l := laidOut(d)
		done, more := someEdits(d, in, l, 4), append(someEdits(d, in, l, 3), UnpinLoop{in.Loops[0].Key})
		first := Apply(in, DefaultSettings(), l, done)
		further := Further(in, DefaultSettings(), l, done, more)
		whole := Apply(in, DefaultSettings(), l, slices.Concat(done, more))
		require.Equal(t, whole.On(l).Lanes, further.On(first.On(l)).Lanes)
		require.Equal(t, whole.Unplaced, further.Unplaced)
		require.Equal(t, whole.Broken, further.Broken)
		require.Equal(t, whole.Balance, further.Balance)
		require.Equal(t, whole.Loops, further.Loops)
		require.Equal(t, whole.Cells[0].After, further.Cells[0].After)
		if len(first.Cells) > 0 {
			require.Equal(t, first.Cells[0].After, further.Cells[0].Before)
		}
	})
}

// TestFitsAreWhatMovesDo: a level fits where a move there breaks nothing that was not
// broken before, and what it costs is what the move costs: of all of a loop, of its
// containers on one level, or of a few.
func TestFitsAreWhatMovesDo(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		in, l := laidOut(d)
		done := someEdits(d, in, l, 3)
		k := in.Loops[d(len(in.Loops))].Key
		move := MoveLoop{Loop: k, Containers: d(3)}
		for _, lane := range l.Lanes {
			if lane.Loop == k && d(2) == 0 {
				move.From = Spot{Rack: lane.Rack, Level: lane.Level}
			}
		}
		fits, ok := Fits(in, DefaultSettings(), l, done, move)
		require.True(t, ok)
		now := Further(in, DefaultSettings(), l, done, []Edit{UnpinLoop{Loop: in.Loops[0].Key}})
		if len(done) > 0 {
			now = Apply(in, DefaultSettings(), l, done)
		}
		levels := 0
		for i := range l.Racks {
			for _, v := range l.Racks[i].Levels {
				if v.Kind == "supply" && l.Racks[i].Cell == k.Cell {
					levels++
				}
			}
		}
		require.Len(t, fits, levels)
		for _, f := range fits {
			move.To = Spot{Rack: f.At.Rack, Level: f.At.Level}
			e := Further(in, DefaultSettings(), l, done, []Edit{move})
			if len(done) > 0 {
				require.Equal(t, Worse(now.Broken, e.Broken), f.Broken, "%+v", f.At)
			}
			var there []Lane
			for _, lane := range e.Lanes {
				if lane.Loop == k && lane.Rack == f.At.Rack && lane.Level == f.At.Level {
					there = append(there, lane)
				}
			}
			if slices.Contains(e.Racks, f.At.Rack) { // of others nothing is told
				require.Len(t, there, f.Lanes, "%+v", f.At)
				for _, lane := range there {
					require.Equal(t, lane.Side, f.Side)
				}
				if len(there) > 0 {
					require.Equal(t, there[0].Lane, f.At.Lane)
				}
			}
			effort := 0.0
			for _, c := range e.Cells {
				if c.Cell == k.Cell {
					effort = c.After.Effort - c.Before.Effort
				}
			}
			if len(f.Broken) == 0 {
				require.InDelta(t, effort, f.Effort, 1e-6)
			}
			if f.Here {
				require.Empty(t, e.Racks)
				require.Empty(t, f.Broken)
			}
		}
	})
	in, l := laidOut(seeded(1))
	_, ok := Fits(in, DefaultSettings(), l, nil, MoveLoop{Loop: in.Loops[0].Key})
	require.True(t, ok)
	_, ok = Fits(in, DefaultSettings(), l, nil, MoveLoop{Loop: demand.Key{Part: "none"}})
	require.False(t, ok)
}

// TestDisjointEditsCommute: lists of edits that touch nothing in common give the same
// in both orders, and each what it gives alone.
func TestDisjointEditsCommute(t *testing.T) {
	t.Parallel()
	disjoint := 0
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		in, l := laidOut(d)
		done := someEdits(d, in, l, 2)
		a, b := someEdits(d, in, l, 2), someEdits(d, in, l, 2)
		for _, x := range Touches(in, DefaultSettings(), l, done, a) {
			for _, y := range Touches(in, DefaultSettings(), l, done, b) {
				if _, meet := x.Meets(y); meet {
					return
				}
			}
		}
		if len(a) == 0 || len(b) == 0 {
			return
		}
		disjoint++
		ab := Apply(in, DefaultSettings(), l, slices.Concat(done, a, b))
		ba := Apply(in, DefaultSettings(), l, slices.Concat(done, b, a))
		require.Equal(t, ab, ba, "%+v\n%+v", a, b)
		// Nothing is lost: what each list alone does to its racks is there.
		for _, alone := range []Edited{Further(in, DefaultSettings(), l, done, a), Further(in, DefaultSettings(), l, done, b)} {
			for _, c := range alone.Changes {
				if c.Moved == 0 {
					continue
				}
				require.True(t, slices.ContainsFunc(ab.On(l).Lanes, func(x Lane) bool {
					return x.Loop == c.Loop && x.Rack == c.After[0].Rack && x.Level == c.After[0].Level
				}) || len(c.After) == 0, "%+v", c)
			}
		}
	})
	require.Positive(t, disjoint, "some lists must be disjoint")
}
