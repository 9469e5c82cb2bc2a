package importers

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/mapping"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
)

// propose writes down how the tables were understood, with the questions that
// are open: a mapping to be read, answered and used again.
func (rd *reading) propose() *mapping.Mapping {
	m := &mapping.Mapping{}
	if rd.mapping != nil {
		m.Encoding, m.Delimiter, m.Decimal = rd.mapping.Encoding, rd.mapping.Delimiter, rd.mapping.Decimal
	}
	for _, t := range rd.tables {
		if len(t.sheet.Rows) == 0 || t.old {
			continue
		}
		m.Tables = append(m.Tables, t.propose())
	}
	if m.Decimal == 0 {
		m.Decimal, m.AskDecimal = rd.decimal()
	}
	return m
}

func (t *table) propose() mapping.Table {
	mt := mapping.Table{Sheet: t.sheet.Name, Kind: t.kind.Name, Lines: 1}
	if t.kind.Name == "" {
		return mt
	}
	mt.Row, mt.Lines = t.sheet.Rows[t.head.at].Number, t.head.lines
	field := map[int]string{}
	for f, at := range t.match.At {
		field[at] = f
	}
	for i, text := range t.headingTexts(t.head) {
		if text == "" {
			continue
		}
		c := mapping.Column{Heading: text, Field: field[i]}
		if c.Field != "" {
			c.By = t.match.By[c.Field]
			if _, own := splitHeading(t.names[i]); own != t.match.Unit[c.Field] {
				c.Unit = t.match.Unit[c.Field]
			}
		} else if slices.Contains(t.match.Unknown, i) {
			c.Candidates = t.candidates(t.names[i])
			if c.Ask = len(c.Candidates) > 0; c.Ask {
				c.Samples = t.samples(i)
			}
		}
		mt.Columns = append(mt.Columns, c)
	}
	return mt
}

// samples are the first few different texts of a column, each of them short.
func (t *table) samples(column int) (list []string) {
	const few, short = 5, 40
	for _, r := range t.rows {
		text := fmt.Sprintf("%.*s", short, trim(r.Cell(column).Text))
		if text != "" && !slices.Contains(list, text) {
			list = append(list, text)
		}
		if len(list) == few {
			break
		}
	}
	return list
}

// decimal is the decimal mark that the files show; ask says that none does, or
// that they differ, while some number can be read in two ways.
func (rd *reading) decimal() (mark rune, ask bool) {
	marks := map[rune]bool{}
	for _, t := range rd.tables {
		if t.kind.Name == "" || t.old {
			continue
		}
		if t.marks.Decimal != 0 {
			marks[t.marks.Decimal] = true
			mark = t.marks.Decimal
			continue
		}
		doubtful := false
		t.numbers(func(c sheet.Cell) bool {
			doubtful = value.Doubtful(c)
			return !doubtful
		})
		if doubtful {
			return 0, true
		}
	}
	if len(marks) > 1 {
		return 0, false
	}
	return mark, false
}

// Preview is how the first rows of one table are understood.
type Preview struct {
	File, Sheet, Kind string
	// Fields are the columns that were recognised, in the order of the sheet;
	// Headings what the sheet calls them.
	Fields, Headings []string
	Rows             []PreviewRow
}

// PreviewRow is one row: what became of it and its values in the units that
// the plan reckons with. A value that can't be read begins with "?".
type PreviewRow struct {
	Number int
	// State is used, reported or skipped.
	State  string
	Values []string
}

// previewRows is how many rows of each table are previewed.
const previewRows = 20

// preview shows the first rows of every table that was read.
func (rd *reading) preview() []Preview {
	var list []Preview
	for _, t := range rd.tables {
		if t.kind.Name != "" && !t.old {
			list = append(list, t.preview())
		}
	}
	return list
}

func (t *table) preview() Preview {
	p := Preview{File: t.sheet.File, Sheet: t.sheet.Name, Kind: t.kind.Name}
	var fields []string
	for f := range t.match.At {
		fields = append(fields, f)
	}
	slices.SortFunc(fields, func(a, b string) int { return t.match.At[a] - t.match.At[b] })
	for _, f := range fields {
		p.Fields = append(p.Fields, f)
		p.Headings = append(p.Headings, strings.TrimSpace(t.names[t.match.At[f]]))
	}
	for _, r := range t.rows[:min(len(t.rows), previewRows)] {
		row := PreviewRow{Number: r.Number, State: r.state.String()}
		for _, f := range fields {
			row.Values = append(row.Values, r.may(f).understood())
		}
		p.Rows = append(p.Rows, row)
	}
	return p
}

func (s state) String() string {
	switch s {
	case used:
		return "used"
	case reported:
		return "reported"
	default:
		return "skipped"
	}
}
