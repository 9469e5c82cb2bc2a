package importers

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
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
)

// headRows is how many rows of a sheet are searched for its headings.
const headRows = 20

// identify settles which table is which kind of sheet.
func (rd *reading) identify() {
	named := map[string]bool{}
	for _, t := range rd.tables {
		if k, ok := kindByName(t.sheet.Name); ok {
			named[k.Name] = true
		}
	}
	for _, t := range rd.tables {
		if len(t.sheet.Rows) > 0 {
			rd.identifyTable(t, named)
		}
	}
	if !slices.ContainsFunc(rd.tables, func(t *table) bool { return t.kind.Name != "" }) {
		for _, t := range rd.tables {
			t.readAsBest()
		}
	}
	for _, t := range rd.tables {
		t.describe()
	}
	rd.missingSheets()
}

// lexicon returns the lexicon of k, made once.
func (rd *reading) lexicon(k column.Sheet) *column.Lexicon {
	l := rd.lexicons[k.Name]
	if l == nil {
		l = column.NewLexicon(k)
		rd.lexicons[k.Name] = l
	}
	return l
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
	byName, ok := kindByName(t.sheet.Name)
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
	rd.found = append(rd.found, finding.Finding{
		Severity: finding.Warning, Code: CodeSheetSecond, Origin: t.sheet.Origin(0, -1),
		Summary: fmt.Sprintf("Sheet %q looks like %s but was not read: there is a sheet of that name", t.sheet.Name, k.Name),
		Detail:  "Old copies of a sheet often stay in a workbook. Reading both would mix them.",
		Remedy:  "Take the old sheet out, or bring its rows into the sheet " + k.Name + ".",
	})
	return true
}

// complete looks for the first row that holds the columns that k can not do
// without.
func (t *table) complete(k column.Sheet) (ok bool, head int, m column.Match) {
	for i := range min(headRows, len(t.sheet.Rows)) {
		m = t.rd.lexicon(k).Recognise(t.headings(i), splitHeading)
		if len(missing(k, m)) == 0 {
			return true, i, m
		}
	}
	return false, 0, column.Match{}
}

// headingsFor returns the headings that are complete for k, else the row in
// which most columns are recognised.
func (t *table) headingsFor(k column.Sheet) (ok bool, head int, best column.Match) {
	if ok, head, m := t.complete(k); ok {
		return true, head, m
	}
	for i := range min(headRows, len(t.sheet.Rows)) {
		if m := t.rd.lexicon(k).Recognise(t.headings(i), splitHeading); i == 0 || len(m.At) > len(best.At) {
			head, best = i, m
		}
	}
	return false, head, best
}

// kindByHeadings returns the kind that recognises most columns of t, with at
// least two columns and half of the headings.
func (t *table) kindByHeadings() (kind column.Sheet, head int, match column.Match, found bool) {
	for _, k := range column.Sheets() {
		ok, i, m := t.complete(k)
		if ok && plausible(m, 2) && len(m.At) > len(match.At) {
			kind, head, match, found = k, i, m, true
		}
	}
	return kind, head, match, found
}

// plausible reports whether m recognised n columns and half of the headings.
func plausible(m column.Match, n int) bool {
	return len(m.At) >= n && len(m.At) >= len(m.Unknown)
}

// readAsBest takes t for what it resembles most, so that the headings it
// lacks can be named. It is for files in which nothing is recognised.
func (t *table) readAsBest() {
	if len(t.sheet.Rows) == 0 {
		return
	}
	kinds := append([]column.Sheet{column.FlatTable()}, column.Sheets()...)
	var kind column.Sheet
	var head int
	var match column.Match
	for _, k := range kinds {
		if _, i, m := t.headingsFor(k); plausible(m, 2) && len(m.At) > len(match.At) {
			kind, head, match = k, i, m
		}
	}
	if kind.Name != "" {
		t.readAs(kind, head, match)
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
	if k.Name == column.Flat && !has("Container") && !has("Length", "Width", "Height") {
		names = append(names, "Container (or Length, Width and Height)")
	}
	return names
}

// describe reports what is odd about the sheet and its headings.
func (t *table) describe() {
	if len(t.sheet.Rows) == 0 {
		return
	}
	if t.sheet.State != sheet.Visible && t.sheet.State != "" {
		t.rd.note(t, CodeSheetHidden, fmt.Sprintf("Sheet %q is hidden", t.sheet.Name),
			"Hidden sheets are treated like all others.", "Show it in the spreadsheet program to see what it holds, or take it out of the file.")
	}
	if t.kind.Name == "" {
		t.describeUnknown()
		return
	}
	t.describeMissing()
	t.describeColumns()
}

func (t *table) describeUnknown() {
	if slices.ContainsFunc(t.rd.found, func(f finding.Finding) bool {
		return f.Code == CodeSheetSecond && f.Origin == t.sheet.Origin(0, -1)
	}) {
		return
	}
	var names []string
	for _, k := range column.Sheets() {
		names = append(names, k.Name)
	}
	remedy := "Nothing to do if it is not for the plan; else give it the name and the headings of one of " + strings.Join(names, ", ") + "."
	if near, ok := column.Nearest(t.sheet.Name, names); ok {
		remedy = fmt.Sprintf("Did you mean %s? ", near) + remedy
	}
	t.rd.note(t, CodeSheetUnknown, fmt.Sprintf("Sheet %q was not read: neither its name nor its headings are known (%s)", t.sheet.Name, count(len(t.sheet.Rows), "row")),
		"Its rows are kept out of the plan.", remedy)
}

// describeMissing reports the columns that t can not be read without; then
// none of its rows can be used.
func (t *table) describeMissing() {
	names := missing(t.kind, t.match)
	if len(names) == 0 {
		return
	}
	headings := t.headings(t.head)
	found := make([]string, 0, len(headings))
	for _, h := range headings {
		if strings.TrimSpace(h) != "" {
			found = append(found, fmt.Sprintf("%q", strings.TrimSpace(h)))
		}
	}
	remedy := "Name the column as " + t.what() + " of the template has it, or add it."
	for _, n := range names {
		if near, ok := column.Nearest(n, t.unknownHeadings()); ok {
			remedy = fmt.Sprintf("Did you mean %q to be %s? ", near, n) + remedy
		}
	}
	t.rd.found = append(t.rd.found, finding.Finding{
		Severity: finding.Error, Code: CodeColumnMissing, Origin: t.sheet.Origin(t.sheet.Rows[t.head].Number, -1),
		Summary: fmt.Sprintf("Sheet %q has no column %s", t.sheet.Name, strings.Join(names, ", ")),
		Detail:  fmt.Sprintf("It was read as %s with the headings %s. Without the column none of its rows can be used.", t.what(), strings.Join(found, ", ")),
		Remedy:  remedy,
	})
	for _, r := range t.rows {
		r.state = reported
	}
}

func (t *table) unknownHeadings() []string {
	headings := t.headings(t.head)
	var names []string
	for _, i := range t.match.Unknown {
		name, _ := splitHeading(headings[i])
		names = append(names, name)
	}
	return names
}

// describeColumns reports headings that mean nothing here, or what another
// column means already, and columns with values but no heading.
func (t *table) describeColumns() {
	headings := t.headings(t.head)
	var free []string
	for _, c := range t.kind.Columns {
		if _, ok := t.match.At[c.Field]; !ok {
			free = append(free, c.Field)
		}
	}
	for _, i := range t.match.Unknown {
		name, _ := splitHeading(headings[i])
		if near, ok := column.Nearest(name, free); ok {
			t.heading(finding.Warning, CodeColumnNear, i, fmt.Sprintf("Column %q is not known; did you mean %s?", headings[i], near),
				"Its values are kept out of the plan.", "Correct the heading, or leave it if it is something else.")
			continue
		}
		remedy := "Nothing to do: every column of the sheet is there."
		if len(free) > 0 {
			remedy = "Nothing to do, unless it should be one of: " + strings.Join(free, ", ") + "."
		}
		t.heading(finding.Note, CodeColumnUnknown, i, fmt.Sprintf("Column %q is not known in %s", headings[i], t.what()),
			"Its values are kept out of the plan.", remedy)
	}
	for i := range headings {
		if f, ok := t.match.Repeated[i]; ok {
			t.heading(finding.Warning, CodeColumnRepeated, i, fmt.Sprintf("Columns %q and %q both mean %s; the first was read", headings[t.match.At[f]], headings[i], f),
				"Which of the two holds the right values can not be known.", "Take one of the columns out or rename it.")
		}
	}
	t.describeUnits(headings)
	t.describeNameless(headings)
}

// describeNameless reports columns that hold values under no heading.
func (t *table) describeNameless(headings []string) {
	told := map[int]bool{}
	for _, r := range t.rows {
		for i, c := range r.Cells {
			if c.IsEmpty() || told[i] || (i < len(headings) && column.Fold(headings[i]) != "") {
				continue
			}
			told[i] = true
			t.heading(finding.Note, CodeColumnNoHeading, i, fmt.Sprintf("Column %s of sheet %q has values but no heading (first in row %d)", sheet.Letters(i), t.sheet.Name, r.Number),
				"Its values are kept out of the plan.", "Give the column a heading if the plan needs it.")
		}
	}
}

func (t *table) heading(s finding.Severity, code string, i int, summary, detail, remedy string) {
	t.rd.found = append(t.rd.found, finding.Finding{
		Severity: s, Code: code, Origin: t.sheet.Origin(t.sheet.Rows[t.head].Number, i),
		Summary: summary, Detail: detail, Remedy: remedy,
	})
}

func (rd *reading) note(t *table, code, summary, detail, remedy string) {
	f := finding.Finding{Severity: finding.Note, Code: code, Summary: summary, Detail: detail, Remedy: remedy}
	if t != nil {
		f.Origin = t.sheet.Origin(0, -1)
	}
	rd.found = append(rd.found, f)
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
		rd.found = append(rd.found, finding.Finding{
			Severity: finding.Error, Code: CodeSheetMissing, Origin: rd.file(),
			Summary: fmt.Sprintf("There is no sheet %s", name),
			Detail:  "Found: " + strings.Join(seen, ", ") + ". Parts, Containers and Usage are needed, or one flat table with all three; nothing can be planned without them.",
			Remedy:  "Add the sheet, or hand in a flat table: one row per part and station with its container, standard pack and pieces per hour.",
		})
	}
}
