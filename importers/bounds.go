package importers

import (
	"fmt"

	"lanewright/importers/column"
	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// CodeTooManyRows says that there are more rows of facts than are read.
const CodeTooManyRows = "sheets.too-many-rows"

const (
	// mostOfKind is how many findings of one code and severity are listed; what
	// is beyond is counted.
	mostOfKind = 10_000
	// mostRows is how many rows of facts are read at once, days of history
	// counted a quarter: some ten times what 20,000 points of use need, and what
	// a gigabyte of memory holds (measured; common practice, no source).
	mostRows = 200_000
)

// kindOfFinding is what findings are counted by.
type kindOfFinding struct {
	severity finding.Severity
	code     string
}

// say adds a finding, or counts it where there are very many of its kind.
func (rd *reading) say(f finding.Finding) {
	k := kindOfFinding{f.Severity, f.Code}
	if rd.said[k]++; rd.said[k] <= mostOfKind {
		rd.found = append(rd.found, f)
		return
	}
	rd.last[k] = f.Origin
}

// countUnsaid adds, for each kind of findings that are not all listed, one that
// says how many more there are; it stands where the last of them does.
func (rd *reading) countUnsaid() {
	for k, n := range rd.said {
		if n <= mostOfKind {
			continue
		}
		rd.found = append(rd.found, finding.Finding{
			Severity: k.severity, Code: k.code, Origin: rd.last[k],
			Summary: fmt.Sprintf("%d more findings of this kind are not listed one by one", n-mostOfKind),
			Detail:  "What is wrong so often has one cause most of the time: a unit, a column, a formula that was filled down.",
			Remedy:  "Repair what the first ones have in common and read the file again.",
		})
	}
}

// refuseTooMany leaves all rows out where there are more than can be read in
// reasonable time and memory.
func (rd *reading) refuseTooMany() {
	rows, counted := 0, 0
	var largest *table
	for _, t := range rd.tables {
		rows += len(t.rows)
		counted += weight(t)
		if largest == nil || len(t.rows) > len(largest.rows) {
			largest = t
		}
	}
	if counted <= mostRows {
		return
	}
	at := largest.sheet.Origin(0, -1)
	rd.say(finding.Finding{
		Severity: finding.Error, Code: CodeTooManyRows, Origin: at,
		Summary: fmt.Sprintf("There are %d rows of facts, %d of them in %q; at most %d are read at once", rows, len(largest.rows), largest.sheet.Name, mostRows),
		Detail:  "Four days of history count as one row. A plant of 20,000 points of use has some tens of thousands of rows. None of them was read.",
		Remedy:  "Look for rows that were filled down or copied by mistake, or for old days of history; a larger plant is handed in as several, by area.",
	})
	for _, t := range rd.tables {
		t.rows = nil
	}
}

// weight is how many rows t counts as.
func weight(t *table) int {
	if t.kind.Name == column.History {
		return len(t.rows) / 4
	}
	return len(t.rows)
}

// sorted returns all findings in their order.
func (rd *reading) sorted() finding.List {
	rd.countUnsaid()
	s := rd.plant.Settings
	rd.found = rd.found.In(units.NewSpeech(s.LengthUnit, s.MassUnit, rd.plant.Names()))
	rd.found.Sort()
	return rd.found
}
