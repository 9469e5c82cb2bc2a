package ergonomics

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// End is where the hands are at one end of a lift.
type End struct {
	// Reach is the horizontal distance of the hands from the ankles, Height
	// theirs above the floor.
	Reach, Height units.Length
	// Angle is the asymmetry in degrees.
	Angle float64
}

// Lift is one lifting task.
type Lift struct {
	Origin, Destination End
	// Control says that the load must be set down with care: then the
	// destination is judged too.
	Control bool
	// PerMinute is the lifts a minute, averaged over 15 minutes.
	PerMinute float64
	Duration  Duration
	Handles   plant.Handles
}

// Index returns the lifting index of mass by the planner's Equation: metric, at
// full precision.
func (l Lift) Index(mass units.Mass) float64 { return Equation{}.Index(l, mass) }
