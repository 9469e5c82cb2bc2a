package placement

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestPlacesAreTrue: a place that is called possible is, by somebody who knows the
// rules only; its effort is what the cell then has; and no level that one move
// reaches without breaking a rule is better than the best one named.
func TestPlacesAreTrue(t *testing.T) {
	t.Parallel()
	possible, shifted, blocked := 0, 0, 0
	for seed := range uint64(80) {
		in, l := laidOut(seeded(seed))
		for _, k := range []int{0, len(in.Loops) / 2} {
			key := in.Loops[k].Key
			w, ok := Why(in, DefaultSettings(), l, key)
			require.True(t, ok)
			require.LessOrEqual(t, len(w.Places), mostPlaces)
			best := math.Inf(1)
			for _, p := range w.Places {
				text := p.String()
				require.True(t, strings.HasSuffix(text, ".") && !strings.Contains(text, "%!"), text)
				if !p.Possible {
					blocked++
					continue
				}
				possible++
				if len(p.InTheWay) > 0 {
					shifted++
				}
				e := Apply(in, DefaultSettings(), l, p.Edits)
				require.Empty(t, wrongs(in, e, l), "seed %d: %s", seed, text)
				on := lanesOn(e.On(l), p.At)
				require.Equal(t, p.Lanes, on[key.Part], "seed %d: %s", seed, text)
				require.InDelta(t, p.Effort, e.Cells[0].After.Effort-e.Cells[0].Before.Effort, 1e-9)
				best = min(best, p.Effort)
			}
			require.LessOrEqual(t, best, bestMove(in, l, w)+1e-9, "seed %d: %v", seed, key)
		}
	}
	assert.Greater(t, possible, 60)
	assert.Greater(t, shifted, 5)
	assert.Greater(t, blocked, 5)
}

// lanesOn counts the lanes of each part on a level.
func lanesOn(l Layout, at Spot) map[plant.PartCode]int {
	n := map[plant.PartCode]int{}
	for _, lane := range l.Lanes {
		if lane.Rack == at.Rack && lane.Level == at.Level && !lane.Empty() {
			n[lane.Loop.Part]++
		}
	}
	return n
}

// bestMove is the least effort that one move of the whole loop to another level
// gives without breaking a rule; +Inf without any, or where it has no lane.
func bestMove(in Input, l Layout, w Whys) float64 {
	best := math.Inf(1)
	for _, r := range l.Racks {
		for _, v := range r.Levels {
			at := Spot{Rack: r.Rack, Level: v.Level.Level}
			here := slices.ContainsFunc(w.Here, func(o Lane) bool { return o.Rack == at.Rack && o.Level == at.Level })
			if len(w.Here) == 0 || here {
				continue
			}
			for _, side := range []plant.FlowSide{plant.LengthAlong, plant.WidthAlong} {
				e := Apply(in, DefaultSettings(), l, []Edit{UnpinLoop{w.Loop}, MoveLoop{Loop: w.Loop, To: at, Side: side}})
				if len(e.Broken) == 0 {
					best = min(best, e.Cells[0].After.Effort-e.Cells[0].Before.Effort)
				}
			}
		}
	}
	return best
}

// TestChangesAreTrue: what is said to give a loop its lanes does, where it can be
// said by edits alone.
func TestChangesAreTrue(t *testing.T) {
	t.Parallel()
	kinds := map[ChangeKind]int{}
	for seed := range uint64(80) {
		in, l := laidOut(seeded(seed))
		for _, u := range l.Unplaced[:min(2, len(l.Unplaced))] {
			w, ok := Why(in, DefaultSettings(), l, u.Loop)
			require.True(t, ok)
			require.Equal(t, u, w.Missing)
			for _, c := range w.Changes {
				kinds[c.Kind]++
				text := c.String()
				require.True(t, strings.HasSuffix(text, ".") && !strings.Contains(text, "%!"), text)
				require.NotEmpty(t, c.At, "seed %d: %s", seed, text)
				if c.And != "" || c.Left > 0 || !slices.Contains([]ChangeKind{ByMoves, ByUnpinning, ByInterval, ByContainer}, c.Kind) {
					continue
				}
				e := Apply(in, DefaultSettings(), l, c.Edits)
				require.Empty(t, wrongs(in, e, l), "seed %d: %s", seed, text)
				require.Less(t, len(e.Unplaced), len(l.Unplaced), "seed %d: %s", seed, text)
			}
		}
	}
	for _, k := range []ChangeKind{ByUnpinning, ByInterval, ByContainer, ByClearHeight, ByRack} {
		assert.Positive(t, kinds[k], "%s in %v", k, kinds)
	}
}

// TestSmallestChange works through one loop by hand: level 1 is full of A, B is
// taller than every level by 60 mm.
func TestSmallestChange(t *testing.T) {
	t.Parallel()
	s := newSmall(9, 3)
	s.plant.Containers = append(s.plant.Containers, plant.Container{Container: "crate", Length: 400 * mm, Width: 300 * mm, Height: 300 * mm, FlowSide: plant.LengthAlong, Nests: units.Int(1)})
	s.plant.Parts[1].Container, s.loops[1].Container = "crate", "crate"
	s.plant.Cells[0].Frontage = 0
	s.plant.RackTypes[0].Cost = 900 * units.Unit
	s.plant.Settings.IntervalChoices, s.loops[1].Rate = nil, units.R(1, 10)
	in := s.input()
	l := placed(in, 1)
	require.Equal(t, CodeTooTall, l.Unplaced[0].Reason)
	w, _ := Why(in, DefaultSettings(), l, keyOf("B"))
	var kinds []ChangeKind
	for _, c := range w.Changes {
		kinds = append(kinds, c.Kind)
	}
	assert.Equal(t, []ChangeKind{ByContainer, ByClearHeight}, kinds)
	assert.Equal(t, plant.ContainerCode("tote"), w.Changes[0].Container)
	assert.Equal(t, int64(5), w.Changes[0].Pack, "half the volume of 10 pieces")
	assert.Equal(t, 60*mm, w.Changes[1].By)
	assert.Equal(t, 3, w.Changes[1].Containers)
	_, ok := Why(in, DefaultSettings(), l, keyOf("Z"))
	assert.False(t, ok)
}

// Lanes too short by 10 mm: as much longer is all it takes.
func TestLongerLanes(t *testing.T) {
	t.Parallel()
	s := newSmall(2)
	for i := range s.plant.RackTypes[0].Levels {
		s.plant.RackTypes[0].Levels[i].LaneLength = 390 * mm
	}
	in := s.input()
	w, _ := Why(in, DefaultSettings(), placed(in, 1), keyOf("A"))
	require.Len(t, w.Changes, 2, "its other side along the lane is the other")
	assert.Equal(t, ByFlowSide, w.Changes[0].Kind)
	assert.Equal(t, "With lanes longer by 10 mm on rack R, level 1, its 2 containers would lie on R level 1. The cell would have 0.2 kg/h more effort.", w.Changes[1].String())
}

// A loop for which there is room all the same is laid by hand.
func TestRoomAllTheSame(t *testing.T) {
	t.Parallel()
	s := newSmall(6, 3, 9)
	in := s.input()
	l := placed(in, 1)
	require.Empty(t, l.Unplaced)
	for i := range l.Lanes {
		if l.Lanes[i].Loop == keyOf("B") {
			l.Lanes[i] = Lane{Rack: l.Lanes[i].Rack, Level: l.Lanes[i].Level, Lane: l.Lanes[i].Lane, Kind: plant.Supply, Offset: l.Lanes[i].Offset, Width: l.Lanes[i].Width}
		}
	}
	l.Unplaced = []Unplaced{{Loop: keyOf("B"), Containers: 3, Reason: CodeNoRoom, Detail: "left out"}}
	w, _ := Why(in, DefaultSettings(), l, keyOf("B"))
	require.NotEmpty(t, w.Changes)
	assert.Equal(t, ByMoves, w.Changes[0].Kind)
	assert.Empty(t, w.Changes[0].Moved)
	assert.Contains(t, w.Changes[0].String(), "with nothing else moved, its 3 containers would lie on R level")
}

// BenchmarkWhy150 asks why of a loop in a full cell of 150 loops.
func BenchmarkWhy150(b *testing.B) {
	in := made(seeded(1), busyCell(150, 34))
	l := placed(in, 2)
	for b.Loop() {
		Why(in, DefaultSettings(), l, in.Loops[40].Key)
	}
}
