package structure

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// perforated is the shipped metric kit with a hole every 25 mm.
func perforated() plant.Kit {
	k := plant.ShippedKit("mm")
	k.HolePitch, k.FirstHole = 25*mm, 12_500_000
	return k
}

// twoLanes are two lanes of one container on level 2 of the shipped racks.
func twoLanes() []Lane {
	box := Box{Container: "BOX", Flow: 400 * mm, Across: 300 * mm, Height: 200 * mm, Gross: 12 * units.Kilogram}
	return []Lane{
		{Level: 2, Offset: 330 * mm, Width: 320 * mm, Box: box, Capacity: 3, Containers: 3},
		{Level: 2, Offset: 0, Width: 320 * mm, Box: box, Capacity: 3, Containers: 2},
	}
}

func kits() []plant.Kit { return append(plant.ShippedKits(), perforated()) }

// TestFramesMeet: on every shipped rack type and kit each tube's end lies on the
// side of the tube it meets, everything stands inside the outside measures, and
// what has holes is met at holes.
func TestFramesMeet(t *testing.T) {
	t.Parallel()
	for _, k := range kits() {
		for _, r := range plant.ShippedRackTypes() {
			t.Run(fmt.Sprintf("%s %s %s", k.Kit, r.RackType, k.HolePitch), func(t *testing.T) {
				t.Parallel()
				f, _ := Build(&r, &k, twoLanes())
				require.NotNil(t, f)
				checkJoints(t, f)
				checkInside(t, f)
				checkGrid(t, f)
			})
		}
	}
}

// checkJoints measures how far each joint lies from the carrying tube's centre
// line: half that tube's section, and the corner of a sloped rail's square cut.
func checkJoints(t require.TestingT, f *Frame) {
	ends := map[int]int{}
	for _, j := range f.Joints {
		tube, on := f.Members[j.Tube], f.Members[j.On]
		ends[j.Tube]++
		require.True(t, j.At == tube.From || j.At == tube.To, "%s is met at an end", tube.Mark)
		whole := float64(on.Length())
		along := float64(j.Along)
		at := func(a, b units.Length) float64 { return float64(a) + float64(b-a)*along/whole }
		gap := math.Hypot(math.Hypot(float64(j.At.X)-at(on.From.X, on.To.X), float64(j.At.Y)-at(on.From.Y, on.To.Y)), float64(j.At.Z)-at(on.From.Z, on.To.Z))
		want := float64(on.Part.Width) / 2
		if tube.Role == Rail {
			rise := math.Abs(float64(tube.To.Z-tube.From.Z)) / float64(tube.To.Y-tube.From.Y)
			want = want*math.Hypot(1, rise) + float64(tube.Part.Height)/2*rise
		}
		require.InDelta(t, want, gap, 3, "%s on %s", tube.Mark, on.Mark)
		require.GreaterOrEqual(t, j.Along, units.Length(0))
		require.LessOrEqual(t, j.Along, on.Length())
	}
	for i, m := range f.Members {
		if m.IsTube() && m.Role != Upright {
			require.Equal(t, 2, ends[i], "%s has two ends that meet something", m.Mark)
		}
	}
}

func checkInside(t require.TestingT, f *Frame) {
	marks := map[string]bool{}
	for _, m := range f.Members {
		require.False(t, marks[m.Mark], "%s stands once", m.Mark)
		marks[m.Mark] = true
		require.LessOrEqual(t, m.Cut, m.Length()+1)
		require.Greater(t, m.Cut, units.Length(0), m.Mark)
		for _, p := range []Point{m.From, m.To} {
			require.True(t, p.X >= 0 && p.X <= f.Width && p.Z >= 0 && p.Z <= f.Height, "%s at %v", m.Mark, p)
			if m.IsTube() {
				require.True(t, p.Y > 0 && p.Y < f.Depth, "%s at %v", m.Mark, p)
				require.Less(t, m.Length()-m.Cut, max(f.Kit.CutStep, 1), m.Mark)
			}
		}
	}
}

// checkGrid: a joint of a kit with holes stands at a hole.
func checkGrid(t require.TestingT, f *Frame) {
	if f.Kit.HolePitch == 0 {
		return
	}
	for i, m := range f.Members {
		for _, along := range f.Holes(i) {
			off := math.Mod(float64(along-f.Kit.FirstHole), float64(f.Kit.HolePitch))
			off = min(off, float64(f.Kit.HolePitch)-off)
			require.InDelta(t, 0, off, 3, "%s is met at %s", m.Mark, along)
		}
	}
}

func TestBuildKeepsTheLevels(t *testing.T) {
	t.Parallel()
	r := plant.ShippedRackTypes()[1]
	k := plant.ShippedKit("mm")
	f, found := Build(&r, &k, twoLanes())
	assert.Empty(t, found)
	assert.Equal(t, []units.Length{1250 * mm, 1500 * mm, 1800 * mm}, []units.Length{f.Width, f.Depth, f.Height})
	for i, d := range f.Decks {
		l := r.Levels[i]
		assert.Equal(t, []units.Length{l.PickHeight, l.Drop, l.LaneLength}, []units.Length{d.PickHeight, d.Drop, d.LaneLength})
		assert.Equal(t, 25*mm, d.Front)
		assert.Equal(t, l.LoadHeight(), d.Surface(d.Back()))
	}
	assert.Len(t, f.Deck(2).Lanes, 2)
	assert.Zero(t, f.Deck(2).Lanes[0].Offset, "lanes stand from the left")
	count := map[Role]int{}
	for _, m := range f.Members {
		if m.Level == 2 {
			count[m.Role]++
		}
	}
	// Rows at 15 and 1485 mm: three spans of at most 600 mm; two tracks and one
	// stop for each lane; a guide between them and one at each side.
	assert.Equal(t, map[Role]int{CrossTube: 4, Rail: 2, Track: 4, Guide: 3, Stop: 2}, count)
	assert.Len(t, f.Supports, 4)
	mass, whole := f.OwnMass()
	assert.True(t, whole)
	assert.InDelta(t, 143.2, mass.KG(), 0.1, "95.1 kg of it are 46.842 m of tube (recomputed)")
}

// TestCentreSupport: from 6 ft of lane the frame has uprights between its ends.
// Common practice, no source.
func TestCentreSupport(t *testing.T) {
	t.Parallel()
	k := plant.ShippedKit("mm")
	for _, c := range []struct {
		lane units.Length
		rows int
	}{{1828 * mm, 2}, {6 * units.Foot, 3}, {2450 * mm, 3}, {12*units.Foot - 1, 3}, {12 * units.Foot, 4}} {
		r := plant.ShippedRackTypes()[1]
		r.Depth = c.lane + 50*mm
		for i := range r.Levels {
			r.Levels[i].LaneLength = c.lane
		}
		f, _ := Build(&r, &k, nil)
		assert.Len(t, f.Rows, c.rows, "%s", c.lane)
		assert.Len(t, f.Supports, 2*c.rows)
		checkJoints(t, f)
	}
}

// TestAnyFrameMeets builds frames of any measures.
func TestAnyFrameMeets(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(kits()).Draw(t, "kit")
		between := func(name string, low, high int) units.Length {
			return units.Length(rapid.IntRange(low, high).Draw(t, name)) * mm / 4
		}
		depth := between("depth", 2000, 16_000)
		r := plant.RackType{RackType: "T", Width: between("width", 1600, 10_000), Depth: depth, Height: 2200 * mm, OnCasters: rapid.Bool().Draw(t, "casters")}
		for n := range rapid.IntRange(1, 4).Draw(t, "levels") {
			r.Levels = append(r.Levels, plant.Level{
				Level: n + 1, Kind: plant.Supply, PickHeight: units.Length(400+400*n) * mm, Drop: between("drop", -400, 400),
				LaneLength: depth - 50*mm, UsableWidth: r.Width - 80*mm, ClearHeight: 300 * mm,
			})
		}
		f, _ := Build(&r, &k, nil)
		checkJoints(t, f)
		checkGrid(t, f)
		for i, d := range f.Decks {
			asked := r.Levels[i]
			// Half a hole at the first row; a rise is whole holes for each bay, at least one.
			require.InDelta(t, asked.PickHeight.MM(), d.PickHeight.MM(), 14)
			require.InDelta(t, asked.Drop.MM(), d.Drop.MM(), 25*float64(len(f.Rows)-1)+2)
			require.Equal(t, asked.Drop > 0, d.Drop > 0)
		}
	})
}

func TestBuildFindings(t *testing.T) {
	t.Parallel()
	standard := func() plant.RackType { return plant.ShippedRackTypes()[1] }
	tests := []struct {
		name  string
		code  string
		value float64
		limit float64
		bend  func(*plant.RackType, *plant.Kit, *Box)
	}{
		{"no rollers in the kit", CodeKitLacks, 0, 0, func(_ *plant.RackType, k *plant.Kit, _ *Box) { k.Parts = append(k.Parts[:1:1], k.Parts[2:]...) }},
		{"rack wider than the longest tube", CodeTubeTooLong, 6440, 6000, func(r *plant.RackType, _ *plant.Kit, _ *Box) { r.Width = 6500 * mm }},
		{"levels need more width", CodeTooNarrow, 1260, 1250, func(r *plant.RackType, _ *plant.Kit, _ *Box) { r.Levels[1].UsableWidth = 1200 * mm }},
		{"container shorter than three rollers", CodeRollersWide, 33, 30, func(_ *plant.RackType, _ *plant.Kit, b *Box) { b.Flow = 90 * mm }},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			r, k, lanes := standard(), plant.ShippedKit("mm"), twoLanes()
			test.bend(&r, &k, &lanes[0].Box)
			_, found := Build(&r, &k, lanes)
			require.NotEmpty(t, found)
			assert.Equal(t, test.code, found[0].Code)
			assert.NotEmpty(t, found[0].Remedy)
			if test.limit > 0 {
				assert.InDelta(t, test.value, found[0].Measure.Value, 1e-6)
				assert.InDelta(t, test.limit, found[0].Measure.Limit, 1e-6)
			}
		})
	}
}

// TestCrossTubesByLoad: a level has the fewest cross tubes that keep the tracks' span
// and hold its lanes; one of them less is too few. What no number holds has those of
// the span and is found.
func TestCrossTubesByLoad(t *testing.T) {
	t.Parallel()
	k := plant.ShippedKit("mm")
	heavy := 0
	rapid.Check(t, func(t *rapid.T) {
		r := plant.RackType{RackType: "W", Width: 2440 * mm, Depth: 1830 * mm, Height: 1200 * mm, Levels: []plant.Level{
			{Level: 1, Kind: plant.Supply, PickHeight: 700 * mm, Drop: 80 * mm, LaneLength: 1730 * mm, UsableWidth: 2350 * mm, ClearHeight: 400 * mm},
		}}
		gross := units.Mass(rapid.IntRange(1, 60).Draw(t, "kg")) * units.Kilogram
		box := Box{Container: "BOX", Flow: 400 * mm, Across: 600 * mm, Height: 200 * mm, Gross: gross}
		var lanes []Lane
		for i := range rapid.IntRange(1, 3).Draw(t, "lanes") {
			lanes = append(lanes, Lane{Level: 1, Offset: units.Length(i) * 700 * mm, Width: 620 * mm, Box: box, Capacity: 4, Containers: 4})
		}
		f, _ := Build(&r, &k, lanes)
		plain, _ := build(&r, &k, lanes, nil)
		tubes, least := len(f.crossTubes(1)), len(plain.crossTubes(1))
		limits := DefaultLimits()
		over := func(f *Frame) bool {
			return slices.ContainsFunc(Uses(f, limits), func(u Use) bool { return u.Role == CrossTube && u.Share > 1 })
		}
		switch {
		case over(f):
			require.Equal(t, least, tubes)
			for n := units.Length(1); ; n++ {
				denser, _ := build(&r, &k, lanes, map[int]units.Length{1: n})
				require.True(t, over(denser), "%d more hold it", n)
				if denser.tight(1) {
					break
				}
			}
			_, found := Screen(f, limits)
			require.True(t, slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Code == CodeLevelLoad }))
		case tubes > least:
			heavy++
			fewer, _ := build(&r, &k, lanes, map[int]units.Length{1: units.Length(tubes-least)/2 - 1})
			require.True(t, over(fewer))
		}
		checkJoints(t, f)
		checkInside(t, f)
	})
	assert.Positive(t, heavy, "some level needed more than the span does")
}
