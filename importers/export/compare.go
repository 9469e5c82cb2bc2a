package export

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/planner/plant"
)

// Changed says what became of one row between two revisions.
type Changed string

// What becomes of rows.
const (
	Added   Changed = "added"
	Removed Changed = "removed"
	Altered Changed = "changed"
)

// Change is one row of the canonical workbook that differs between two
// revisions of a plant.
type Change struct {
	Sheet string
	What  Changed
	// Key names the row: "L-100", "C1 / 10 / L-100".
	Key string
	// Fields are the columns that differ, of rows that were altered.
	Fields []FieldChange
}

// FieldChange is one value of a row before and after.
type FieldChange struct{ Column, Old, New string }

// keys are the columns that name a row of a sheet; where a sheet has none
// here, those that every row needs.
var keys = map[string][]string{
	"Plant": {"Setting"}, "Shifts": {"Shift", "Break start"}, "Products": {"Product"}, "Usage": {"Cell", "Station", "Part", "Product"},
	"History": {"Product", "Part", "Date"}, "Parts": {"Part"}, "Containers": {"Container"}, "Cells": {"Cell"}, "Stations": {"Cell", "Station"},
	"Rack types": {"Rack type"}, "Levels": {"Rack type", "Level"}, "Racks": {"Rack"}, "Aisle points": {"Point"}, "Aisles": {"From", "To"},
	"Vehicles": {"Vehicle type"}, "Current layout": {"Rack", "Level", "Lane"}, "Pins": {"Part", "Station", "Rack"},
}

// Compare lists what differs between two revisions, by sheet and in the order
// of the rows: first those of next, then those that are gone.
func Compare(before, next *plant.Plant) []Change {
	old := map[string]keyed{}
	for _, t := range Workbook(before) {
		old[t.Sheet] = keyRows(t)
	}
	var list []Change
	for _, t := range Workbook(next) {
		list = append(list, compareSheet(t.Sheet, old[t.Sheet], keyRows(t))...)
	}
	return list
}

// keyed are the rows of a table by what names them.
type keyed struct {
	header []string
	order  []string
	rows   map[string][]string
}

// keyRows finds a name for every row; the second row of one name gets a number.
func keyRows(t Table) keyed {
	k := keyed{header: t.Header, rows: map[string][]string{}}
	var at []int
	for i, h := range t.Header {
		name, _, _ := strings.Cut(h, " (")
		if named, ok := keys[t.Sheet]; ok && slices.Contains(named, name) || !ok && i < len(t.Required) && t.Required[i] {
			at = append(at, i)
		}
	}
	if named := keys[t.Sheet]; len(named) > 0 {
		slices.SortFunc(at, func(a, b int) int { return rankOf(named, t.Header[a]) - rankOf(named, t.Header[b]) })
	}
	for _, row := range t.Rows {
		texts := make([]string, len(t.Header))
		for i := range min(len(texts), len(row)) {
			texts[i] = plainText(row[i])
		}
		name := rowName(texts, at)
		for n := 2; k.rows[name] != nil; n++ {
			name = fmt.Sprintf("%s (%d)", rowName(texts, at), n)
		}
		k.order = append(k.order, name)
		k.rows[name] = texts
	}
	return k
}

func rankOf(named []string, header string) int {
	name, _, _ := strings.Cut(header, " (")
	return slices.Index(named, name)
}

func rowName(texts []string, at []int) string {
	var parts []string
	for _, i := range at {
		if texts[i] != "" {
			parts = append(parts, texts[i])
		}
	}
	return strings.Join(parts, " / ")
}

// plainText is a cell as people read it.
func plainText(v any) string {
	text := cellText(v)
	if _, isText := v.(string); !isText && strings.Contains(text, ".") {
		return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// compareSheet compares the rows of one sheet.
func compareSheet(sheet string, old, next keyed) []Change {
	var list []Change
	for _, name := range next.order {
		before, ok := old.rows[name]
		if !ok {
			list = append(list, Change{Sheet: sheet, What: Added, Key: name})
			continue
		}
		if fields := differing(next.header, old, before, next.rows[name]); len(fields) > 0 {
			list = append(list, Change{Sheet: sheet, What: Altered, Key: name, Fields: fields})
		}
	}
	for _, name := range old.order {
		if next.rows[name] == nil {
			list = append(list, Change{Sheet: sheet, What: Removed, Key: name})
		}
	}
	return list
}

// differing lists the columns in which two rows differ; a column that only one
// table has is blank in the other.
func differing(header []string, old keyed, before, after []string) []FieldChange {
	var list []FieldChange
	for i, h := range header {
		was := ""
		if j := slices.Index(old.header, h); j >= 0 {
			was = before[j]
		}
		if was != after[i] {
			list = append(list, FieldChange{Column: h, Old: was, New: after[i]})
		}
	}
	for j, h := range old.header {
		if !slices.Contains(header, h) && before[j] != "" {
			list = append(list, FieldChange{Column: h, Old: before[j]})
		}
	}
	return list
}
