package sizing_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

const mm, kg = units.Millimetre, units.Kilogram

// works is a plant with one part of half a kilogram, 20 in a tote of 400 x 300
// x 200 mm, and its loop of 13 containers.
func works(change func(*plant.Plant)) (*plant.Index, sizing.Loop, plant.Settings) {
	p := &plant.Plant{
		Settings:   plant.DefaultSettings(),
		Parts:      []plant.Part{{Part: "LENS", Container: "TOTE", Pack: 20, PieceMass: kg / 2}},
		Containers: []plant.Container{{Container: "TOTE", Length: 400 * mm, Width: 300 * mm, Height: 200 * mm, EmptyMass: kg}},
	}
	if change != nil {
		change(p)
	}
	l := steady("2", 20, time.Hour)
	l.Key, l.Container = demand.Key{Part: "LENS", Cell: "C", Station: "10"}, "TOTE"
	x := plant.NewIndex(p)
	loops, _ := sizing.Size(x, []demand.Loop{l})
	return x, loops[0], p.Settings
}

func supply(n int, length, width, clear units.Length, limit units.Mass) plant.Level {
	return plant.Level{Level: n, Kind: plant.Supply, PickHeight: 600 * mm, Drop: 50 * mm, LaneLength: length * mm, UsableWidth: width * mm, ClearHeight: clear * mm, MassLimit: limit}
}

func TestLaneChoices(t *testing.T) {
	t.Parallel()
	x, l, s := works(func(p *plant.Plant) {
		p.RackTypes = []plant.RackType{
			{RackType: "B", Levels: []plant.Level{supply(1, 1300, 1650, 300, 0), supply(2, 1300, 1640, 300, 0), supply(3, 350, 1700, 300, 0), supply(4, 1300, 3000, 259, 0)}},
			{RackType: "A", OwnMass: 60 * kg, MassLimit: 203 * kg, Levels: []plant.Level{
				{Level: 1, Kind: plant.Return, LaneLength: 1300 * mm, UsableWidth: 3000 * mm, ClearHeight: 300 * mm}, supply(2, 1300, 3000, 300, 142*kg),
			}},
			{RackType: "B"},
			{RackType: "C", OwnMass: 60 * kg, MassLimit: 202 * kg, Levels: []plant.Level{supply(1, 1300, 3000, 260, 143*kg)}},
		}
	})
	require.Equal(t, 13, l.Containers)
	require.Equal(t, 11*kg, l.Gross)
	got := []string{}
	for _, c := range sizing.LaneChoices(x, l, s) {
		got = append(got, fmt.Sprint(c.RackType, c.Level, " ", c.Side, " ", c.Capacity, "x", c.Lanes, " ", c.TotalWidth, " ", c.Obstacle))
	}
	// 13 containers: length along three to a lane, five lanes of 320 mm and four
	// guides of 10; width along four to a lane, four lanes of 420 and three guides.
	assert.Equal(t, []string{
		"A2 length 3x5 1640 mm mass", "A2 width 4x4 1710 mm mass",
		"B1 length 3x5 1640 mm ", "B1 width 4x4 1710 mm width",
		"B2 length 3x5 1640 mm ", "B2 width 4x4 1710 mm width",
		"B3 length 0x0 0 mm length", "B3 width 1x13 5580 mm width",
		"B4 length 0x0 0 mm height", "B4 width 0x0 0 mm height",
		"C1 length 3x5 1640 mm mass", "C1 width 4x4 1710 mm mass",
	}, got)
	x.Plant.RackTypes[3].MassLimit++
	assert.NotEmpty(t, sizing.LaneChoices(x, l, s))
	delete(x.Containers, "TOTE")
	assert.Empty(t, sizing.LaneChoices(x, l, s), "a loop without a container")
}

// TestLaneChoicesHoldWhatTheyPromise: on every shipped rack type the lanes hold
// the loop, one lane fewer would not, and the width is within the level exactly
// where it fits.
func TestLaneChoicesHoldWhatTheyPromise(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) units.Length { return units.Length(rapid.IntRange(50, 900).Draw(t, name)) * mm }
		x, l, s := works(func(p *plant.Plant) {
			p.RackTypes = plant.ShippedRackTypes()
			box := &p.Containers[0]
			box.Length, box.Width, box.Height = draw("length"), draw("width"), draw("height")
		})
		l.Containers = rapid.IntRange(2, 40).Draw(t, "containers")
		list := sizing.LaneChoices(x, l, s)
		require.True(t, slices.IsSortedFunc(list, func(a, b sizing.LaneChoice) int {
			return cmpText(fmt.Sprintf("%s|%03d", a.RackType, a.Level), fmt.Sprintf("%s|%03d", b.RackType, b.Level))
		}))
		for _, c := range list {
			level := x.RackTypes[c.RackType].Levels[c.Level-1]
			if c.Capacity == 0 {
				require.Contains(t, []sizing.Obstacle{sizing.TooHigh, sizing.TooLong}, c.Obstacle)
				continue
			}
			require.GreaterOrEqual(t, c.Capacity*c.Lanes, l.Containers)
			require.Less(t, c.Capacity*(c.Lanes-1), l.Containers)
			require.LessOrEqual(t, units.Length(c.Capacity)*c.Along, level.LaneLength)
			require.Equal(t, c.TotalWidth > level.UsableWidth, c.Obstacle == sizing.TooWide)
		}
	})
}

func cmpText(a, b string) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
