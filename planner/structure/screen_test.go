package structure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// drawFrame draws a frame with two to four levels and lanes of one container on
// each.
func drawFrame(t *rapid.T) *Frame {
	k := rapid.SampledFrom(kits()).Draw(t, "kit")
	of := func(name string, low, high int) units.Length {
		return units.Length(rapid.IntRange(low, high).Draw(t, name)) * mm
	}
	depth := of("depth", 700, 4000)
	r := plant.RackType{RackType: "T", Width: of("width", 500, 2500), Depth: depth, Height: 2300 * mm, OwnMass: units.Mass(rapid.IntRange(20, 200).Draw(t, "own")) * units.Kilogram}
	var lanes []Lane
	at := of("first", 200, 500)
	for n := range rapid.IntRange(2, 4).Draw(t, "levels") {
		r.Levels = append(r.Levels, plant.Level{
			Level: n + 1, Kind: plant.Supply, PickHeight: at, Drop: of("drop", -150, 150),
			LaneLength: depth - of("margin", -30, 80), UsableWidth: r.Width - 100*mm, ClearHeight: 300 * mm,
		})
		at += of("pitch", 200, 450)
		box := Box{Container: "BOX", Flow: of("flow", 150, 600), Across: 280 * mm, Height: of("height", 80, 400), Gross: units.Mass(rapid.IntRange(1, 25).Draw(t, "kg")) * units.Kilogram}
		for i := range (r.Width - 100*mm) / (310 * mm) {
			lanes = append(lanes, Lane{Level: n + 1, Offset: i * 310 * mm, Width: 300 * mm, Box: box, Capacity: int(r.Levels[n].LaneLength / box.Flow)})
		}
	}
	f, _ := Build(&r, &k, lanes)
	return f
}

// corners are the corners of a tube seen from its side.
func (b bar) corners() [][2]float64 {
	var list [][2]float64
	for _, c := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		w, h := c[0]*b.width/2, c[1]*b.height/2
		list = append(list, [2]float64{b.y + w*math.Cos(b.tilt) - h*math.Sin(b.tilt), b.z + w*math.Sin(b.tilt) + h*math.Cos(b.tilt)})
	}
	return list
}

// TestPassageByMoving: a container as high as Clear, or a little less, is moved
// along the lane in small steps and never touches a tube above; one a little
// higher touches one somewhere. The steps see the corners of tubes only.
func TestPassageByMoving(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f := drawFrame(t)
		bars := f.bars()
		for _, d := range f.Decks {
			if d.Clear <= 3*mm {
				continue
			}
			box := d.Lanes[0].Box
			struck := func(h units.Length) bool { return moved(d, bars, float64(box.Flow), float64(h)) }
			if struck(d.Clear - mm) {
				t.Fatalf("level %d: %s free, but a container 1 mm lower strikes", d.Level, d.Clear)
			}
			// Above the steps' blind spot, for a bar that containers reach.
			if !struck(d.Clear+4*mm) && d.Clear < 500*mm {
				t.Fatalf("level %d: %s free, but a container 4 mm higher passes", d.Level, d.Clear)
			}
		}
	})
}

// moved slides a box of that length and height from before the load edge to past
// the pick edge and reports whether a tube's corner above the lane comes into it.
func moved(d Deck, bars []bar, flow, h float64) bool {
	angle := math.Atan(d.Slope())
	for _, b := range bars {
		if b.level == d.Level || b.aloft(d) <= 0 {
			continue
		}
		for _, c := range b.corners() {
			// Along the lane from its pick edge, and square to it.
			y, z := c[0]-float64(d.Front), c[1]-float64(d.PickHeight)
			along, up := y*math.Cos(angle)+z*math.Sin(angle), z*math.Cos(angle)-y*math.Sin(angle)
			for at := -float64(d.LaneLength); at <= 2*float64(d.LaneLength); at += flow / 16 {
				if along >= at && along <= at+flow && up < h {
					return true
				}
			}
		}
	}
	return false
}

// TestNothingIsLost: with no allowance for continuous tracks the uprights carry
// what the lanes and the rack weigh, to the newton.
func TestNothingIsLost(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f := drawFrame(t)
		l := DefaultLimits()
		l.Continuous = 1
		s := newStatics(f, l)
		want, got := newtons(f.mass()), 0.0
		for i := range f.Decks {
			for _, c := range f.carries(&f.Decks[i]) {
				want += c.newtons
			}
		}
		for _, u := range f.Supports {
			got += s.axial[u.Under]
		}
		if math.Abs(want-got) > 1e-6*want {
			t.Fatalf("the uprights carry %g N of %g N", got, want)
		}
	})
}

// TestTipsByTrying: no choice of fillings is less firm than the one found, and
// one is as little firm.
func TestTipsByTrying(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		own := weight{draw("own", 5, 200), draw("own in", 50, 900), draw("own up", 300, 1500)}
		var lanes [][]weight
		for range rapid.IntRange(0, 5).Draw(t, "lanes") {
			var ways []weight
			for range rapid.IntRange(1, 3).Draw(t, "ways") {
				ways = append(ways, weight{draw("kg", 1, 100), draw("in", -100, 1500), draw("up", 100, 2000)})
			}
			lanes = append(lanes, ways)
		}
		angle, hold := math.Inf(1), math.Inf(1)
		var try func(n int, kg weight)
		try = func(n int, sum weight) {
			if n == len(lanes) {
				angle, hold = min(angle, math.Atan(sum.in/sum.up)*180/math.Pi), min(hold, sum.in)
				return
			}
			try(n+1, sum)
			for _, w := range lanes[n] {
				try(n+1, weight{0, sum.in + w.kg*w.in, sum.up + w.kg*w.up})
			}
		}
		try(0, weight{0, own.kg * own.in, own.kg * own.up})
		near(t, angle, leastAngle(own, lanes), 1e-7, "angle")
		near(t, hold, leastHold(own, lanes), 1e-6*math.Abs(hold)+1e-9, "hold")
	})
}

// TestLean: a box of 1000 mm high and 400 mm deep with its mass in its middle
// falls when it leans by atan(200/500) = 21.8° (mechanics, recomputed).
func TestLean(t *testing.T) {
	t.Parallel()
	near(t, 21.801, leastAngle(weight{50, 200, 500}, nil), 5e-4, "angle")
}

// standard is the shipped rack with three supply levels and light full lanes on
// all of them.
func standard() (plant.RackType, plant.Kit, []Lane) {
	r, k := plant.ShippedRackTypes()[1], plant.ShippedKit("mm")
	var lanes []Lane
	box := Box{Container: "BOX", Flow: 400 * mm, Across: 300 * mm, Height: 220 * mm, Gross: 10 * units.Kilogram}
	for level := 2; level <= 4; level++ {
		for i := range units.Length(3) {
			lanes = append(lanes, Lane{Level: level, Offset: i * 330 * mm, Width: 320 * mm, Box: box, Capacity: 3})
		}
	}
	return r, k, lanes
}

func TestScreenOfASoundRack(t *testing.T) {
	t.Parallel()
	r, k, lanes := standard()
	f, found := Build(&r, &k, lanes)
	s, more := Screen(f, DefaultLimits())
	assert.Empty(t, append(found, more...))
	governing, ok := s.Governing()
	require.True(t, ok)
	assert.Less(t, governing.Share, 1.0)
	assert.InDelta(t, 270, s.Load, 1e-9)
	assert.InDelta(t, 1800./1220, s.Slenderness, 1e-9)
	assert.Len(t, s.Tips, 4)
}

func TestScreenFindings(t *testing.T) {
	t.Parallel()
	level := func(r *plant.RackType, n int) *plant.Level { return &r.Levels[n-1] }
	tests := []struct {
		name     string
		code     string
		severity finding.Severity
		level    int
		value    float64
		limit    float64
		says     string
		bend     func(r *plant.RackType, k *plant.Kit, lanes []Lane)
	}{
		{"a container higher than the level above leaves", CodeNoPassage, finding.Error, 2, 352, 349.66, "Raise what is above by 2.3 mm", func(_ *plant.RackType, _ *plant.Kit, lanes []Lane) { lanes[0].Box.Height = 352 * mm }},
		{"a return level that meets the supply level at the load side", CodeNoPassage, finding.Error, 3, 300, 227.75, "slope the two alike", func(r *plant.RackType, _ *plant.Kit, lanes []Lane) {
			level(r, 4).Kind, level(r, 4).Drop = plant.Return, -60*mm
			lanes[3].Box.Height = 300 * mm
		}},
		{"no room for a hand", CodeHand, finding.Warning, 2, 348.95 - 310, 60, "Raise what is above by 21.1 mm", func(_ *plant.RackType, _ *plant.Kit, lanes []Lane) { lanes[1].Box.Height = 310 * mm }},
		{"levels in each other's way", CodeTubeInLane, finding.Warning, 3, 15, 0, "Raise the level", func(r *plant.RackType, _ *plant.Kit, _ []Lane) { level(r, 3).PickHeight = 615 * mm }},
		{"a long container", CodeReach, finding.Note, 2, 725, 650, "shorter side", func(_ *plant.RackType, _ *plant.Kit, lanes []Lane) { lanes[0].Box.Flow = 700 * mm }},
		{"a heavy level", CodeLevelLoad, finding.Warning, 3, 0, 0, "its span over 180", func(_ *plant.RackType, _ *plant.Kit, lanes []Lane) {
			for i := 3; i < 6; i++ {
				lanes[i].Box.Gross = 30 * units.Kilogram
			}
		}},
		{"a heavy container on weak rollers", CodeLevelLoad, finding.Warning, 2, 10. / 12, .5, "that of its maker", func(_ *plant.RackType, k *plant.Kit, _ []Lane) { k.Parts[1].MassLimit = units.Kilogram / 2 }},
		{"uprights of thin tube", CodeUpright, finding.Warning, 0, 0, 0, "Tie the uprights", func(r *plant.RackType, k *plant.Kit, _ []Lane) {
			k.Parts[0].Uses = []plant.TubeUse{plant.AsCrossTube, plant.AsRail, plant.AsBrace}
			thin := k.Parts[0]
			thin.Width, thin.Height, thin.CornerRadius, thin.Uses = 8*mm, 8*mm, 0, []plant.TubeUse{plant.AsUpright}
			k.Parts = append(k.Parts, thin)
		}},
		{"weak casters", CodeSupport, finding.Warning, 0, 0, 40, "caster", func(r *plant.RackType, k *plant.Kit, _ []Lane) {
			r.OnCasters = true
			k.Parts[7].MassLimit = 40 * units.Kilogram
		}},
		{"heavy on top of a narrow rack", CodeTips, finding.Warning, 0, 0, 10, "falls over its", func(r *plant.RackType, _ *plant.Kit, lanes []Lane) {
			r.Width = 420 * mm
			for i := range r.Levels {
				r.Levels[i].UsableWidth = 330 * mm
			}
			for i := range lanes {
				lanes[i].Offset = 0
				lanes[i].Box.Gross = units.Kilogram / 10
			}
			lanes[6].Box.Gross = 30 * units.Kilogram
		}},
		{"light and narrow, pushed", CodeTips, finding.Warning, 0, 0, 1.5, "push of 150 N", func(r *plant.RackType, _ *plant.Kit, lanes []Lane) { r.OwnMass = 30 * units.Kilogram }},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			r, k, lanes := standard()
			test.bend(&r, &k, lanes)
			f, _ := Build(&r, &k, lanes)
			_, found := Screen(f, DefaultLimits())
			var of finding.List
			for _, one := range found {
				if one.Code == test.code && one.Subject.Level == test.level {
					of = append(of, one)
				}
			}
			require.Len(t, of, 1, "found instead: %v", found)
			assert.Equal(t, test.severity, of[0].Severity)
			assert.Contains(t, of[0].Summary+of[0].Detail+of[0].Remedy, test.says)
			require.NotNil(t, of[0].Measure)
			if test.value > 0 {
				assert.InDelta(t, test.value, of[0].Measure.Value, .02)
			}
			if test.limit > 0 {
				assert.InDelta(t, test.limit, of[0].Measure.Limit, 1)
			}
		})
	}
}

// TestWhatIsSaidToFixItFixesIt: the load that a finding allows is one that the
// level carries.
func TestWhatIsSaidToFixItFixesIt(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r, k, lanes := standard()
		heavy := rapid.Float64Range(22, 90).Draw(t, "kg")
		for i := range 3 {
			lanes[i].Box.Gross = units.Mass(heavy * float64(units.Kilogram))
		}
		f, _ := Build(&r, &k, lanes)
		used := func() float64 {
			for _, u := range Uses(f, DefaultLimits()) {
				if u.Level == 2 {
					return u.Share
				}
			}
			return 0
		}
		share := used()
		if share <= 1 {
			return
		}
		for i := range f.Decks[1].Lanes {
			f.Decks[1].Lanes[i].Box.Gross = units.Mass(heavy / share * float64(units.Kilogram))
		}
		near(t, 1, used(), 1e-6, "share at the allowed load")
	})
}
