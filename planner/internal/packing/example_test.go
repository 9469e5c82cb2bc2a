package packing_test

import (
	"context"
	"fmt"

	"lanewright/planner/internal/packing"
)

// Cut 4 pieces of 2200 and 6 of 1600 from stocks of 6000.
func ExampleSolve() {
	p := packing.Problem{Capacity: 6000, Pieces: []packing.Piece{{Size: 2200, Count: 4}, {Size: 1600, Count: 6}}}
	r, err := packing.Solve(context.Background(), p, packing.Options{Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Count, "stocks, at least", r.Bound)
	// Output: 4 stocks, at least 4
}
