package placement

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// twoLevels is the layout of a rack whose levels of 990 mm have so many
// millimetres in lanes with a part, guides of 10 mm left out.
func twoLevels(first, second units.Length) (Input, []Lane) {
	s := newSmall()
	for i := range s.plant.RackTypes[0].Levels {
		s.plant.RackTypes[0].Levels[i].UsableWidth = 990 * mm
	}
	lane := func(level int, width units.Length) Lane {
		return Lane{Rack: "R", Level: level, Lane: 1, Kind: plant.Supply, Width: width * mm, Loop: demand.Key{Part: "A"}}
	}
	return s.input(), []Lane{lane(1, first), lane(2, second), {Rack: "R", Level: 2, Lane: 2, Kind: plant.Supply, Width: 100 * mm}, {Rack: "R", Level: 3, Lane: 1, Kind: plant.Return, Width: 500 * mm}}
}

func TestUses(t *testing.T) {
	t.Parallel()
	in, lanes := twoLevels(740, 240)
	assert.Equal(t, []Use{{
		Cell: "C", Levels: 2, Mean: units.R(1, 2), Highest: units.R(3, 4), Lowest: units.R(1, 4),
		HighestAt: Spot{Rack: "R", Level: 1}, LowestAt: Spot{Rack: "R", Level: 2},
	}}, Uses(in.Racks, lanes, 10*mm))
	assert.Empty(t, Uses(nil, nil, 0))
}

func TestUnevenLevels(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name          string
		first, second units.Length
		summary       string
	}{
		{"one crammed, one almost empty", 950, 280, "Cell C: level 1 of rack R is filled to 96 %, level 2 of rack R to 29 %"},
		{"the other way round", 280, 950, "Cell C: level 2 of rack R is filled to 96 %, level 1 of rack R to 29 %"},
		{"95 % is not more than 95 %", 940, 280, ""},
		{"30 % is not less than 30 %", 950, 290, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			in, lanes := twoLevels(test.first, test.second)
			list := uneven(in.Racks, lanes, 10*mm)
			if test.summary == "" {
				assert.Empty(t, list)
				return
			}
			if assert.Len(t, list, 1) {
				assert.Equal(t, CodeUneven, list[0].Code)
				assert.Equal(t, test.summary, list[0].Summary)
			}
		})
	}
}
