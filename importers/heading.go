package importers

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/value"
	"lanewright/planner/finding"
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
	if !value.KnownLength(last) && !value.KnownMass(last) && !value.KnownDuration(last) && !value.KnownSpeed(last) && !value.KnownStress(last) {
		return name, unit
	}
	words = words[:len(words)-1]
	if n := len(words); n > 1 && strings.EqualFold(words[n-1], "in") {
		words = words[:n-1]
	}
	return strings.Join(words, " "), last
}

// describeUnits reports units in headings of columns that hold plain counts
// or rates: nothing is converted, so 10 (dozen) would be read as ten.
func (t *table) describeUnits(headings []string) {
	for _, c := range t.kind.Columns {
		unit := t.match.Unit[c.Field]
		if !column.HoldsOf(c.Field).IsCounted() || unit == "" || value.KnownCount(unit) || saysTheSame(c, unit) {
			continue
		}
		t.heading(finding.Warning, CodeColumnUnit, t.match.At[c.Field], fmt.Sprintf("The heading %q names %q, but %s has no unit", headings[t.match.At[c.Field]], unit, c.Field),
			"The values were read as plain numbers; nothing was converted.", "Take the unit out of the heading if the values are "+c.Field+" as they stand; else convert them.")
	}
}

// saysTheSame reports whether the unit is the column once more: "pcs/h" of
// Pieces per hour.
func saysTheSame(c column.Column, unit string) bool {
	same := func(name string) bool { return column.Fold(name) == column.Fold(unit) }
	return same(c.Field) || slices.ContainsFunc(c.Synonyms, same)
}
