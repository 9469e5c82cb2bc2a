package simulation_test

import (
	"fmt"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

func ExampleLeastContainers() {
	x := plant.NewIndex(&plant.Plant{
		Parts:      []plant.Part{{Part: "LENS", Container: "TOTE", Pack: 20}},
		Containers: []plant.Container{{Container: "TOTE"}},
	})
	// Used twice a minute, refilled every hour.
	loop := demand.Loop{
		Key: demand.Key{Part: "LENS", Cell: "C", Station: "10"}, Container: "TOTE", Pack: 20,
		Rate: units.Int(2), Interval: time.Hour, Response: time.Hour, Model: plant.SteadyModel,
	}
	sized, _ := sizing.Size(x, []demand.Loop{loop})
	fmt.Println("the rule says", sized[0].Containers)
	fmt.Println("in play", simulation.LeastContainers(sized[0], 100), "are enough, with", 12, "it runs dry:", simulation.RunsDry(sized[0], 12))
	// Output:
	// the rule says 13
	// in play 13 are enough, with 12 it runs dry: true
}
