package placement

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// A pin that plant.Check calls an error is left out: its loop lies elsewhere.
func TestPinsLeftOut(t *testing.T) {
	t.Parallel()
	pin := func(part plant.PartCode, rack plant.RackCode, level, lane int) plant.Pin {
		return plant.Pin{Part: part, Rack: rack, Level: level, Lane: lane}
	}
	tests := []struct {
		name string
		pins []plant.Pin
		kept int
	}{
		{"no rack of that code", []plant.Pin{pin("A", "X", 0, 0)}, 0},
		{"no level of that number", []plant.Pin{pin("A", "R", 4, 0)}, 0},
		{"a level for returns", []plant.Pin{pin("A", "R", 3, 0)}, 0},
		{"beyond the fixed lanes", []plant.Pin{pin("A", "R", 2, 3)}, 0},
		{"a rack twice", []plant.Pin{pin("A", "R", 0, 0), pin("A", "R", 1, 0)}, 2},
		{"two levels", []plant.Pin{pin("A", "R", 2, 0), pin("A", "R", 1, 0)}, 1},
		{"one lane for two parts", []plant.Pin{pin("A", "R", 2, 1), pin("B", "R", 2, 1)}, 1},
		{"the second of a row that was left out", []plant.Pin{pin("A", "R", 4, 0), pin("A", "R", 1, 0)}, 1},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSmall(3, 3)
			s.plant.Racks[0].FixedLanes = []plant.FixedLanes{{Level: 2, Widths: []units.Length{320 * mm, 320 * mm}}}
			for i := range test.pins {
				test.pins[i].Origin = finding.Origin{Sheet: "Pins", Row: i + 2}
			}
			s.plant.Pins = test.pins
			for _, l := range s.loops {
				s.plant.Usage = append(s.plant.Usage, plant.Usage{Part: l.Part, Cell: l.Cell, Station: l.Station, PerHour: units.Int(1)})
			}
			in := s.input()
			errors := map[int]bool{}
			for _, f := range plant.Check(s.plant) {
				if f.Severity == finding.Error && f.Origin.Row > 0 {
					errors[f.Origin.Row] = true
				}
			}
			assert.Len(t, heeded(in), test.kept)
			assert.Len(t, errors, len(test.pins)-test.kept)
			l := placed(in, 1)
			assert.Empty(t, l.Unplaced)
			assert.Empty(t, broken(in, l))
		})
	}
}

// A loop pinned to a lane number but to no level is shared out over the levels
// of its rack when one has no room for it, as long as one lane has the number.
func TestPinnedLaneMayBeSplit(t *testing.T) {
	t.Parallel()
	s := newSmall(12, 6)
	s.plant.Racks = append(s.plant.Racks, plant.Rack{Rack: "Q", RackType: "flow", Cell: "C"})
	s.plant.Pins = []plant.Pin{{Part: "A", Rack: "R", Lane: 3}}
	in := s.input()
	l := placed(in, 1)
	require.Empty(t, broken(in, l))
	assert.Empty(t, l.Unplaced)
	assert.Equal(t, 1, splitsOf(l))
}

// TestPinnedLoopIsBoundAlone: of a loop that is pinned to a level of 900 mm two lanes of
// three containers fit, and no layout has more, though the width left over is most of a
// third lane.
func TestPinnedLoopIsBoundAlone(t *testing.T) {
	t.Parallel()
	s := newSmall(8, 2)
	for i := range s.plant.RackTypes[0].Levels {
		s.plant.RackTypes[0].Levels[i].UsableWidth = 900 * mm
	}
	s.plant.Pins = []plant.Pin{{Part: "A", Rack: "R", Level: 2}}
	l := placed(s.input(), 1)
	require.Len(t, l.Unplaced, 1)
	assert.Equal(t, 2, l.Unplaced[0].Containers)
	assert.Equal(t, []int{2, 2}, []int{l.Bounds[0].Unplaced, l.Bounds[0].UnplacedBound})
	assert.True(t, l.Bounds[0].Optimal)
}

// TestPinnedLanesOfCrammedCells: cells too small for their loops, many of them pinned to
// lane numbers, keep every pin or leave the loop out, however its parts are moved about.
func TestPinnedLanesOfCrammedCells(t *testing.T) {
	t.Parallel()
	for seed := range uint64(600) {
		d := seeded(seed)
		in := made(d, recipe{loops: d.from(3, 8), racks: 1, types: 2, stations: 1, levels: 3, width: 1800, fixed: 40, pins: 80, apart: 40, today: 60, containers: 24})
		require.Empty(t, broken(in, hasty(in, 1)), "seed %d", seed)
	}
}
