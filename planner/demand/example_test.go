package demand_test

import (
	"fmt"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// 240 lanterns a day with two lenses each and 5 % scrap, over 480 net minutes.
func ExampleLoops() {
	p := &plant.Plant{
		Settings:   plant.DefaultSettings(),
		Shifts:     []plant.Shift{plant.DefaultShift()},
		Products:   []plant.Product{{Product: "LANTERN", UnitsPerDay: units.Int(240)}},
		Parts:      []plant.Part{{Part: "LENS", Container: "TOTE", Pack: 20}},
		Containers: []plant.Container{{Container: "TOTE"}},
		Cells:      []plant.Cell{{Cell: "C"}},
		Usage:      []plant.Usage{{Product: "LANTERN", Part: "LENS", Cell: "C", Station: "10", PerUnit: units.Int(2), Scrap: units.R(5, 100)}},
	}
	loops, _ := demand.Loops(plant.NewIndex(p), p.Settings)
	fmt.Println(loops[0].Rate, "pieces a minute,", loops[0].Model)
	// Output: 1.05 pieces a minute, steady
}
