package structure_test

import (
	"fmt"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Find levels on which containers may not start, or run away.
func ExampleCheck() {
	const mm = units.Millimetre
	p := &plant.Plant{RackTypes: []plant.RackType{{RackType: "lens rack", Width: 1250 * mm, Depth: 1500 * mm, Height: 1800 * mm, Levels: []plant.Level{
		{Level: 1, Kind: plant.Return, PickHeight: 300 * mm, Drop: -60 * mm, LaneLength: 1450 * mm},
		{Level: 2, Kind: plant.Supply, PickHeight: 700 * mm, Drop: 20 * mm, LaneLength: 1450 * mm},
		{Level: 3, Kind: plant.Supply, PickHeight: 1100 * mm, Drop: 145 * mm, LaneLength: 1450 * mm},
	}}}}
	for _, f := range structure.Check(plant.NewIndex(p)) {
		fmt.Println(f.Severity, f.Summary)
	}
	// Output:
	// note Level 2 of rack type lens rack slopes 1.38 %, less than 3 %
	// note Level 3 of rack type lens rack slopes 10 %, more than 8.8 %
}
