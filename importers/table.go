package importers

import (
	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/plant"
)

// table is a sheet, what it was read as, and its rows.
type table struct {
	rd    *reading
	sheet *sheet.Sheet
	// book numbers the file, archive or folder that t came in.
	book int
	// kind has no name when the sheet is not read.
	kind  column.Sheet
	match column.Match
	// base is the unit of a column where neither heading nor cell names one.
	base map[string]string
	// head is where the headings stand, names what they are, lines the rows
	// that were taken apart to find them.
	head  head
	names []string
	lines map[int]*line
	// asNumbers are the codes that are numbers in the sheet, by field.
	asNumbers map[string]*shownCodes
	// old says that it comes from an earlier revision.
	old bool
	// keptOut says that a mapping keeps the sheet out of the plan.
	keptOut bool
	// piece numbers the tables of a sheet that holds several; those behind the
	// first do not bear the sheet's name.
	piece int
	// columns are those of a table that stands beside another one, "A:C".
	columns string
	// last is, for each column, how many rows there are down to its last value.
	last  []int
	marks value.Marks
	// rows are those below the headings.
	rows []*row
	// headCells are the cells of the first line of headings; unpacked are those of
	// opened, the row that was asked last.
	headCells, unpacked []sheet.Cell
	opened              *row
}

// state says what became of a row.
type state int

const (
	undecided state = iota
	used
	reported
	skipped
)

// row is one row of a table.
type row struct {
	*sheet.Row
	t     *table
	state state
}

// cells are those of the row, until another row of its table is asked for them.
func (r *row) cells() []sheet.Cell {
	if t := r.t; t.opened != r {
		t.opened, t.unpacked = r, r.AppendCells(t.unpacked[:0])
	}
	return r.t.unpacked
}

func newTable(rd *reading, s *sheet.Sheet, book int) *table {
	return &table{rd: rd, sheet: s, book: book, lines: map[int]*line{}, asNumbers: map[string]*shownCodes{}}
}

// readAs settles what t is: the rows below its headings become its rows, and
// the columns that were recognised are recorded.
func (t *table) readAs(kind column.Sheet, at head, match column.Match) {
	t.kind, t.head, t.match = kind, at, match
	t.names = textsOf(t.lineAt(at.at).of(at.lines, column.LexiconOf(kind)))
	t.base = map[string]string{}
	for _, c := range kind.Columns {
		t.base[c.Field] = c.Unit
	}
	t.headCells = t.sheet.Rows[at.at].Cells()
	below := t.sheet.Rows[min(at.after(), len(t.sheet.Rows)):]
	rows := make([]row, len(below))
	t.rows = make([]*row, len(below))
	for i := range below {
		rows[i] = row{Row: &below[i], t: t}
		t.rows[i] = &rows[i]
	}
	t.recordColumns()
}

// what names the kind of t in a sentence.
func (t *table) what() string {
	if t.kind.Name == column.Flat {
		return "a flat table"
	}
	return "the sheet " + t.kind.Name
}

func (t *table) recordColumns() {
	headings := t.headings()
	for _, c := range t.kind.Columns {
		if at, ok := t.match.At[c.Field]; ok {
			t.rd.plant.Columns = append(t.rd.plant.Columns, plant.Column{
				File: t.sheet.File, Sheet: t.sheet.Name, Field: c.Field,
				Letters: sheet.Letters(at), Heading: headings[at],
			})
		}
	}
}

// ledger counts the rows of t by what became of them.
func (t *table) ledger() Ledger {
	name := t.sheet.Name
	if t.columns != "" {
		name += " (" + t.columns + ")"
	}
	l := Ledger{File: t.sheet.File, Sheet: name, Kind: t.kind.Name, Rows: len(t.sheet.Rows)}
	l.Skipped = len(t.sheet.Rows) - len(t.rows)
	for _, r := range t.rows {
		switch r.state {
		case used:
			l.Used++
		case reported:
			l.Reported++
		case skipped:
			l.Skipped++
		}
	}
	return l
}
