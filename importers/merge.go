package importers

import (
	"fmt"
	"reflect"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Codes of findings about rows of a flat table that speak of one thing.
const (
	CodeFlatConflict = "flat.conflict"
	CodeFlatDiffers  = "flat.differs"
)

// mergeField is a column that several rows may state of one thing, with the
// field of the plant that holds it. Rows may differ in what is for information
// only: then the first counts.
type mergeField struct {
	column, field string
	info          bool
}

var partFields = []mergeField{
	{"Container", "Container", false}, {"Standard pack", "Pack", false}, {"Piece mass", "PieceMass", false},
	{"Pick hand", "TwoHands", false}, {"Keep apart", "KeepApart", false}, {"Look-alike of", "LookAlike", false},
	{"Description", "Description", true}, {"Market address", "MarketAddress", true}, {"Unit cost", "UnitCost", true},
}

var containerFields = []mergeField{
	{"Length", "Length", false}, {"Width", "Width", false}, {"Height", "Height", false},
	{"Empty mass", "EmptyMass", false}, {"Gross mass limit", "GrossLimit", false}, {"Returnable", "Returnable", false},
	{"Flow side", "FlowSide", false}, {"Handles", "Handles", false}, {"Nests", "Nests", false},
}

// merger brings together what the rows of flat tables say of one thing.
type merger struct {
	fields []mergeField
	// by remembers which row first gave a column of a thing.
	by map[[2]string]*row
}

func newMerger(fields []mergeField) *merger {
	return &merger{fields: fields, by: map[[2]string]*row{}}
}

// merge adds to *into what row r gives in from and earlier rows left blank.
// It reports false when r contradicts an earlier row. defined is the row that
// entered the thing.
func (m *merger) merge(name string, into, from any, r, defined *row) bool {
	a, b := reflect.ValueOf(into).Elem(), reflect.ValueOf(from)
	var fresh []mergeField
	for _, f := range m.fields {
		if !r.given(f.column) && f.column != "Container" {
			continue
		}
		first := m.giver(name, f, defined)
		switch {
		case first == nil:
			fresh = append(fresh, f)
		case same(a.FieldByName(f.field), b.FieldByName(f.field)):
		case f.info:
			m.differs(name, f, r, first)
		default:
			m.conflict(name, f, r, first)
			return false
		}
	}
	for _, f := range fresh {
		m.by[[2]string{name, f.column}] = r
		a.FieldByName(f.field).Set(b.FieldByName(f.field))
	}
	return true
}

// giver returns the row that gave the column of the thing, nil when none did.
// Every row gives a container, be it by its measures.
func (m *merger) giver(name string, f mergeField, defined *row) *row {
	if first := m.by[[2]string{name, f.column}]; first != nil {
		return first
	}
	if defined.given(f.column) || f.column == "Container" {
		return defined
	}
	return nil
}

func same(a, b reflect.Value) bool {
	if x, ok := a.Interface().(units.Ratio); ok {
		return x.Equal(b.Interface().(units.Ratio))
	}
	return a.Interface() == b.Interface()
}

func (m *merger) conflict(name string, f mergeField, r, first *row) {
	r.fail(CodeFlatConflict, f.column, finding.Finding{
		Summary: fmt.Sprintf("Rows differ in %s of %s: %q and %q", f.column, name, first.shown(f.column), r.shown(f.column)),
		Detail:  "It is one thing, so all rows that name it must say the same; which one holds can not be known.",
		Remedy:  "Make the rows the same, or give one of the things another code.", Related: []finding.Origin{first.may(f.column).origin()},
	})
}

func (m *merger) differs(name string, f mergeField, r, first *row) {
	r.warn(CodeFlatDiffers, f.column, finding.Finding{
		Summary: fmt.Sprintf("Rows differ in %s of %s: %q and %q", f.column, name, first.shown(f.column), r.shown(f.column)),
		Detail:  "The first one was used. The plan does not depend on it.",
		Remedy:  "Make the rows the same.", Related: []finding.Origin{first.may(f.column).origin()},
	})
}

// shown is what the row shows in a column.
func (r *row) shown(field string) string { return trim(r.may(field).cell.Text) }
