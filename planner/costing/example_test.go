package costing_test

import (
	"fmt"

	"lanewright/planner/costing"
)

// Price the small works of the tests for a year.
func ExampleYear() {
	cost := costing.Year(works())
	for _, l := range cost.Lines {
		fmt.Printf("%s: %s %s at %s = %s\n", l.Kind, l.Quantity, l.Unit, l.Price, l.Amount)
	}
	fmt.Println("a year:", cost.Total)
	// Output:
	// handlers: 5400 hours at 30 = 162000
	// vehicles: 2 vehicles at 4000 = 8000
	// racks: 3000 of rack value at 0.1 = 300
	// floor: 3 m² at 120 = 360
	// stock: 260 of stock value at 0.08 = 20.8
	// a year: 170680.8
}
