package importers

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
)

// headRows is how many rows of a table are searched for its headings.
const headRows = 50

// headColumns is how many cells of a row are looked at for headings.
const headColumns = 1000

// head is where the headings of a table stand: the position of their first
// line in sheet.Rows, and how many lines they have, 1 or 2.
type head struct{ at, lines int }

// after is the position of the first row below the headings.
func (h head) after() int { return h.at + h.lines }

// line is one row taken for headings: each cell apart, and joined to what
// stands above it.
type line struct {
	alone []column.Heading
	// joined has the headings of two lines: the words of both, then the lower
	// ones alone, then the upper ones where nothing stands below.
	joined, lower, upper []column.Heading
	words                bool // no cell is a number
	units                bool // each cell is the name of a unit
}

// lineAt takes row i of the sheet apart, once.
func (t *table) lineAt(i int) *line {
	if l := t.lines[i]; l != nil {
		return l
	}
	texts := t.texts(i)
	l := &line{alone: takeApart(texts), words: areWords(t.sheet.Rows[i].Cells()), units: areUnits(texts)}
	t.lines[i] = l
	if i+1 >= len(t.sheet.Rows) || t.sheet.Rows[i+1].Number != t.sheet.Rows[i].Number+1 {
		return l
	}
	below := t.texts(i + 1)
	above := t.spread(i, texts, len(below))
	both, low, up := make([]string, len(above)), make([]string, len(above)), make([]string, len(above))
	for j := range above {
		if j < len(below) {
			low[j] = below[j]
		}
		both[j] = joinHeadings(above[j], low[j])
		if strings.TrimSpace(low[j]) == "" {
			up[j] = above[j]
		}
	}
	l.joined, l.lower, l.upper = takeApart(both), takeApart(low), takeApart(up)
	return l
}

// texts returns the texts of row i of the sheet.
func (t *table) texts(i int) []string {
	cells := t.sheet.Rows[i].Cells()
	texts := make([]string, min(len(cells), headColumns))
	for j := range texts {
		texts[j] = cells[j].Text
	}
	return texts
}

// spread repeats the text of merged cells of row i over the columns that they
// cover.
func (t *table) spread(i int, texts []string, width int) []string {
	out := slices.Clone(texts)
	row := t.sheet.Rows[i].Number
	for _, m := range t.sheet.Merged {
		if m.Top != row || m.Right == m.Left || m.Left >= len(texts) {
			continue
		}
		for j := m.Left + 1; j <= min(m.Right, headColumns-1); j++ {
			for len(out) <= j {
				out = append(out, "")
			}
			out[j] = texts[m.Left]
		}
	}
	for len(out) < min(width, headColumns) {
		out = append(out, "")
	}
	return out
}

// joinHeadings puts the lower line of a heading behind the upper one; a unit
// goes into brackets.
func joinHeadings(above, below string) string {
	above, below = strings.TrimSpace(above), strings.TrimSpace(below)
	switch {
	case above == "" || below == "":
		return above + below
	case value.Known(below):
		return above + " (" + below + ")"
	}
	return above + " " + below
}

func takeApart(texts []string) []column.Heading {
	out := make([]column.Heading, len(texts))
	for i, text := range texts {
		out[i] = column.NewHeading(text, splitHeading)
	}
	return out
}

// areWords reports whether no cell is a number or begins like one.
func areWords(cells []sheet.Cell) bool {
	return !slices.ContainsFunc(cells, func(c sheet.Cell) bool {
		text := strings.TrimLeft(c.Text, " +-")
		return c.Number || c.Error || c.NoValue || text != "" && text[0] >= '0' && text[0] <= '9'
	})
}

// areUnits reports whether there is a text and each is the name of a unit.
func areUnits(texts []string) bool {
	found := false
	for _, text := range texts {
		text = strings.Trim(strings.TrimSpace(text), "()[]")
		if text == "" || text == "-" {
			continue
		}
		if !value.Known(text) {
			return false
		}
		found = true
	}
	return found
}

// of returns the headings of one line, or of two as the lexicon knows them
// best.
func (l *line) of(lines int, x *column.Lexicon) []column.Heading {
	if lines == 1 {
		return l.alone
	}
	out := slices.Clone(l.joined)
	for j := range out {
		for _, other := range [][]column.Heading{l.joined, l.lower, l.upper} {
			if x.Knows(other[j]) {
				out[j] = other[j]
				break
			}
		}
	}
	return out
}

// headings returns the texts of the headings of t as they were understood.
func (t *table) headings() []string { return t.names }

// textsOf returns the texts of headings.
func textsOf(headings []column.Heading) []string {
	out := make([]string, len(headings))
	for i, h := range headings {
		out[i] = h.Text
	}
	return out
}

// matchAt recognises the headings at h as those of k.
func (t *table) matchAt(k column.Sheet, h head) column.Match {
	x := column.LexiconOf(k)
	return x.Match(t.lineAt(h.at).of(h.lines, x))
}

// completeAt reports whether the headings of k that it can not do without
// begin in row i, in one line or two. A line of units below belongs to them.
func (t *table) completeAt(k column.Sheet, i int) (ok bool, h head, m column.Match) {
	one := head{i, 1}
	if m = t.matchAt(k, one); len(missing(k, m)) == 0 {
		return t.withLineBelow(k, one, m)
	}
	if l := t.lineAt(i); l.joined == nil || !l.words || !t.lineAt(i+1).words {
		return false, one, m
	}
	two := head{i, 2}
	m = t.matchAt(k, two)
	if len(missing(k, m)) > 0 {
		return false, one, m
	}
	if below := t.matchAt(k, head{i + 1, 1}); len(missing(k, below)) == 0 && len(below.At) >= len(m.At) {
		return false, one, m
	}
	return true, two, m
}

// withLineBelow takes the row below headings that are complete to them, where
// it names units or brings at least two columns more.
func (t *table) withLineBelow(k column.Sheet, one head, m column.Match) (bool, head, column.Match) {
	l := t.lineAt(one.at)
	if l.joined == nil {
		return true, one, m
	}
	below := t.lineAt(one.at + 1)
	two := head{one.at, 2}
	if both := t.matchAt(k, two); below.units || l.words && below.words && len(both.At) >= len(m.At)+2 {
		return true, two, both
	}
	return true, one, m
}

// complete looks for the first row at which the headings begin that k can not
// do without.
func (t *table) complete(k column.Sheet) (ok bool, h head, m column.Match) {
	for i := range min(headRows, len(t.sheet.Rows)) {
		if ok, h, m = t.completeAt(k, i); ok {
			return ok, h, m
		}
	}
	return false, head{0, 1}, column.NewMatch()
}

// headingsFor returns the headings that are complete for k, else the row, or
// the two, in which most columns are recognised.
func (t *table) headingsFor(k column.Sheet) (ok bool, h head, best column.Match) {
	if ok, h, m := t.complete(k); ok {
		return true, h, m
	}
	h, best = head{0, 1}, column.NewMatch()
	for i := range min(headRows, len(t.sheet.Rows)) {
		if m := t.matchAt(k, head{i, 1}); i == 0 || len(m.At) > len(best.At) {
			h, best = head{i, 1}, m
		}
		if l := t.lineAt(i); l.joined == nil || !l.words || !t.lineAt(i+1).words {
			continue
		}
		if m := t.matchAt(k, head{i, 2}); len(m.At) > len(best.At)+1 {
			h, best = head{i, 2}, m
		}
	}
	return false, h, best
}

// place names where the headings of t stand, for a sentence.
func (t *table) place() string {
	first := t.sheet.Rows[t.head.at].Number
	if t.head.lines == 1 {
		return fmt.Sprintf("row %d", first)
	}
	return fmt.Sprintf("rows %d and %d", first, first+1)
}
