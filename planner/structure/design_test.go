package structure

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/ergonomics"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// drawNeeds draws needs of a few containers.
func drawNeeds(t *rapid.T, most int) []Need {
	var needs []Need
	for range rapid.IntRange(1, most).Draw(t, "needs") {
		side := rapid.SampledFrom([][3]units.Length{{400, 300, 220}, {600, 400, 150}, {300, 200, 147}, {400, 300, 280}}).Draw(t, "container")
		gross := units.Mass(rapid.IntRange(2, 12).Draw(t, "kg")) * units.Kilogram
		box := Box{Container: "A", Flow: side[0] * mm, Across: side[1] * mm, Height: side[2] * mm, Gross: gross}
		turned := box
		turned.Flow, turned.Across = box.Across, box.Flow
		ways := []Box{box, turned}[:rapid.IntRange(1, 2).Draw(t, "ways")]
		needs = append(needs, Need{Ways: ways, Containers: rapid.IntRange(2, 9).Draw(t, "containers"),
			Picked: float64(rapid.IntRange(0, 200).Draw(t, "picked")), Loaded: float64(rapid.IntRange(0, 200).Draw(t, "loaded"))})
	}
	return needs
}

func wishes() Wishes { return DefaultWishes(plant.DefaultSettings()) }

// TestDesignsCanBeBuilt: a designed rack holds every container it was asked for,
// in lanes that fit its levels; it is built without a change; containers pass
// and hands have room; no level is overloaded.
func TestDesignsCanBeBuilt(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		needs, w := drawNeeds(t, 12), wishes()
		w.Return = rapid.SampledFrom([]ReturnPlace{NoReturn, ReturnBelow, ReturnAbove}).Draw(t, "return")
		k := rapid.SampledFrom(plant.ShippedKits()).Draw(t, "kit")
		p, found, ok := Design(needs, &k, w)
		if !ok {
			require.NotEmpty(t, found)
			return
		}
		for _, f := range found {
			if !slices.Contains([]string{CodeTips, CodeReach, CodeTall}, f.Code) {
				t.Fatalf("%s: %s", f.Code, f.Summary)
			}
		}
		require.Positive(t, p.Type.OwnMass)
		held := make([]int, len(needs))
		for i, l := range p.Lanes {
			held[p.Holds[i]] += l.Containers
			level := p.Type.Levels[l.Level-1]
			require.Equal(t, plant.Supply, level.Kind)
			require.LessOrEqual(t, l.Offset+l.Width, level.UsableWidth)
			require.LessOrEqual(t, l.Box.Flow*units.Length(l.Capacity), level.LaneLength)
			require.LessOrEqual(t, l.Box.Height+w.Hand, level.ClearHeight)
			require.True(t, level.PickHeight >= w.Low && level.PickHeight <= w.High)
			if i > 0 && p.Lanes[i-1].Level == l.Level {
				require.Equal(t, p.Lanes[i-1].Offset+p.Lanes[i-1].Width+w.GuideWidth, l.Offset)
			}
		}
		for i, n := range needs {
			require.Equal(t, n.Containers, held[i])
		}
		x := &plant.Plant{Settings: plant.DefaultSettings(), RackTypes: []plant.RackType{p.Type}}
		for _, f := range plant.Check(x) {
			if f.Subject.RackType != "" {
				t.Fatalf("%s: %s", f.Code, f.Summary)
			}
		}
	})
}

// TestDesignsByTryingAll: every way of dealing up to five needs out to numbered
// levels, from the lowest, at every height in steps of 50 mm.
func TestDesignsByTryingAll(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		needs, w, k := drawNeeds(t, 5), wishes(), plant.ShippedKit("mm")
		w.MostLevels = rapid.IntRange(1, 3).Draw(t, "levels")
		w.High = units.Length(rapid.IntRange(700, 1400).Draw(t, "high")) * mm
		d := &designer{needs: needs, k: &k, w: w, most: math.Inf(1)}
		require.Nil(t, d.prepare())
		s, ok := d.search()
		width, effort := tryAll(d)
		if ok != (width > 0) {
			t.Fatalf("found %v, there is one of width %s", ok, width)
		}
		if !ok {
			return
		}
		require.Equal(t, width, s.width)
		near(t, effort, s.effort, 1e-6, "effort")
		searched, _ := d.improved(d.byHeight())
		if searched.width > 0 && (searched.width < s.width || searched.width == s.width && searched.effort < s.effort-1e-6) {
			t.Fatalf("the search beats what was tried")
		}
	})
}

// tryAll shares nothing with the designer but the items and its measures.
func tryAll(d *designer) (width units.Length, effort float64) {
	n := len(d.items)
	level := make([]int, n)
	ways := int(math.Pow(float64(d.w.MostLevels), float64(n)))
	for way := range ways {
		for i, rest := 0, way; i < n; i++ {
			level[i] = rest % d.w.MostLevels
			rest /= d.w.MostLevels
		}
		for base := d.lowest(); base <= d.w.High; base += 50 * mm {
			w, e, ok := deal(d, level, base)
			if ok && w <= d.widest() && (width == 0 || w < width || w == width && e < effort) {
				width, effort = w, e
			}
		}
	}
	return width, effort
}

func deal(d *designer, level []int, base units.Length) (width units.Length, effort float64, ok bool) {
	at := base
	for l := range d.w.MostLevels {
		wide, high, any := -d.w.GuideWidth, units.Length(0), false
		for i, of := range level {
			if of != l {
				continue
			}
			any = true
			wide += d.items[i].width + d.w.GuideWidth
			high = max(high, d.items[i].box.Height)
			half := d.items[i].box.Height / 2
			effort += d.needs[i].Picked*(1/ergonomics.VM(at+half)-1) + d.needs[i].Loaded*(1/ergonomics.VM(at+d.drop+half)-1)
		}
		if !any {
			continue
		}
		if at > d.w.High {
			return 0, 0, false
		}
		width = max(width, wide)
		at += d.pitch(high)
	}
	return width, effort, true
}

// TestLargeDesigns: beyond eight needs the levels are searched for; the width is
// never under the sum of widths over the levels, and seldom much above.
func TestLargeDesigns(t *testing.T) {
	t.Parallel()
	k := plant.ShippedKit("mm")
	var needs []Need
	for i := range 14 {
		box := Box{Container: plant.ContainerCode(fmt.Sprint(i)), Flow: 300 * mm, Across: 200 * mm, Height: 150 * mm, Gross: 4 * units.Kilogram}
		needs = append(needs, Need{Ways: []Box{box}, Containers: 2 + i%4, Picked: float64(i)})
	}
	p, _, ok := Design(needs, &k, wishes())
	require.True(t, ok)
	assert.False(t, p.Best)
	supply := 0
	for _, l := range p.Type.Levels {
		if l.Kind == plant.Supply {
			supply++
		}
	}
	total := units.Length(0)
	for i, l := range p.Lanes {
		total += l.Width
		if i > 0 && p.Lanes[i-1].Level == l.Level {
			total += 10 * mm
		}
	}
	usable := p.Type.Levels[0].UsableWidth
	assert.GreaterOrEqual(t, usable*units.Length(supply), total)
	assert.Less(t, float64(usable*units.Length(supply)), 1.15*float64(total))
	again, _, _ := Design(needs, &k, wishes())
	assert.Equal(t, p, again)
}

func TestNoDesign(t *testing.T) {
	t.Parallel()
	box := Box{Container: "A", Flow: 400 * mm, Across: 300 * mm, Height: 220 * mm, Gross: 10 * units.Kilogram}
	need := func(box Box, containers int) []Need { return []Need{{Ways: []Box{box}, Containers: containers}} }
	tests := []struct {
		name, says string
		needs      []Need
		bend       func(*plant.Kit, *Wishes)
	}{
		{"container longer than a lane", "longer than a lane", need(Box{Flow: 1600 * mm, Across: 300 * mm, Height: 100 * mm}, 2), nil},
		{"wider than the longest tube", "longest cross tube", need(box, 400), nil},
		{"too high", "higher than", need(box, 2), func(k *plant.Kit, w *Wishes) { w.High, k.Parts[0].StockLengths = 300*mm, nil }},
		{"no rollers", "lacks", need(box, 2), func(k *plant.Kit, _ *Wishes) { k.Parts = k.Parts[:1] }},
		{"too heavy for any level", "may carry at most", need(Box{Container: "A", Flow: 400 * mm, Across: 300 * mm, Height: 220 * mm, Gross: 300 * units.Kilogram}, 3), nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			k, w := plant.ShippedKit("mm"), wishes()
			if test.bend != nil {
				test.bend(&k, &w)
			}
			_, found, ok := Design(test.needs, &k, w)
			require.False(t, ok)
			require.Len(t, found, 1)
			assert.Equal(t, CodeNoDesign, found[0].Code)
			assert.Contains(t, found[0].Summary+found[0].Detail, test.says)
		})
	}
}

// TestHeavyLevelsAreSharedOut: six needs of 84 kg would stand on one narrow
// level less than they do where no level may be overloaded.
func TestHeavyLevelsAreSharedOut(t *testing.T) {
	t.Parallel()
	k, w := plant.ShippedKit("mm"), wishes()
	var needs []Need
	for range 6 {
		needs = append(needs, Need{Ways: []Box{{Container: "A", Flow: 350 * mm, Across: 250 * mm, Height: 150 * mm, Gross: 21 * units.Kilogram}}, Containers: 4})
	}
	w.MostLevels = 2
	_, _, two := Design(needs, &k, w)
	assert.False(t, two, "252 kg on each of two levels")
	w.MostLevels = 5
	p, found, ok := Design(needs, &k, w)
	require.True(t, ok)
	for _, f := range found {
		assert.Equal(t, CodeTips, f.Code, "it is narrow: anchor it")
	}
	for level := 2; level <= len(p.Type.Levels); level++ {
		kg := 0.0
		for _, l := range p.Lanes {
			if l.Level == level {
				kg += l.Box.Gross.KG() * float64(l.Capacity)
			}
		}
		assert.Less(t, kg, 200.0)
	}
}

// TestDesignRacks: needs are shared out in their order, every container once, to
// racks no wider than wished.
func TestDesignRacks(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		needs, w, k := drawNeeds(t, 7), wishes(), plant.ShippedKit("mm")
		w.MostWidth = units.Length(rapid.IntRange(700, 1500).Draw(t, "width")) * mm
		w.MostLevels = 2
		racks, found, ok := DesignRacks(needs, &k, w)
		if !ok {
			require.Equal(t, CodeNoDesign, found[len(found)-1].Code)
			return
		}
		held, last := make([]int, len(needs)), 0
		for _, r := range racks {
			require.LessOrEqual(t, r.Type.Width, w.MostWidth)
			require.GreaterOrEqual(t, slices.Min(r.Holds), last)
			last = slices.Max(r.Holds)
			for i, l := range r.Lanes {
				held[r.Holds[i]] += l.Containers
			}
		}
		for i, n := range needs {
			require.Equal(t, n.Containers, held[i])
		}
	})
}

// TestBear: a level loaded evenly with the mass limit it is given uses its tubes up
// to the limit and not beyond; a kilogram more in twenty is too much.
func TestBear(t *testing.T) {
	t.Parallel()
	for _, k := range plant.ShippedKits() {
		for _, r := range plant.ShippedRackTypes() {
			Bear(&r, &k, DefaultLimits())
			for _, more := range []struct {
				percent    units.Mass
				overloaded bool
			}{{100, false}, {105, true}} {
				loaded := r
				loaded.Levels = slices.Clone(r.Levels)
				for i := range loaded.Levels {
					require.Greater(t, loaded.Levels[i].MassLimit, 100*units.Kilogram)
					loaded.Levels[i].MassLimit = loaded.Levels[i].MassLimit / 100 * more.percent
				}
				f, _ := Build(&loaded, &k, nil)
				_, found := Screen(f, DefaultLimits())
				over := 0
				for _, one := range found {
					if one.Code == CodeLevelLoad {
						over++
					}
				}
				assert.Equal(t, more.overloaded, over == len(r.Levels), "%s, %s, %d %%", k.Kit, r.RackType, more.percent)
				assert.Equal(t, more.overloaded, over > 0, "%s, %s, %d %%", k.Kit, r.RackType, more.percent)
			}
		}
	}
}
