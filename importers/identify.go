package importers

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/planner/finding"
)

// Codes of findings about sheets and their headings.
const (
	CodeSheetUnknown    = "sheets.unknown"
	CodeSheetByHeadings = "sheets.by-headings"
	CodeSheetSecond     = "sheets.second"
	CodeSheetHidden     = "sheets.hidden"
	CodeSheetMissing    = "sheets.missing"
	CodeColumnMissing   = "columns.missing"
	CodeColumnUnknown   = "columns.unknown"
	CodeColumnNear      = "columns.near-miss"
	CodeColumnRepeated  = "columns.repeated"
	CodeColumnNoHeading = "columns.no-heading"
	CodeColumnUnit      = "columns.unit-ignored"
	CodeTitleUnit       = "columns.unit-in-title"
	CodeColumnWords     = "columns.by-words"
	CodeColumnsHidden   = "columns.hidden"
	CodeRowsHidden      = "rows.hidden"
)

// identify settles which table is which kind of sheet.
func (rd *reading) identify() error {
	named := map[string]bool{}
	for _, t := range rd.tables {
		if k, ok := t.kindByName(); ok {
			named[k.Name] = true
		}
	}
	for _, t := range rd.tables {
		if len(t.sheet.Rows) > 0 && !rd.readMapped(t) {
			rd.identifyTable(t, named)
		}
	}
	if !slices.ContainsFunc(rd.tables, func(t *table) bool { return t.kind.Name != "" }) {
		for _, t := range rd.tables {
			if !t.keptOut {
				t.readAsBest()
			}
		}
	}
	rd.cellsBySheet()
	if err := rd.addBase(); err != nil {
		return err
	}
	for _, t := range rd.tables {
		t.describe()
	}
	rd.missingMapped()
	rd.missingSheets()
	return nil
}

// kindByName returns the kind of sheet whose name t bears.
func (t *table) kindByName() (column.Sheet, bool) {
	if t.piece > 0 {
		return column.Sheet{}, false
	}
	return kindByName(t.sheet.Name)
}

func kindByName(name string) (column.Sheet, bool) {
	for _, k := range column.Sheets() {
		if k.Named(name) {
			return k, true
		}
	}
	return column.Sheet{}, false
}

// identifyTable reads t as a flat table where it is one, else as what its name
// says when it has the columns for it, else as what its headings say. A table
// that has many more columns of a flat one than of anything else is a flat one
// that lacks a column.
func (rd *reading) identifyTable(t *table, named map[string]bool) {
	byName, ok := t.kindByName()
	exact := ok && column.Fold(byName.Name) == column.Fold(t.sheet.Name)
	if flat, head, m := t.complete(column.FlatTable()); flat && t.mayBeFlat(byName, named) {
		t.readAs(column.FlatTable(), head, m)
		return
	}
	if named, head, m := t.headingsFor(byName); ok && (exact || named) {
		t.readAs(byName, head, m)
		return
	}
	k, head, m, found := t.kindByHeadings()
	if _, i, flat := t.headingsFor(column.FlatTable()); found && t.mayBeFlat(byName, named) && len(flat.At) >= len(m.At)+rd.clearly() {
		t.readAs(column.FlatTable(), i, flat)
		return
	}
	switch {
	case found && !rd.refuseSecond(t, k, named):
		t.readAs(k, head, m)
		rd.note(t, CodeSheetByHeadings, fmt.Sprintf("Sheet %q was read as %s because of its headings", t.sheet.Name, k.Name),
			"Its name is none of a plant's sheets.", "Rename the sheet to "+k.Name+", or take it out of the file if it is something else.")
	case !found && ok:
		_, head, m := t.headingsFor(byName)
		t.readAs(byName, head, m)
	}
}

// clearly is how many columns more make a flat table: for a table alone every
// one counts, for nothing can be planned from a single other sheet.
func (rd *reading) clearly() int {
	if len(rd.tables) == 1 {
		return 1
	}
	return 3
}

// mayBeFlat reports whether t, which has the columns of a flat table and bears
// the name of byName (or of none), is one: a sheet Parts or Usage is when the
// other of the two is not there.
func (t *table) mayBeFlat(byName column.Sheet, named map[string]bool) bool {
	switch byName.Name {
	case "":
		return !named[column.Parts] || !named[column.Usage]
	case column.Parts:
		return !named[column.Usage]
	case column.Usage:
		return !named[column.Parts]
	default:
		complete, _, _ := t.complete(byName)
		return !complete
	}
}

// refuseSecond reports t when a sheet that bears the name of kind k is there
// as well: which of the two holds the facts would be a guess.
func (rd *reading) refuseSecond(t *table, k column.Sheet, named map[string]bool) bool {
	if !named[k.Name] {
		return false
	}
	rd.say(finding.Finding{
		Severity: finding.Warning, Code: CodeSheetSecond, Origin: t.sheet.Origin(0, -1),
		Summary: fmt.Sprintf("Sheet %q looks like %s but was not read: there is a sheet of that name", t.sheet.Name, k.Name),
		Detail:  "Old copies of a sheet often stay in a workbook. Reading both would mix them.",
		Remedy:  "Take the old sheet out, or bring its rows into the sheet " + k.Name + ".",
	})
	return true
}

// kindByHeadings returns the kind that recognises most columns of t, with at
// least two columns and half of the headings.
func (t *table) kindByHeadings() (kind column.Sheet, at head, match column.Match, found bool) {
	for _, k := range column.Sheets() {
		ok, i, m := t.complete(k)
		if ok && plausible(m, 2) && len(m.At) > len(match.At) {
			kind, at, match, found = k, i, m, true
		}
	}
	return kind, at, match, found
}

// plausible reports whether m recognised n columns and half of the headings.
func plausible(m column.Match, n int) bool {
	return len(m.At) >= n && len(m.At) >= len(m.Unknown)
}

// readAsBest takes t for what it resembles most, so that the headings it
// lacks can be named. It is for files in which nothing is recognised.
func (t *table) readAsBest() {
	if len(t.sheet.Rows) == 0 || t.isTurned() {
		return
	}
	kinds := append([]column.Sheet{column.FlatTable()}, column.Sheets()...)
	var kind column.Sheet
	var at head
	var match column.Match
	for _, k := range kinds {
		_, i, m := t.headingsFor(k)
		if plausible(t.withoutPeriods(i, k, m), 2) && len(m.At) > len(match.At) {
			kind, at, match = k, i, m
		}
	}
	if kind.Name != "" {
		t.readAs(kind, at, match)
	}
}

// missing names the columns that k can not be read without and m lacks.
func missing(k column.Sheet, m column.Match) []string {
	names := m.Missing(k)
	has := func(fields ...string) bool {
		return !slices.ContainsFunc(fields, func(f string) bool { _, ok := m.At[f]; return !ok })
	}
	switch k.Name {
	case column.Usage, column.Flat:
		if !has("Product", "Quantity per unit") && !has("Pieces per hour") && !has("Pieces per day") {
			names = append(names, "Pieces per hour (or Pieces per day, or Product and Quantity per unit)")
		}
	case column.History:
		if !has("Part") && !has("Product") {
			names = append(names, "Part (or Product)")
		}
	}
	if k.Name == column.Flat && !has("Container") && !has(column.Measures) && !has("Length", "Width", "Height") {
		names = append(names, "Container (or Length, Width and Height)")
	}
	return names
}

func (rd *reading) note(t *table, code, summary, detail, remedy string) {
	f := finding.Finding{Severity: finding.Note, Code: code, Summary: summary, Detail: detail, Remedy: remedy}
	if t != nil {
		f.Origin = t.sheet.Origin(0, -1)
	}
	rd.say(f)
}

// file returns the one file, archive or folder that was read; of several, no
// place.
func (rd *reading) file() finding.Origin {
	if len(rd.files) == 1 {
		return finding.Origin{File: rd.files[0]}
	}
	return finding.Origin{}
}

// missingSheets reports that there is nothing to plan for.
func (rd *reading) missingSheets() {
	has := map[string]bool{}
	var seen []string
	for _, t := range rd.tables {
		has[t.kind.Name] = true
		seen = append(seen, fmt.Sprintf("%q", t.sheet.Name))
	}
	if has[column.Flat] || len(rd.tables) == 0 {
		return
	}
	for _, name := range []string{column.Parts, column.Containers, column.Usage} {
		if has[name] {
			continue
		}
		rd.say(finding.Finding{
			Severity: finding.Error, Code: CodeSheetMissing, Origin: rd.file(),
			Summary: fmt.Sprintf("There is no sheet %s", name),
			Detail:  "Found: " + strings.Join(seen, ", ") + ". Parts, Containers and Usage are needed, or one flat table with all three; nothing can be planned without them.",
			Remedy:  rd.turned() + "Add the sheet, or hand in a flat table: one row per part and station with its container, standard pack and pieces per hour.",
		})
	}
}
