package structure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

const mm = units.Millimetre

func at(x, y units.Length) *plant.Place { return &plant.Place{X: x * mm, Y: y * mm} }

func lanterns() *plant.Plant {
	return &plant.Plant{
		Cells: []plant.Cell{{Cell: "C"}, {Cell: "D", NewRack: at(7, 8), NewRackPoint: "P9"}},
		Stations: []plant.Station{
			{Station: "S2", Cell: "C", Place: at(1000, 0)}, {Station: "S1", Cell: "C", Place: at(0, 3)}, {Station: "S3", Cell: "C"},
			{Station: "S1", Cell: "D"},
		},
		RackTypes:   []plant.RackType{{RackType: "flow", Levels: []plant.Level{{Level: 1, Kind: plant.Supply}, {Level: 2, Kind: plant.Supply}}}},
		AislePoints: []plant.AislePoint{{Point: "P2", Place: *at(500, 100)}, {Point: "P1", Place: *at(500, -97)}, {Point: "P0", Place: *at(0, 500)}},
		Racks: []plant.Rack{
			{Rack: "R2", RackType: "flow", Cell: "C", FixedLanes: []plant.FixedLanes{{Level: 2, Widths: []units.Length{300 * mm}}}},
			{Rack: "R1", RackType: "flow", Cell: "C", Stations: []plant.StationCode{"S3", "S2", "S3"}, Place: at(5, 6), AislePoint: "P0"},
			{Rack: "R3", RackType: "flow", Cell: "D"},
			{Rack: "R4", RackType: "unknown", Cell: "D"},
			{Rack: "R1", RackType: "flow", Cell: "D"},
		},
	}
}

func TestRacks(t *testing.T) {
	t.Parallel()
	x := plant.NewIndex(lanterns())
	racks := Racks(x)
	require.Len(t, racks, 3)
	check := func(r Rack, code plant.RackCode, stations []plant.StationCode, place *plant.Place, point plant.PointCode) {
		assert.Equal(t, code, r.Rack)
		assert.Equal(t, stations, r.Stations)
		assert.Equal(t, place != nil, r.Known)
		if place != nil {
			assert.Equal(t, *place, r.Place)
		}
		assert.Equal(t, point, r.Point)
		assert.False(t, r.Proposed)
	}
	check(racks[0], "R1", []plant.StationCode{"S2", "S3"}, at(5, 6), "P0")
	// All stations of the cell; S3 has no coordinates: the mean of (0, 3) and (1000, 0).
	check(racks[1], "R2", []plant.StationCode{"S1", "S2", "S3"}, &plant.Place{X: 500 * mm, Y: 1_500_000}, "")
	check(racks[2], "R3", []plant.StationCode{"S1"}, nil, "")
	assert.Empty(t, racks[1].Levels[0].Fixed)
	assert.Equal(t, []units.Length{300 * mm}, racks[1].Levels[1].Fixed)
}

func TestPropose(t *testing.T) {
	t.Parallel()
	x := plant.NewIndex(lanterns())
	r := Propose(x, "C", x.RackTypes["flow"], "C-N1")
	assert.True(t, r.Proposed)
	assert.Equal(t, []plant.StationCode{"S1", "S2", "S3"}, r.Stations)
	assert.Equal(t, plant.Place{X: 500 * mm, Y: 1_500_000}, r.Place)
	// P1 and P2 are 98.5 mm away, both: ties by code.
	assert.Equal(t, plant.PointCode("P1"), r.Point)
	d := Propose(x, "D", x.RackTypes["flow"], "D-N1")
	assert.Equal(t, *at(7, 8), d.Place)
	assert.Equal(t, plant.PointCode("P9"), d.Point)
	none := Propose(x, "E", x.RackTypes["flow"], "E-N1")
	assert.False(t, none.Known)
	assert.Empty(t, none.Point)
}

func TestCheck(t *testing.T) {
	t.Parallel()
	level := func(drop, length units.Length) plant.RackType {
		return plant.RackType{RackType: "T", Width: 500 * mm, Depth: 900 * mm, Height: 2000 * mm,
			Levels: []plant.Level{{Level: 1, Kind: plant.Supply, Drop: drop, LaneLength: length}}}
	}
	tests := []struct {
		name  string
		rack  plant.RackType
		codes []string
	}{
		{"3 % starts", level(30*mm, 1000*mm), nil},
		{"a nanometre less may not", level(30*mm-1, 1000*mm), []string{CodeSlopeLow}},
		{"8.8 % holds", level(88*mm, 1000*mm), nil},
		{"a nanometre more may run away", level(88*mm+1, 1000*mm), []string{CodeSlopeHigh}},
		{"a return level slopes back", level(-50*mm, 1000*mm), nil},
		{"no length, no slope", level(50*mm, 0), nil},
		{"4 times its base stands", plant.RackType{Width: 500 * mm, Depth: 900 * mm, Height: 2000 * mm}, nil},
		{"a nanometre more is tall", plant.RackType{Width: 500 * mm, Depth: 900 * mm, Height: 2000*mm + 1}, []string{CodeTall}},
		{"weighs all it may carry", plant.RackType{Width: 500 * mm, Depth: 900 * mm, OwnMass: units.Kilogram, MassLimit: units.Kilogram}, []string{CodeOwnMass}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			p := &plant.Plant{RackTypes: []plant.RackType{test.rack}}
			var codes []string
			for _, f := range Check(plant.NewIndex(p)) {
				codes = append(codes, f.Code)
				require.NotNil(t, f.Measure)
				assert.NotEmpty(t, f.Remedy)
			}
			assert.Equal(t, test.codes, codes)
		})
	}
}

func TestEveryCodeHasAPage(t *testing.T) {
	t.Parallel()
	var codes []string
	for _, p := range Pages() {
		assert.NotEmpty(t, p.Title)
		assert.NotEmpty(t, p.Text)
		codes = append(codes, p.Code)
	}
	assert.ElementsMatch(t, []string{
		CodeSlopeLow, CodeSlopeHigh, CodeTall, CodeOwnMass, CodeKitLacks, CodeTubeTooLong, CodeTooNarrow, CodeRollersWide,
		CodeNoPassage, CodeTubeInLane, CodeHand, CodeReach, CodeLevelLoad, CodeUpright, CodeSupport, CodeTips, CodeNoDesign,
	}, codes)
}
