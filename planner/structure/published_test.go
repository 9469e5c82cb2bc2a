package structure_test

import (
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
