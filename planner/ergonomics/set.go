package ergonomics

import "lanewright/planner/units"

// Set is one of the equation's two sets of constants. They are no conversions
// of each other (51 lb is 23.13 kg, 10 in are 25.4 cm), so a lift is judged in
// one of them from beginning to end and its limit is never carried over.
type Set int

// The sets of constants.
const (
	Metric Set = iota
	Customary
)

// constants are those of one set. Lengths of the equation are numbers of Unit,
// masses of Weight.
type constants struct {
	unit   units.Length
	weight units.Mass
	// load is the load constant LC.
	load float64
	// nearest and farthest bound the horizontal distance H.
	nearest, farthest float64
	// knuckle is the height at which VM is 1 and the columns of Tables 5 and 7
	// part; slope what it loses for each unit; highest the height above which
	// nothing is lifted.
	knuckle, slope, highest float64
	// travel is the numerator of DM; shortest and longest bound D.
	travel, shortest, longest float64
	// body is H of a container of no depth, low what comes to it below the
	// height floor.
	body, low, floor float64
	// printed are cells of the manual's tables that differ from the formula
	// rounded to two places: of Table 1 by H, of Table 3 by D.
	printedH, printedD map[float64]float64
}

// sets are the constants of the manual, pp. 7-15. Three printed cells disagree
// with their formula: H 22 in (.4545), H 23 in (.4348) and D 130 cm (.8546).
var sets = [...]constants{
	Metric: {
		unit: units.Centimetre, weight: units.Kilogram, load: LoadConstant,
		nearest: 25, farthest: 63, knuckle: 75, slope: 0.003, highest: highestHands,
		travel: 4.5, shortest: 25, longest: 175, body: 20, low: 5, floor: 25,
		printedD: map[float64]float64{130: 0.86},
	},
	Customary: {
		unit: units.Inch, weight: units.Pound, load: 51,
		nearest: 10, farthest: 25, knuckle: 30, slope: 0.0075, highest: 70,
		travel: 1.8, shortest: 10, longest: 70, body: 8, low: 2, floor: 10,
		printedH: map[float64]float64{22: 0.46, 23: 0.44},
	},
}

// of is a length as a number of the set's unit.
func (c *constants) of(l units.Length) float64 { return float64(l) / float64(c.unit) }

// ReachOf returns the horizontal distance of the hands for a container of depth
// w towards the body where nobody measured it: metric 20 + w/2 cm, customary
// 8 + w/2 in; 5 cm or 2 in more with the hands below 25 cm or 10 in (pp. 7-8).
func (s Set) ReachOf(depth, height units.Length) units.Length {
	c := &sets[s]
	reach := units.Length(c.body)*c.unit + depth/2
	if c.of(height) < c.floor {
		reach += units.Length(c.low) * c.unit
	}
	return reach
}
