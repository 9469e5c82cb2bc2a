package sizing_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/ergonomics"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

func box(code string, length, width, height units.Length, empty, limit units.Mass) plant.Container {
	return plant.Container{
		Container: plant.ContainerCode(code), Length: length * mm, Width: width * mm, Height: height * mm,
		EmptyMass: empty, GrossLimit: limit,
	}
}

func TestContainerChoices(t *testing.T) {
	t.Parallel()
	x, l, s := works(func(p *plant.Plant) {
		p.Containers = append(p.Containers,
			box("DOUBLE", 600, 400, 200, 2*kg, 0),       // 40 by volume, 26 within 15 kg
			box("HALF", 300, 200, 200, kg/2, 0),         // 10
			box("SHALLOW", 400, 300, 199, 3*kg, 0),      // 19, heavier than the tote
			box("WEAK", 400, 300, 200, kg, 3*kg),        // 20 by volume, 4 within 3 kg
			box("IRON", 400, 300, 200, 15*kg, 0),        // not one piece within 15 kg
			box("TALL", 400, 300, 250, kg, 0),           // too high for the level
			box("POLE", 1400, 1301, 40, kg, 0),          // too long for the level
			box("THIMBLE", 30, 20, 20, units.Gram*2, 0), // 0.01 of the volume: less than one piece
		)
	})
	limits := sizing.DefaultLimits(supply(1, 1300, 1640, 300, 0))
	require.Equal(t, 15*kg, limits.HandMass)
	kept, out := sizing.ContainerChoices(x, l, s, limits)
	got := map[string]string{}
	for _, c := range kept {
		got[string(c.Container)] = fmt.Sprint(c.Pack, " ", c.Estimated, " ", c.Current, " ", c.Gross, " ", c.Containers, " ", c.RefillsPerHour, " ", c.Lanes, " ", c.TotalWidth, " ", c.Side)
	}
	assert.Equal(t, map[string]string{
		"DOUBLE": "26 true false 15 kg 11 60/13 4 2510 mm width",
		"HALF":   "10 true false 5.5 kg 25 12 7 1600 mm length",
		"TOTE":   "20 false true 11 kg 13 6 5 1640 mm length",
	}, got)
	assert.Equal(t, []sizing.Exclusion{
		{Container: "IRON", Reason: sizing.OnePieceTooHeavy},
		{Container: "POLE", Reason: sizing.LongerThanLevel},
		{Container: "SHALLOW", Reason: sizing.Dominated, By: "TOTE"},
		{Container: "TALL", Reason: sizing.HigherThanLevel},
		{Container: "THIMBLE", Reason: sizing.OnePieceTooLarge},
		{Container: "WEAK", Reason: sizing.Dominated, By: "DOUBLE"},
	}, out)
}

// TestEffortOfRefilling: 6 containers an hour of 11 kg with the hands at 650 +
// 100 mm cost nothing; at 1650 + 100 mm, VM 0.70, 66·(1/0.7 − 1) kg an hour.
func TestEffortOfRefilling(t *testing.T) {
	t.Parallel()
	x, l, s := works(nil)
	level := supply(1, 1300, 1640, 300, 0)
	kept, _ := sizing.ContainerChoices(x, l, s, sizing.DefaultLimits(level))
	assert.InDelta(t, 0, kept[0].Effort, 1e-12)
	level.PickHeight = 1600 * mm
	kept, _ = sizing.ContainerChoices(x, l, s, sizing.DefaultLimits(level))
	assert.InDelta(t, 66*(1/0.7-1), kept[0].Effort, 1e-9)
	assert.InDelta(t, 0.7, ergonomics.VM(1750*mm), 1e-12)
}

// TestCurrentContainerAlwaysStands: over the hand limit, too high, dominated.
func TestCurrentContainerAlwaysStands(t *testing.T) {
	t.Parallel()
	x, l, s := works(func(p *plant.Plant) {
		p.Containers = append(p.Containers, box("LIGHT", 400, 300, 200, kg/2, 0))
	})
	limits := sizing.DefaultLimits(supply(1, 1300, 1640, 300, 0))
	limits.Level.PickHeight = 900 * mm
	kept, _ := sizing.ContainerChoices(x, l, s, limits)
	require.Len(t, kept, 2, "dominated by the lighter one, and still there")
	limits.HandMass = 5 * kg
	kept, out := sizing.ContainerChoices(x, l, s, limits)
	require.Len(t, kept, 1)
	assert.EqualValues(t, 20, kept[0].Pack, "the standard pack stands, 11 kg or not")
	assert.Equal(t, []sizing.Exclusion{{Container: "LIGHT", Reason: sizing.Dominated, By: "TOTE"}}, out, "(5 - 0.5)/0.5, 9 pieces only")
	limits.Level.ClearHeight = 100 * mm
	kept, out = sizing.ContainerChoices(x, l, s, limits)
	require.Len(t, kept, 1)
	assert.Equal(t, sizing.TooHigh, kept[0].Obstacle)
	assert.Equal(t, []sizing.Exclusion{{Container: "LIGHT", Reason: sizing.HigherThanLevel}}, out)
	delete(x.Parts, "LENS")
	kept, out = sizing.ContainerChoices(x, l, s, limits)
	assert.Empty(t, kept)
	assert.Empty(t, out)
}

// TestChoicesAndExclusions: each container is in one list, once; nobody kept is
// dominated but the current one; every estimate is within its limits.
func TestChoicesAndExclusions(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 8).Draw(t, "others")
		x, l, s := works(func(p *plant.Plant) {
			p.Parts[0].PieceMass = units.Mass(rapid.Int64Range(0, 3000).Draw(t, "piece")) * units.Gram
			for i := range n {
				side := func(name string) units.Length { return units.Length(rapid.IntRange(50, 800).Draw(t, name)) }
				p.Containers = append(p.Containers, box(fmt.Sprint("B", i), side("length"), side("width"), side("height")/2,
					units.Mass(rapid.Int64Range(0, 9).Draw(t, "empty"))*kg, units.Mass(rapid.Int64Range(0, 20).Draw(t, "limit"))*kg))
			}
		})
		limits := sizing.DefaultLimits(supply(1, 1300, 1640, 300, 0))
		kept, out := sizing.ContainerChoices(x, l, s, limits)
		seen := map[plant.ContainerCode]int{}
		for _, e := range out {
			seen[e.Container]++
			require.Equal(t, e.Reason == sizing.Dominated, e.By != "")
		}
		for _, c := range kept {
			seen[c.Container]++
			require.Equal(t, c.Container == "TOTE", c.Current)
			require.GreaterOrEqual(t, c.Pack, int64(1))
			if c.Estimated {
				require.LessOrEqual(t, c.Gross, limits.HandMass)
			}
			if limit := x.Containers[c.Container].GrossLimit; c.Estimated && limit > 0 {
				require.LessOrEqual(t, c.Gross, limit)
			}
		}
		require.Len(t, seen, n+1)
		for code, times := range seen {
			require.Equal(t, 1, times, "%s", code)
		}
		for _, e := range out {
			if e.Reason == sizing.Dominated {
				require.Equal(t, 1, seen[e.By])
				require.NotContains(t, out, sizing.Exclusion{Container: e.By, Reason: sizing.Dominated})
			}
		}
	})
}
