package ergonomics

import (
	"math"

	"lanewright/planner/units"
)

// Constants of the Revised NIOSH Lifting Equation, metric set (Waters,
// Putz-Anderson, Garg, Applications Manual for the Revised NIOSH Lifting
// Equation, DHHS (NIOSH) Pub. 94-110, 1994, pp. 7-18).
const (
	// LoadConstant is the mass in kg that may be lifted under the best
	// conditions.
	LoadConstant = 23.0
	// highestHands is the height above which the equation allows no lift.
	highestHands = 175.0
	// farthestHands is the horizontal distance beyond which it allows none.
	farthestHands = 63.0
)

func centimetres(l units.Length) float64 { return float64(l) / float64(units.Centimetre) }

// VM is the vertical multiplier of the equation at the height of the hands,
// 1 − 0.003·|V − 75| with V in cm. Above 175 cm, where the equation gives 0,
// it is held at its 175 cm value 0.70, so that effort stays finite.
func VM(height units.Length) float64 {
	v := min(max(centimetres(height), 0), highestHands)
	return 1 - 0.003*math.Abs(v-75)
}

// vertical is VM as the equation has it: 0 above 175 cm.
func vertical(height units.Length) float64 {
	if centimetres(height) > highestHands {
		return 0
	}
	return VM(height)
}

// horizontal is HM = 25/H; H below 25 cm counts as 25, above 63 cm gives 0.
func horizontal(h float64) float64 {
	if h > farthestHands {
		return 0
	}
	return 25 / max(h, 25)
}

// travel is DM = 0.82 + 4.5/D; D below 25 cm counts as 25, above 175 cm
// gives 0.
func travel(d float64) float64 {
	if d > 175 {
		return 0
	}
	return 0.82 + 4.5/max(d, 25)
}

// asymmetry is AM = 1 − 0.0032·A in degrees; above 135° it gives 0.
func asymmetry(a float64) float64 {
	if a > 135 {
		return 0
	}
	return 1 - 0.0032*a
}
