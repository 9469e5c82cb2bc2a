package structure_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

func inchesOf(n string) units.Length {
	l, _ := units.Lengths(units.MustRatio(n), units.Inch)
	return l
}

// TestPublishedSlopeAngles: the same slopes in degrees, and degrees in inches
// per foot (recomputed).
func TestPublishedSlopeAngles(t *testing.T) {
	t.Parallel()
	for perFoot, degrees := range map[string]float64{".375": 1.790, ".5": 2.386, ".625": 2.981, ".75": 3.576, "1": 4.764, ".4191": 2, ".6289": 3, ".8391": 4, "1.0499": 5} {
		d := structure.Deck{Drop: inchesOf(perFoot), LaneLength: units.Foot}
		assert.InDelta(t, degrees, math.Atan(d.Slope())*180/math.Pi, 6e-4, "%s in per ft", perFoot)
	}
}

// TestPublishedRollers: three rollers under a container, so 24 in long ones take
// a pitch of 8 in (three makers' pages agree, seen); of three rollers two share
// its mass, of more of them half (one of the pages, our reading, weak).
func TestPublishedRollers(t *testing.T) {
	t.Parallel()
	r := plant.ShippedRackTypes()[1]
	lanes := func() []structure.Lane {
		return []structure.Lane{{Level: 2, Width: 16 * units.Inch, Capacity: 2, Box: structure.Box{
			Container: "TOTE", Flow: 24 * units.Inch, Across: 15 * units.Inch, Height: 8 * units.Inch, Gross: 20 * units.Kilogram,
		}}}
	}
	for _, c := range []struct {
		pitch  string
		found  bool
		factor float64
	}{{"8.01", true, 1}, {"8", false, 2}, {"6", false, 2}, {"4", false, 3}} {
		k := plant.ShippedKit("in")
		roller := k.Of(plant.RollerPart)
		roller.Pitch, roller.MassLimit = inchesOf(c.pitch), 1
		f, found := structure.Build(&r, &k, lanes())
		assert.Equal(t, c.found, len(found) == 1 && found[0].Code == structure.CodeRollersWide, c.pitch)
		for _, u := range structure.Uses(f, structure.DefaultLimits()) {
			if u.Role == structure.Track {
				assert.InDelta(t, 20/(2*c.factor), u.Value, 1e-9, "two tracks, pitch %s in", c.pitch)
			}
		}
	}
}

// TestPublishedSlopes: slopes in inches per foot as percentages (recomputed;
// .5 in/ft is the drop that usually keeps goods moving on rollers in a US Navy
// training manual, seen). Only those outside 3 % to 8.8 % are noted.
func TestPublishedSlopes(t *testing.T) {
	t.Parallel()
	cases := []struct {
		perFoot string
		percent float64
		code    string
	}{
		{"0.35", 2.917, structure.CodeSlopeLow},
		{".36", 3.000, ""},
		{".375", 3.125, ""}, {".5", 4.167, ""}, {".625", 5.208, ""}, {".75", 6.25, ""}, {"1", 8.333, ""},
		{"1.056", 8.800, ""},
		{"1.06", 8.833, structure.CodeSlopeHigh},
	}
	for _, c := range cases {
		for _, sign := range []units.Length{1, -1} {
			level := plant.Level{Level: 1, Kind: plant.Supply, Drop: sign * inchesOf(c.perFoot), LaneLength: units.Foot}
			x := plant.NewIndex(&plant.Plant{RackTypes: []plant.RackType{{RackType: "T", Levels: []plant.Level{level}}}})
			list := structure.Check(x)
			if c.code == "" {
				assert.Empty(t, list, "%s in per ft", c.perFoot)
				continue
			}
			require.Len(t, list, 1, "%s in per ft", c.perFoot)
			assert.Equal(t, c.code, list[0].Code)
			assert.InDelta(t, c.percent, list[0].Measure.Value, 5e-4)
		}
	}
}
