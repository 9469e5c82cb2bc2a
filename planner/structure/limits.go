package structure

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Limits are what a rack is screened against. They screen only: a licensed
// engineer, the makers' load tables and local code decide.
type Limits struct {
	// StressShare of the yield stress that bending may reach: 0.6 (allowable
	// stress design, from memory).
	StressShare float64
	// SpanOver: a tube may bend by its span over this; 180 (ANSI MH16.1 for beams
	// of racks, seen in a copy).
	SpanOver float64
	// ColumnLength is how many times the free length of an upright counts, for the
	// frame may sway: 1.7 (ANSI MH16.1, from memory). ColumnSafety divides the
	// stress at which it buckles: 1.67 (AISC 360, from memory). MostSlender is the
	// largest effective length over radius of gyration: 200 (AISC, from memory).
	ColumnLength, ColumnSafety, MostSlender float64
	// Continuous is how much more a cross tube between others carries than its
	// share of the lane, because tracks run on over it: 1.25 (two equal spans,
	// beam tables, from memory).
	Continuous float64
	// TallOver is height over least base width from which a rack may tip: 4.
	// TipAngle is the least angle, in degrees, by which the loaded rack must lean
	// before it falls: 10. Both common practice, no source.
	TallOver, TipAngle float64
	// Push is a horizontal push in N at PushHeight in mm, or at the rack's top where
	// that is lower; what holds the rack down must be PushSafety times what the push
	// lifts. Common practice, no source.
	Push, PushHeight, PushSafety float64
	// Reach is how far a hand reaches in from the pick side, in mm, to the far wall
	// of a container. Common practice, no source.
	Reach float64
	// Hand is the free height over a container at the pick edge: the plant's
	// setting.
	Hand units.Length
}

// DefaultLimits are the limits with the sources their fields name.
func DefaultLimits() Limits {
	return Limits{
		StressShare: 0.6, SpanOver: 180, ColumnLength: 1.7, ColumnSafety: 1.67, MostSlender: 200, Continuous: 1.25,
		TallOver: mostSlender, TipAngle: 10, Push: 150, PushHeight: 1400, PushSafety: 1.5, Reach: 650,
		Hand: plant.DefaultSettings().HandClearance,
	}
}

// gravity is standard gravity in m/s² (exact by definition).
const gravity = 9.80665
