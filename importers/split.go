package importers

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/planner/finding"
)

// CodeSheetSeveral says that a sheet holds several tables.
const CodeSheetSeveral = "sheets.several-tables"

// mostTables is how many tables of one sheet are told apart.
const mostTables = 20

// split makes several tables of the sheets that hold several: one below the
// other with a blank row between, or side by side with a blank column between.
func (rd *reading) split() {
	var tables []*table
	for _, t := range rd.tables {
		pieces := t.beside()
		if len(pieces) == 1 {
			pieces = t.below()
		}
		if len(pieces) > 1 {
			rd.describePieces(t, pieces)
		}
		tables = append(tables, pieces...)
	}
	rd.tables = tables
}

// cut makes a table of some rows of t.
func (t *table) cut(rows []sheet.Row, piece int) *table {
	part := *t.sheet
	part.Rows = rows
	out := newTable(t.rd, &part, t.book)
	out.piece = piece
	return out
}

// below cuts t where a later row, behind a blank one, begins the headings of
// another table.
func (t *table) below() []*table {
	rows := t.sheet.Rows
	starts := []int{0}
	headed := false
	for i := range rows {
		if !t.mayBegin(i) || len(starts) >= mostTables {
			continue
		}
		if _, _, ok := t.anyKind(i); !ok {
			continue
		}
		if headed && !t.isHeadOf(starts[len(starts)-1], i) {
			starts = append(starts, t.backToGap(i))
		}
		headed = true
	}
	if len(starts) == 1 {
		return []*table{t}
	}
	var out []*table
	for n, from := range starts {
		to := len(rows)
		if n+1 < len(starts) {
			to = starts[n+1]
		}
		out = append(out, t.cut(rows[from:to:to], n))
	}
	return out
}

// mayBegin reports whether row i can be the first line of headings: one of the
// first rows, or one behind a gap or behind a title that stands behind a gap.
func (t *table) mayBegin(i int) bool {
	if i >= headRows && !t.gapBefore(i) && !(t.gapBefore(i-1) && filled(t.sheet.Rows[i-1].Cells()) == 1) {
		return false
	}
	cells := t.sheet.Rows[i].Cells()
	return filled(cells) > 1 && areWords(cells)
}

// gapBefore reports whether a blank row stands before row i.
func (t *table) gapBefore(i int) bool {
	return i > 0 && t.sheet.Rows[i].Number > t.sheet.Rows[i-1].Number+1
}

// backToGap is the first row of the block that row i stands in.
func (t *table) backToGap(i int) int {
	for j := i; j > 0 && j > i-4; j-- {
		if t.gapBefore(j) {
			return j
		}
	}
	return i
}

// isHeadOf reports whether row i stands in the block that begins at start, or
// repeats its headings: then no table begins there.
func (t *table) isHeadOf(start, i int) bool {
	gap := false
	for j := start + 1; j <= i && !gap; j++ {
		gap = t.gapBefore(j)
	}
	if !gap {
		return true
	}
	for j := start; j < min(start+headRows, i); j++ {
		if slices.EqualFunc(t.sheet.Rows[j].Cells(), t.sheet.Rows[i].Cells(), func(a, b sheet.Cell) bool { return a.Text == b.Text }) {
			return true
		}
	}
	return false
}

func filled(cells []sheet.Cell) int {
	n := 0
	for _, c := range cells {
		if trim(c.Text) != "" || c.Error || c.NoValue {
			n++
		}
	}
	return n
}

// anyKind returns the kind whose headings begin in row i and of which most
// columns are known.
func (t *table) anyKind(i int) (kind column.Sheet, match column.Match, found bool) {
	for _, k := range append([]column.Sheet{column.FlatTable()}, column.Sheets()...) {
		ok, _, m := t.completeAt(k, i)
		if ok && plausible(m, 2) && len(m.At) > len(match.At) {
			kind, match, found = k, m, true
		}
	}
	return kind, match, found
}

// beside cuts t into tables that stand side by side: runs of columns with a
// blank column between, each with the headings of a kind of its own, in a row
// that is no whole table by itself.
func (t *table) beside() []*table {
	for i := range min(headRows, len(t.sheet.Rows)) {
		runs := t.runs(i)
		if len(runs) < 2 || !areWords(t.sheet.Rows[i].Cells()) {
			continue
		}
		if flat, _, m := t.completeAt(column.FlatTable(), i); flat && len(m.Repeated) == 0 {
			break
		}
		if !t.areTables(runs, i) {
			continue
		}
		var pieces []*table
		for n, run := range runs {
			pieces = append(pieces, t.window(t.sheet.Rows, run, n))
		}
		return pieces
	}
	return []*table{t}
}

// areTables reports whether each run has, in row i, the headings of a kind of
// its own.
func (t *table) areTables(runs []sheet.Span, i int) bool {
	kinds := map[string]bool{}
	for n, run := range runs {
		piece := t.window(t.sheet.Rows[i:min(i+2, len(t.sheet.Rows))], run, n)
		kind, _, ok := piece.anyKind(0)
		if !ok || kinds[kind.Name] {
			return false
		}
		kinds[kind.Name] = true
	}
	return true
}

// runs are the columns of row i that have a heading, parted where a column is
// blank from there down.
func (t *table) runs(i int) []sheet.Span {
	var runs []sheet.Span
	cells := t.sheet.Rows[i].Cells()
	for j, c := range cells[:min(len(cells), headColumns)] {
		if c.IsEmpty() {
			if len(runs) > 0 && !t.blankBelow(i, j) {
				runs[len(runs)-1].To = j
			}
			continue
		}
		if len(runs) == 0 || runs[len(runs)-1].To < j-1 {
			runs = append(runs, sheet.Span{From: j})
		}
		runs[len(runs)-1].To = j
	}
	return runs
}

// blankBelow reports whether column j is blank from row i on.
func (t *table) blankBelow(i, j int) bool {
	if t.last == nil {
		t.last = make([]int, headColumns)
		var cells []sheet.Cell
		for n := range t.sheet.Rows {
			cells = t.sheet.Rows[n].AppendCells(cells[:0])
			for c, cell := range cells[:min(len(cells), headColumns)] {
				if !cell.IsEmpty() {
					t.last[c] = n + 1
				}
			}
		}
	}
	return t.last[j] <= i
}

// window makes a table of some columns of rows; the cells keep their places.
func (t *table) window(from []sheet.Row, run sheet.Span, piece int) *table {
	var rows []sheet.Row
	for _, r := range from {
		cells := r.Cells()
		cells = cells[:min(len(cells), run.To+1)]
		clear(cells[:min(len(cells), run.From)])
		for len(cells) > 0 && cells[len(cells)-1].IsEmpty() {
			cells = cells[:len(cells)-1]
		}
		if len(cells) > 0 {
			rows = append(rows, sheet.NewRow(r.Number, cells))
		}
	}
	out := t.cut(rows, piece)
	out.columns = sheet.Letters(run.From) + ":" + sheet.Letters(run.To)
	return out
}

func (rd *reading) describePieces(t *table, pieces []*table) {
	var parts []string
	for _, p := range pieces {
		rows := p.sheet.Rows
		text := fmt.Sprintf("rows %d to %d", rows[0].Number, rows[len(rows)-1].Number)
		if p.columns != "" {
			text += " of columns " + p.columns
		}
		parts = append(parts, text)
	}
	rd.say(finding.Finding{
		Severity: finding.Note, Code: CodeSheetSeveral, Origin: t.sheet.Origin(0, -1),
		Summary: fmt.Sprintf("Sheet %q holds %d tables: %s", t.sheet.Name, len(pieces), strings.Join(parts, ", ")),
		Detail:  "Each was read by its own headings, and has its own line where rows are counted.",
		Remedy:  "Nothing to do, unless they are one table: then take the blank row or column and the second headings out.",
	})
}
