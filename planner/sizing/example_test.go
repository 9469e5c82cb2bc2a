package sizing_test

import (
	"fmt"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// A part used twice a minute in packs of 20, refilled every hour: the loop
// lives through two intervals, the train carries one interval's use.
func ExampleSize() {
	p := &plant.Plant{
		Parts:      []plant.Part{{Part: "LENS", Container: "TOTE", Pack: 20}},
		Containers: []plant.Container{{Container: "TOTE"}},
	}
	loop := demand.Loop{
		Key: demand.Key{Part: "LENS", Cell: "C", Station: "10"}, Container: "TOTE", Pack: 20,
		Rate: units.Int(2), Interval: time.Hour, Response: time.Hour, Model: plant.SteadyModel,
	}
	sized, _ := sizing.Size(plant.NewIndex(p), []demand.Loop{loop})
	fmt.Println(sized[0].Cards, "cards,", sized[0].Containers, "containers,", loop.Containers(time.Hour), "on each round")
	// Output: 12 cards, 13 containers, 6 on each round
}

// Ten containers of 400 x 300 mm on a level 1300 mm deep: three to a lane.
func ExampleLaneOn() {
	tote := plant.Container{Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 200 * units.Millimetre}
	level := plant.Level{LaneLength: 1300 * units.Millimetre, ClearHeight: 300 * units.Millimetre}
	lane, fits := sizing.LaneOn(tote, 10, level, plant.DefaultSettings(), plant.LengthAlong)
	fmt.Println(fits, lane.Capacity, "to a lane,", lane.Lanes, "lanes of", lane.Width)
	// Output: true 3 to a lane, 4 lanes of 320 mm
}
