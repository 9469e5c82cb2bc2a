package cutting_test

import (
	"context"
	"fmt"

	"lanewright/planner/internal/cutting"
)

// Four tubes of 2 m from bars of 6 m, with an offcut of 2.1 m on hand.
func ExampleSolve() {
	r, err := cutting.Solve(context.Background(), cutting.Problem{
		Items:  []cutting.Item{{Length: 2000, Count: 4}},
		Stocks: []cutting.Stock{{Length: 6010, Cost: 6010, Count: cutting.Unlimited}, {Length: 2100, Count: 1}},
		Kerf:   3,
	}, cutting.Options{})
	fmt.Println(r.Cost, r.Proved(), len(r.Patterns), err)
	// Output: 6010 true 2 <nil>
}
