// Package column recognises the headings of a plant's sheets: the canonical
// names, the names that plants use instead, and what was probably meant where
// neither fits. It guesses nothing: a near miss is a question, never a match.
package column

import "slices"

// Column is one canonical column of the plant workbook.
type Column struct {
	// Field is the canonical name without a unit, "Piece mass".
	Field string
	// Required says that a sheet without the column can not be read.
	Required bool
	// Unit is the one that holds where the heading and the cell name none;
	// empty leaves it to the Plant sheet or means that there is none.
	Unit string
	// Synonyms are other headings that mean the same, without units.
	Synonyms []string
}

// Sheet is one canonical sheet of the plant workbook.
type Sheet struct {
	Name string
	// Synonyms are other names of the sheet.
	Synonyms []string
	Columns  []Column
}

// Column returns the column whose canonical name is field; ok is false when
// the sheet has none.
func (s Sheet) Column(field string) (c Column, ok bool) {
	for _, c := range s.Columns {
		if c.Field == field {
			return c, true
		}
	}
	return Column{}, false
}

// Named reports whether name is a name of the sheet.
func (s Sheet) Named(name string) bool {
	folded := Fold(name)
	if folded == Fold(s.Name) {
		return true
	}
	for _, n := range slices.Concat(s.Synonyms, translations("", s.Name)) {
		if folded == Fold(n) {
			return true
		}
	}
	return false
}

// required and optional shorten the tables.
func required(field string, synonyms ...string) Column {
	return Column{Field: field, Required: true, Synonyms: synonyms}
}

func optional(field string, synonyms ...string) Column {
	return Column{Field: field, Synonyms: synonyms}
}

// in gives the column its own unit.
func (c Column) in(unit string) Column {
	c.Unit = unit
	return c
}

// must makes the column required.
func (c Column) must() Column {
	c.Required = true
	return c
}
