// Package ergonomics judges lifting and reach: refilling and picking of every lane
// by the Revised NIOSH Lifting Equation, rounds and stations by its composite
// index, hands by published measures of people, and what one person lifts in a
// day. It is a screening only; a qualified person decides.
package ergonomics

import "lanewright/planner/units"

// Settings are the heights and reaches that no sheet states.
type Settings struct {
	// Deck is the height of the vehicle's deck from which a handler lifts.
	// 750 mm is the default of the planning rules.
	Deck units.Length
	// PickReach is the horizontal distance of the hands when a piece is
	// picked. 400 mm, common practice, no source.
	PickReach units.Length
	// Work is the height of the hands where a picked piece goes. 1000 mm, about
	// the height of the elbows, common practice, no source.
	Work units.Length
}

// DefaultSettings returns the defaults of the planning rules.
func DefaultSettings() Settings {
	return Settings{Deck: 750 * units.Millimetre, PickReach: 400 * units.Millimetre, Work: 1000 * units.Millimetre}
}
