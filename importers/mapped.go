package importers

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/mapping"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/finding"
)

// Codes of findings about mappings.
const (
	CodeMappingUsed    = "mapping.used"
	CodeMappingNoTable = "mapping.no-table"
	CodeMappingDecimal = "mapping.decimal"
)

// fits reports whether every table that m reads is there, with the same
// headings and no others.
func (rd *reading) fits(m *mapping.Mapping) bool {
	any := false
	for i := range m.Tables {
		mt := &m.Tables[i]
		if mt.Kind == "" {
			continue
		}
		any = true
		if !slices.ContainsFunc(rd.tables, func(t *table) bool {
			h, ok := t.headOf(mt)
			return ok && countHeadings(t, h) == len(mt.Columns)
		}) {
			return false
		}
	}
	return any
}

func countHeadings(t *table, h head) int {
	n := 0
	for _, text := range t.headingTexts(h) {
		if text != "" {
			n++
		}
	}
	return n
}

// headingTexts are the headings at h with single spaces, both lines joined.
func (t *table) headingTexts(h head) []string {
	l := t.lineAt(h.at)
	headings := l.alone
	if h.lines == 2 {
		headings = l.joined
	}
	texts := textsOf(headings)
	for i, text := range texts {
		texts[i] = strings.Join(strings.Fields(text), " ")
	}
	return texts
}

// headOf finds the headings of a table of a mapping: in the row that it
// names, else in the first one that has them all.
func (t *table) headOf(mt *mapping.Table) (head, bool) {
	found, ok := head{}, false
	for i := range min(headRows, len(t.sheet.Rows)) {
		h := head{i, max(mt.Lines, 1)}
		if h.lines == 2 && t.lineAt(i).joined == nil || !mt.Fits(t.headingTexts(h)) {
			continue
		}
		if t.sheet.Rows[i].Number == mt.Row {
			return h, true
		}
		if !ok {
			found, ok = h, true
		}
	}
	return found, ok
}

// readMapped reads the tables that the mapping is about as it says, and
// reports whether t was one.
func (rd *reading) readMapped(t *table) bool {
	if rd.mapping == nil {
		return false
	}
	mt, h := rd.mappedTable(t)
	if mt == nil {
		return false
	}
	rd.applied[mt] = true
	if mt.Kind == "" {
		t.keptOut = true
		return true
	}
	k, _ := mapping.KindOf(mt.Kind)
	t.readAs(k, h, t.mappedMatch(k, h, mt))
	rd.note(t, CodeMappingUsed, fmt.Sprintf("Sheet %q was read as %s by the mapping, with the headings of %s", t.sheet.Name, k.Name, t.place()),
		"What the mapping does not say was recognised as usual.", "Nothing to do.")
	return true
}

// mappedTable finds the table of the mapping that is about t: first by the
// sheet's name, then by the headings, which must be the same and no others.
func (rd *reading) mappedTable(t *table) (*mapping.Table, head) {
	named := func(mt *mapping.Table) bool { return column.Fold(mt.Sheet) == column.Fold(t.sheet.Name) }
	for _, byName := range []bool{true, false} {
		for i := range rd.mapping.Tables {
			mt := &rd.mapping.Tables[i]
			if byName != named(mt) || rd.applied[mt] {
				continue
			}
			if mt.Kind == "" && byName && t.piece == 0 {
				return mt, head{}
			}
			if len(mt.Columns) == 0 && byName && t.piece == 0 {
				if h, ok := t.headStated(mt); ok {
					return mt, h
				}
			}
			h, ok := t.headOf(mt)
			if ok && mt.Kind != "" && (byName || countHeadings(t, h) == len(mt.Columns)) {
				return mt, h
			}
		}
	}
	return nil, head{}
}

// headStated is where the headings of a table stand of which a mapping says
// what it is and no more: in the row that it names, else where they are
// recognised.
func (t *table) headStated(mt *mapping.Table) (head, bool) {
	k, _ := mapping.KindOf(mt.Kind)
	if mt.Row == 0 && len(t.sheet.Rows) > 0 {
		_, h, _ := t.headingsFor(k)
		return h, true
	}
	at := slices.IndexFunc(t.sheet.Rows, func(r sheet.Row) bool { return r.Number == mt.Row })
	if at < 0 {
		return head{}, false
	}
	h := head{at, max(mt.Lines, 1)}
	if h.lines == 2 && t.lineAt(at).joined == nil {
		h.lines = 1
	}
	return h, true
}

// mappedMatch is what the mapping says of the headings, and what is
// recognised of those that it does not know.
func (t *table) mappedMatch(k column.Sheet, h head, mt *mapping.Table) column.Match {
	m := column.NewMatch()
	texts := t.headingTexts(h)
	headings := slices.Clone(t.lineAt(h.at).of(h.lines, column.LexiconOf(k)))
	usual := t.matchAt(k, h)
	for _, c := range mt.Columns {
		at := slices.IndexFunc(texts, func(text string) bool { return text == c.Heading })
		if at < 0 {
			continue
		}
		texts[at] = "" // the second of two equal headings is another column
		if c.Field != "" {
			unit := c.Unit
			if as, ok := usual.At[c.Field]; unit == "" && ok && as == at {
				unit = usual.Unit[c.Field] // "per hour" of a name is no unit
			} else if unit == "" {
				_, unit = splitHeading(headings[at].Text)
			}
			if c.Unit == "" && !value.Known(unit) {
				unit = ""
			}
			m.State(c.Field, at, unit, column.Stated)
		}
		headings[at] = column.Heading{}
	}
	column.LexiconOf(k).Complete(&m, headings)
	return m
}

// missingMapped reports tables of the mapping that no sheet has.
func (rd *reading) missingMapped() {
	if rd.mapping == nil {
		return
	}
	for i := range rd.mapping.Tables {
		mt := &rd.mapping.Tables[i]
		if rd.applied[mt] || mt.Kind == "" {
			continue
		}
		rd.say(finding.Finding{
			Severity: finding.Warning, Code: CodeMappingNoTable, Origin: rd.file(),
			Summary: fmt.Sprintf("The mapping is about a table in sheet %q that is not there", mt.Sheet),
			Detail:  "No sheet has all the headings that the mapping names for it, so its lines were not used.",
			Remedy:  "Propose a mapping for this file anew with lanewright map, or correct the headings in it.",
		})
	}
}
