package ergonomics

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Lift is one lifting task.
type Lift struct {
	// Reach is the horizontal distance of the hands from the ankles at the
	// place judged.
	Reach units.Length
	// Origin and Destination are the heights of the hands.
	Origin, Destination units.Length
	// Angle is the asymmetry in degrees.
	Angle float64
	// PerMinute is the lifts a minute, averaged over 15 minutes.
	PerMinute float64
	Duration  Duration
	Handles   plant.Handles
}

// Limit returns the recommended weight limit in kg with the hands at height,
// the origin or the destination of the lift:
//
//	RWL = 23·HM·VM·DM·AM·FM·CM
//
// FM takes the height of the hands at the origin, CM the height judged (Waters,
// Putz-Anderson, Garg, DHHS (NIOSH) Pub. 94-110, 1994, pp. 7-18, 46, 74).
func (l Lift) Limit(height units.Length) float64 {
	distance := max(l.Origin-l.Destination, l.Destination-l.Origin)
	return LoadConstant *
		horizontal(centimetres(l.Reach)) * vertical(height) * travel(centimetres(distance)) *
		asymmetry(l.Angle) * FM(l.PerMinute, l.Duration, l.Origin) * CM(l.Handles, height)
}

// Index returns mass over the lower of the two limits, origin and destination,
// as where a load must be set down with control (pp. 21, 26). It is +Inf
// where a limit is 0.
func (l Lift) Index(mass units.Mass) float64 {
	return mass.KG() / min(l.Limit(l.Origin), l.Limit(l.Destination))
}

// CM is the coupling multiplier of Table 7 (p. 18).
func CM(h plant.Handles, height units.Length) float64 {
	switch {
	case h == plant.PoorHandles:
		return 0.90
	case h == plant.FairHandles && centimetres(height) < 75:
		return 0.95
	default:
		return 1
	}
}

// ReachOf returns the horizontal distance of the hands for a container of
// depth w towards the body where nobody measured it: 20 + w/2 cm with the
// hands at 25 cm or higher, else 25 + w/2 cm (pp. 7-8, metric set).
func ReachOf(depth, height units.Length) units.Length {
	if height >= 25*units.Centimetre {
		return 20*units.Centimetre + depth/2
	}
	return 25*units.Centimetre + depth/2
}
