package tours_test

import (
	"context"
	"fmt"

	"lanewright/planner/tours"
)

// Four stops lie on a one-way ring round the depot; two fit a route. Going on
// along the ring costs 1 a place, so the two routes end when they have passed
// the depot again.
func Example() {
	const places = 5
	p := &tours.Problem{Stops: places - 1, Costs: make([]int32, places*places), Loads: []tours.Load{{Mean: []int64{0, 1, 1, 1, 1}, Capacity: 2}}}
	for a := range places {
		for b := range places {
			p.Costs[a*places+b] = int32((b - a + places) % places)
		}
	}
	r, err := tours.Solve(context.Background(), p, tours.Limits{Steps: 1000}, tours.Settings{Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(r.Routes), "routes, cost", r.Cost, r.Feasible)
	// Output: 2 routes, cost 10 true
}
