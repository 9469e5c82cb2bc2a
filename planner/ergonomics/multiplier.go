package ergonomics

import (
	"math"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

const (
	// LoadConstant is the mass in kg that may be lifted under the best
	// conditions, metric set.
	LoadConstant = 23.0
	// highestHands is the height in cm above which the equation allows no lift.
	highestHands = 175.0
)

// VM is the vertical multiplier of the equation's metric set at the height of
// the hands, 1 − 0.003·|V − 75| with V in cm. Above 175 cm, where the equation
// gives 0, it is held at its 175 cm value 0.70, so that effort stays finite.
func VM(height units.Length) float64 {
	c := &sets[Metric]
	v := min(max(c.of(height), 0), c.highest)
	return 1 - c.slope*math.Abs(v-c.knuckle)
}

// horizontal is HM: 25/H or 10/H; a nearer H counts as 25 cm or 10 in, beyond
// 63 cm or 25 in it is 0 (p. 8).
func (c *constants) horizontal(h float64) float64 {
	if h > c.farthest {
		return 0
	}
	return c.nearest / max(h, c.nearest)
}

// vertical is VM: 1 − .003·|V − 75| or 1 − .0075·|V − 30|; above 175 cm or 70 in
// it is 0 (p. 9).
func (c *constants) vertical(v float64) float64 {
	if v > c.highest {
		return 0
	}
	return 1 - c.slope*math.Abs(max(v, 0)-c.knuckle)
}

// distance is DM: .82 + 4.5/D or .82 + 1.8/D; a shorter D counts as 25 cm or
// 10 in, beyond 175 cm or 70 in it is 0 (p. 10).
func (c *constants) distance(d float64) float64 {
	if d > c.longest {
		return 0
	}
	return 0.82 + c.travel/max(d, c.shortest)
}

// asymmetry is AM: 1 − .0032·A in degrees; above 135° it is 0 (p. 11).
func asymmetry(a float64) float64 {
	if a > 135 {
		return 0
	}
	return 1 - 0.0032*a
}

// coupling is CM of Table 7 (p. 18).
func (c *constants) coupling(h plant.Handles, v float64) float64 {
	switch {
	case h == plant.PoorHandles:
		return 0.90
	case h == plant.FairHandles && v < c.knuckle:
		return 0.95
	default:
		return 1
	}
}
