package floor_test

import (
	"fmt"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// How to find the quickest way of a vehicle: east of the market runs a slow
// aisle past the glass store, and a longer one-way aisle around it.
func Example_quickestWay() {
	const metre = units.Metre
	p := &plant.Plant{
		AislePoints: []plant.AislePoint{
			{Point: "MARKET", Kind: plant.Market},
			{Point: "GLASS", Place: plant.Place{X: 40 * metre}},
			{Point: "LENS", Place: plant.Place{X: 80 * metre}},
		},
		Aisles: []plant.Aisle{
			{From: "MARKET", To: "GLASS", SpeedLimit: units.MetrePerSecond / 2},
			{From: "GLASS", To: "LENS"},
			{From: "MARKET", To: "LENS", Length: 100 * metre, OneWay: true},
		},
	}
	network, _ := floor.New(p)
	ways := network.Quickest([]plant.PointCode{"MARKET", "LENS"}, floor.Ride{Speed: units.MetrePerSecond}, 2)
	there, _ := ways.Between("MARKET", "LENS")
	back, _ := ways.Between("LENS", "MARKET")
	fmt.Println("there:", there.Time, there.Length.Metres(), "m")
	fmt.Println("back: ", back.Time, back.Length.Metres(), "m")
	// Output:
	// there: 1m40s 100 m
	// back:  2m0s 80 m
}
