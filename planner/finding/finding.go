// Package finding holds what the planner noticed about the facts or the plan,
// and where each fact stood in the plant's sheets.
package finding

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/planner/units"
)

// Severity orders findings by how much they matter.
type Severity string

// The three severities. An error means that a fact was left out or that the
// plan cannot be used as it is; a warning that somebody should decide; a note
// that somebody may want to know.
const (
	Error   Severity = "error"
	Warning Severity = "warning"
	Note    Severity = "note"
)

// Rank orders severities, errors first.
func (s Severity) Rank() int {
	switch s {
	case Error:
		return 0
	case Warning:
		return 1
	default:
		return 2
	}
}

// Origin is the place of a fact in what the plant handed in. The zero Origin
// is a plant-wide one.
type Origin struct {
	// File is the base name of the workbook, or of the CSV file or archive.
	File string
	// Sheet is the sheet's name; for a CSV file its name without extension.
	Sheet string
	// Row counts from 1, the first row of the sheet; 0 means no row.
	Row int
	// Column is the column's letters as a spreadsheet shows them ("C"), for
	// CSV files too; empty when the whole row is meant.
	Column string
}

// IsZero reports whether o names no place.
func (o Origin) IsZero() bool { return o == Origin{} }

// String returns "file, Parts!C41", leaving out what is not known.
func (o Origin) String() string {
	if o.IsZero() {
		return ""
	}
	s := o.Sheet
	if o.Row > 0 {
		s += fmt.Sprintf("!%s%d", o.Column, o.Row)
	}
	if o.File == "" {
		return s
	}
	if s == "" {
		return o.File
	}
	return o.File + ", " + s
}

// Subject names the things a finding is about; empty fields do not apply.
type Subject struct {
	Part, Container, Product, Cell, Station, RackType, Rack string
	Level                                                   int
	Route, Vehicle, Point                                   string
}

// Measure is the number that broke a limit. Unit is written as people do:
// "mm", "kg", "min", "%", "containers".
type Measure struct {
	Value, Limit float64
	Unit         string
}

// Finding is one thing noticed.
type Finding struct {
	Severity Severity
	// Code is stable, "sheet-or-stage.what": other programs rely on it.
	Code string
	// Summary is one line with the offending value.
	Summary string
	// Detail says what was expected and why it matters.
	Detail string
	// Remedy says how to repair it.
	Remedy  string
	Origin  Origin
	Related []Origin
	Subject Subject
	// Measure is nil where no number was compared with a limit.
	Measure *Measure
	// Source names the standard, book or common practice behind the limit.
	Source string
}

// List is a list of findings.
type List []Finding

// HasErrors reports whether any finding is an error.
func (l List) HasErrors() bool {
	return slices.ContainsFunc(l, func(f Finding) bool { return f.Severity == Error })
}

// Count returns how many findings have severity s.
func (l List) Count(s Severity) int {
	n := 0
	for _, f := range l {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// In returns the findings with the lengths and masses that their sentences name as
// a plant's people read them. Measures stay as they are.
func (l List) In(s units.Speech) List {
	out := slices.Clone(l)
	for i := range out {
		f := &out[i]
		for _, text := range []*string{&f.Summary, &f.Detail, &f.Remedy} {
			*text = s.Local(*text)
		}
	}
	return out
}

// Sort orders findings by severity, code, place and subject, so that the same
// facts give the same list whatever order they were found in.
func (l List) Sort() {
	slices.SortStableFunc(l, func(a, b Finding) int {
		if d := a.Severity.Rank() - b.Severity.Rank(); d != 0 {
			return d
		}
		if d := strings.Compare(a.Code, b.Code); d != 0 {
			return d
		}
		if d := compareOrigins(a.Origin, b.Origin); d != 0 {
			return d
		}
		if d := strings.Compare(fmt.Sprint(a.Subject), fmt.Sprint(b.Subject)); d != 0 {
			return d
		}
		return strings.Compare(a.Summary, b.Summary)
	})
}

func compareOrigins(a, b Origin) int {
	if d := strings.Compare(a.File, b.File); d != 0 {
		return d
	}
	if d := strings.Compare(a.Sheet, b.Sheet); d != 0 {
		return d
	}
	if a.Row != b.Row {
		return a.Row - b.Row
	}
	if len(a.Column) != len(b.Column) {
		return len(a.Column) - len(b.Column)
	}
	return strings.Compare(a.Column, b.Column)
}
