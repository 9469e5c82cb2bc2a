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
		Reach: 400 * units.Millimetre, Origin: 850 * units.Millimetre, Destination: 1300 * units.Millimetre,
		PerMinute: 1, Duration: ergonomics.Short, Handles: plant.GoodHandles,
	}
	fmt.Printf("%.2f\n", lift.Index(12*units.Kilogram))
	// Output: 1.16
}
