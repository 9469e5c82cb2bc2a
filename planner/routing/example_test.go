package routing_test

import (
	"context"
	"fmt"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// How to plan refill routes: two racks 40 m and 60 m from the market use 6 and
// 9 containers an hour; one cart of 20 serves both.
func Example_refillRoute() {
	const metre = units.Metre
	p := &plant.Plant{
		Settings: plant.DefaultSettings(),
		AislePoints: []plant.AislePoint{
			{Point: "MARKET", Kind: plant.Market},
			{Point: "LENS", Place: plant.Place{X: 40 * metre}},
			{Point: "FRAME", Place: plant.Place{X: 60 * metre}},
		},
		Aisles: []plant.Aisle{{From: "MARKET", To: "LENS"}, {From: "LENS", To: "FRAME"}},
		Vehicles: []plant.Vehicle{{
			Vehicle: "CART", Count: 1, Containers: 20, Speed: units.MetrePerSecond,
			StopTime: 20 * time.Second, LoadTime: 5 * time.Second, UnloadTime: 7 * time.Second,
		}},
		Shifts: []plant.Shift{{
			Shift: "day", Start: 6 * time.Hour, End: 10 * time.Hour,
			Breaks: []plant.Break{{Start: 8 * time.Hour, Length: 15 * time.Minute}},
		}},
	}
	network, _ := floor.New(p)
	plan := routing.Routes(context.Background(), routing.Input{
		Plant: p.Settings, Index: plant.NewIndex(p), Network: network,
		Racks: []structure.Rack{{Rack: "R1", Point: "LENS"}, {Rack: "R2", Point: "FRAME"}},
		Demands: []routing.Demand{
			{Loop: demand.Key{Part: "4711"}, Rack: "R1", Share: units.Int(1), Rate: 0.1, Interval: time.Hour},
			{Loop: demand.Key{Part: "0815"}, Rack: "R2", Share: units.Int(1), Rate: 0.15, Interval: time.Hour},
		},
	}, routing.DefaultSettings(), 1, 2, nil)
	for _, r := range plan.Routes {
		fmt.Printf("route %s: %s, %g m, round %s, %.4g containers\n", r.Route, r.Vehicle, r.Travel.Metres(), r.Round, r.LoadMean)
		for _, s := range r.Stops {
			fmt.Printf("  %s after %s: %.4g containers\n", s.Rack, s.Arrive, s.Containers)
		}
		fmt.Println("  leaves at", r.Timetable[0].Departures)
	}
	// Output:
	// route A: CART, 120 m, round 5m40s, 15 containers
	//   R1 after 40s: 6 containers
	//   R2 after 2m2s: 9 containers
	//   leaves at [6h0m0s 7h0m0s 8h15m0s 9h15m0s]
}
