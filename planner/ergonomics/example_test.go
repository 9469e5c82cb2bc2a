package ergonomics_test

import (
	"fmt"

	"lanewright/planner/ergonomics"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// A 12 kg container lifted once a minute, an hour long, from a deck at 750 mm
// to a load edge at 1200 mm.
func ExampleLift_Index() {
	lift := ergonomics.Lift{
		Origin:      ergonomics.End{Reach: 400 * units.Millimetre, Height: 850 * units.Millimetre},
		Destination: ergonomics.End{Reach: 400 * units.Millimetre, Height: 1300 * units.Millimetre},
		Control:     true, PerMinute: 1, Duration: ergonomics.Short, Handles: plant.GoodHandles,
	}
	fmt.Printf("%.2f\n", lift.Index(12*units.Kilogram))
	// Output: 1.16
}

// How far a small person reaches over the edge of a lane at elbow height.
func ExampleReachOver() {
	fmt.Printf("%.0f mm\n", ergonomics.ReachOver(1000*units.Millimetre).MM())
	// Output: 500 mm
}
