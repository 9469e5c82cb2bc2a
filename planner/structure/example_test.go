package structure_test

import (
	"fmt"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// A lane that drops 20 mm over 1.2 m may be too flat for a container to start.
func ExampleCheck() {
	p := &plant.Plant{RackTypes: []plant.RackType{{
		RackType: "FLAT", Levels: []plant.Level{{Level: 1, Kind: plant.Supply, Drop: 20 * units.Millimetre, LaneLength: 1200 * units.Millimetre}},
	}}}
	for _, f := range structure.Check(plant.NewIndex(p)) {
		fmt.Println(f.Summary)
	}
	// Output: Level 1 of rack type FLAT slopes 1.67 %, less than 3 %
}
