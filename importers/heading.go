package importers

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/finding"
)

// splitHeading takes a heading apart into name and unit; beside the ways that
// mark a unit, a last word that is one counts: "Length mm", "Length in mm", "BOX_L_MM".
func splitHeading(heading string) (name, unit string) {
	name, unit = value.UnitOf(heading)
	words := strings.FieldsFunc(name, func(r rune) bool { return unicode.IsSpace(r) || r == '_' })
	if unit != "" || len(words) < 2 {
		return name, unit
	}
	last := words[len(words)-1]
	if column.IsPer(words[len(words)-2]) { // "pieces per h" has no unit
		return name, unit
	}
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

// describeTitle reports a unit that a row above the headings names ("all dimensions
// in inches") where values without a unit are read in another: a title is for
// people, and what it is about can not be known.
func (t *table) describeTitle() {
	for i := range t.head.at {
		for _, c := range t.sheet.Rows[i].Cells() {
			for _, word := range strings.FieldsFunc(c.Text, func(r rune) bool { return !unicode.IsLetter(r) }) {
				if field, unit := t.readIn(word); field != "" {
					t.rd.say(finding.Finding{
						Severity: finding.Warning, Code: CodeTitleUnit, Origin: t.sheet.Origin(t.sheet.Rows[i].Number, -1),
						Summary: fmt.Sprintf("Row %d above the headings names %q, but %s was read in %s", t.sheet.Rows[i].Number, word, field, unit),
						Detail:  fmt.Sprintf("The title says %.120q. Neither heading nor cells of the column name a unit, so the plant's own counts.", trim(c.Text)),
						Remedy:  fmt.Sprintf("Write the unit behind the heading, as in %s (%s), say it in a mapping, or set it in the sheet Plant.", field, word),
					})
					return
				}
			}
		}
	}
}

// readIn returns a column whose values have no unit and are read in another unit
// than word names, and that unit; none where word names no unit or agrees.
func (t *table) readIn(word string) (field, unit string) {
	if len(word) < 2 || strings.EqualFold(word, "in") { // "m" and "in" are words of every title
		return "", ""
	}
	s := &t.rd.plant.Settings
	for _, c := range t.kind.Columns {
		at, ok := t.match.At[c.Field]
		if !ok || t.match.Unit[c.Field] != "" || !t.bare(at) {
			continue
		}
		switch column.HoldsOf(c.Field) {
		case column.Length:
			unit = cmp.Or(t.base[c.Field], s.LengthUnit)
			ok = value.KnownLength(word) && differ(value.Length, word, unit)
		case column.Mass:
			unit = cmp.Or(t.base[c.Field], s.MassUnit)
			ok = value.KnownMass(word) && differ(value.Mass, word, unit)
		default:
			ok = false
		}
		if ok {
			return c.Field, unit
		}
	}
	return "", ""
}

// differ reports whether one of two units is more than one of the other.
func differ[T comparable](read func(sheet.Cell, string, string, value.Marks) (T, error), a, b string) bool {
	one := sheet.Cell{Text: "1"}
	x, err := read(one, a, "", value.Marks{})
	y, _ := read(one, b, "", value.Marks{})
	return err == nil && x != y
}

// bare reports whether a value of a column stands without a unit.
func (t *table) bare(at int) bool {
	return slices.ContainsFunc(t.rows, func(r *row) bool {
		c := r.Cell(at)
		return !blank(c) && !strings.ContainsFunc(c.Text, func(r rune) bool { return unicode.IsLetter(r) || r == '"' || r == '\'' || r == '″' || r == '′' })
	})
}
