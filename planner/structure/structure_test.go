package structure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

const (
	mm = units.Millimetre
	m  = units.Metre
)

func inches(n string) units.Length {
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
			level := plant.Level{Level: 1, Kind: plant.Supply, Drop: sign * inches(c.perFoot), LaneLength: units.Foot}
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

// TestSlender: more than four times as high as the least base width is noted
// (common practice, no source).
func TestSlender(t *testing.T) {
	t.Parallel()
	codes := func(height units.Length, own, limit units.Mass) (list []string) {
		x := plant.NewIndex(&plant.Plant{RackTypes: []plant.RackType{{RackType: "T", Width: 2 * m, Depth: 500 * mm, Height: height, OwnMass: own, MassLimit: limit}}})
		for _, f := range structure.Check(x) {
			list = append(list, f.Code)
		}
		return list
	}
	assert.Empty(t, codes(2*m, 0, 0))
	assert.Equal(t, []string{structure.CodeTall}, codes(2*m+mm, 0, 0))
	assert.Equal(t, []string{structure.CodeOwnMass}, codes(m, 90*units.Kilogram, 90*units.Kilogram))
	assert.Empty(t, codes(m, 90*units.Kilogram, 91*units.Kilogram))
}

func hall() *plant.Plant {
	at := func(x, y units.Length) *plant.Place { return &plant.Place{X: x, Y: y} }
	return &plant.Plant{
		Cells:     []plant.Cell{{Cell: "C"}, {Cell: "D", NewRack: at(9*m, 9*m), NewRackPoint: "far"}},
		Stations:  []plant.Station{{Cell: "C", Station: "2", Place: at(4*m, 0)}, {Cell: "C", Station: "1", Place: at(0, 2*m)}, {Cell: "C", Station: "3"}, {Cell: "D", Station: "1"}},
		RackTypes: []plant.RackType{{RackType: "T", Levels: []plant.Level{{Level: 1}, {Level: 2}}}},
		Racks: []plant.Rack{
			{Rack: "R2", RackType: "T", Cell: "C", AislePoint: "near", Stations: []plant.StationCode{"2", "1"}, Place: at(m, m), FixedLanes: []plant.FixedLanes{{Level: 2, Widths: []units.Length{300 * mm}}}},
			{Rack: "R1", RackType: "T", Cell: "C", AislePoint: "near"},
			{Rack: "R3", RackType: "gone", Cell: "C"},
			{Rack: "R4", RackType: "T", Cell: "D"},
		},
		AislePoints: []plant.AislePoint{{Point: "near-b", Place: *at(2*m, 0)}, {Point: "near", Place: *at(2*m, 2*m)}, {Point: "far", Place: *at(90*m, 0)}},
	}
}

func TestRacksAreResolved(t *testing.T) {
	t.Parallel()
	racks := structure.Racks(plant.NewIndex(hall()))
	require.Len(t, racks, 3, "a rack of an unknown type is left out")
	r1, r2, r4 := racks[0], racks[1], racks[2]
	assert.Equal(t, []plant.StationCode{"1", "2", "3"}, r1.Stations, "blank serves the whole cell")
	assert.Equal(t, plant.Place{X: 2 * m, Y: m}, r1.Place, "the mean of the stations that have coordinates")
	assert.True(t, r1.Known)
	assert.Equal(t, plant.Place{X: m, Y: m}, r2.Place)
	assert.Equal(t, []plant.StationCode{"1", "2"}, r2.Stations)
	assert.Empty(t, r2.Levels[0].Fixed)
	assert.Equal(t, []units.Length{300 * mm}, r2.Levels[1].Fixed)
	assert.False(t, r4.Known, "nobody has coordinates")
}

func TestProposedRacks(t *testing.T) {
	t.Parallel()
	x := plant.NewIndex(hall())
	c := structure.Propose(x, "C", x.RackTypes["T"], "C-N1")
	assert.True(t, c.Proposed)
	assert.Equal(t, plant.Place{X: 2 * m, Y: m}, c.Place)
	assert.Equal(t, plant.PointCode("near"), c.Point, "two points are equally near: the lower code")
	d := structure.Propose(x, "D", x.RackTypes["T"], "D-N1")
	assert.Equal(t, plant.PointCode("far"), d.Point, "the cell says where")
	assert.Equal(t, plant.Place{X: 9 * m, Y: 9 * m}, d.Place)
}
