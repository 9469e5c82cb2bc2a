package importers

import (
	"slices"

	"lanewright/importers/column"
)

// turn is the remedy for a table whose headings stand in its first column.
const turn = "Its headings seem to stand one below the other in the first column: copy the table, paste it transposed (rows as columns) and hand that in. "

// isTurned reports whether the first column of an unknown table holds headings of a
// flat table, Part and at least four more.
func (t *table) isTurned() bool {
	var texts []string
	for i := range min(headRows, len(t.sheet.Rows)) {
		if cells := t.sheet.Rows[i].Cells(); len(cells) > 0 {
			texts = append(texts, trim(cells[0].Text))
		}
	}
	m := column.LexiconOf(column.FlatTable()).Recognise(texts, splitHeading)
	_, part := m.At["Part"]
	return part && plausible(m, 5)
}

// turned is the remedy where a table that was not read is turned.
func (rd *reading) turned() string {
	if slices.ContainsFunc(rd.tables, func(t *table) bool { return t.kind.Name == "" && !t.keptOut && t.isTurned() }) {
		return turn
	}
	return ""
}

// withoutPeriods leaves headings of weeks, months and days out of those that are not
// known: a year of weeks makes no table unlikely.
func (t *table) withoutPeriods(at head, k column.Sheet, m column.Match) column.Match {
	texts := textsOf(t.lineAt(at.at).of(at.lines, column.LexiconOf(k)))
	m.Unknown = slices.DeleteFunc(slices.Clone(m.Unknown), func(i int) bool { return period.MatchString(trim(texts[i])) })
	return m
}
