package importers

import (
	"strings"

	"lanewright/importers/value"
)

// splitHeading takes a heading apart into name and unit; beside the ways that
// mark a unit, a last word that is one counts: "Length mm", "Length in mm".
func splitHeading(heading string) (name, unit string) {
	name, unit = value.UnitOf(heading)
	words := strings.Fields(name)
	if unit != "" || len(words) < 2 {
		return name, unit
	}
	last := words[len(words)-1]
	if !value.KnownLength(last) && !value.KnownMass(last) && !value.KnownDuration(last) && !value.KnownSpeed(last) {
		return name, unit
	}
	words = words[:len(words)-1]
	if n := len(words); n > 1 && strings.EqualFold(words[n-1], "in") {
		words = words[:n-1]
	}
	return strings.Join(words, " "), last
}
