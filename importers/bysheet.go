package importers

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/planner/finding"
)

// CodeCellBySheet says that the sheets of a workbook were taken for one cell each.
const CodeCellBySheet = "cells.by-sheet"

// unnamed are the names that spreadsheet programs give to new sheets.
var unnamed = regexp.MustCompile(`(?i)^(?:sheet|tabelle|blatt|hoja|feuil|feuille|planilha|foglio)\s*[0-9]*$`)

// cellsBySheet takes the names of sheets for cells where two or more flat tables of one
// file lack nothing but the column Cell: a workbook with a sheet for each cell.
func (rd *reading) cellsBySheet() {
	lacking := map[int][]*table{}
	for _, t := range rd.tables {
		if t.kind.Name == column.Flat && slices.Equal(t.missing(), []string{"Cell"}) && !unnamed.MatchString(t.sheet.Name) {
			lacking[t.book] = append(lacking[t.book], t)
		}
	}
	for _, t := range rd.tables {
		if tables := lacking[t.book]; slices.Contains(tables, t) && slices.ContainsFunc(tables, func(o *table) bool { return o.sheet.Name != t.sheet.Name }) {
			t.cell = strings.TrimSpace(t.sheet.Name)
			rd.say(finding.Finding{
				Severity: finding.Warning, Code: CodeCellBySheet, Origin: t.sheet.Origin(0, -1),
				Summary: fmt.Sprintf("The rows of sheet %q were taken for cell %s, after its name", t.sheet.Name, t.cell),
				Detail:  "It has no column Cell, as other sheets of the file; they look like one sheet for each cell.",
				Remedy:  "Nothing to do if that is so; else add a column Cell.",
			})
		}
	}
}

// ofSheet is the cell that the sheet is named after.
func (s *slot) ofSheet() {
	if s.field == "Cell" && s.row.t.cell != "" {
		s.cell, s.blank = sheet.Cell{Text: s.row.t.cell}, false
	}
}

// missing names the columns that t can not be read without and lacks.
func (t *table) missing() []string {
	names := missing(t.kind, t.match)
	if t.cell != "" {
		names = slices.DeleteFunc(names, func(n string) bool { return n == "Cell" })
	}
	return names
}
