package drawing

import "strconv"

// item is what runs down a column: a line, a row, a paragraph.
type item struct {
	height float64
	// keep asks for the item after it in the same column.
	keep bool
	// head comes before the item again where a column begins with it: the heading
	// of its table.
	head *item
	draw func(b *board, in box)
}

// setting is how running text is set, in mm.
type setting struct {
	// size is the font's, line the distance of lines, under what is free under a
	// row or paragraph.
	size, line, under float64
	// pad is free on the right of each column; spread is how much wider than their
	// texts columns may be besides.
	pad, spread float64
}

// readSetting is read by itself, plainSetting stands beside drawings, denseSetting
// is as dense as can be read: 6 points.
var (
	readSetting  = setting{2.8, 3.7, 0.9, 4, 6}
	plainSetting = setting{2.35, 3.1, 0.9, 2.2, 0}
	smallSetting = setting{2.22, 2.8, 0.65, 2.2, 0}
	denseSetting = setting{leastSize, 2.6, 0.5, 2.2, 0}
)

// drop is how far the first base line lies under the upper end of a row.
func (s setting) drop() float64 { return 0.77 * s.line }

// space is an empty item.
func space(height float64) item { return item{height: height, draw: func(*board, box) {}} }

// heading begins a section.
func heading(text string, width float64) []item {
	return []item{{height: 6, keep: true, draw: func(b *board, in box) {
		b.write(fitted(Text{At: Point{in.left, in.bottom - 1.8}, Size: 2.9, Bold: true, Text: text}, width))
	}}}
}

// paragraphs are texts, numbered where they are steps.
func (s setting) paragraphs(texts []string, numbered bool, width float64) []item {
	const indent = 5.5
	var list []item
	for i, text := range texts {
		lines := wrap(text, s.size, width-indent, false)
		sign := "–"
		if numbered {
			sign = strconv.Itoa(i+1) + "."
		}
		list = append(list, item{height: float64(len(lines))*s.line + s.under, draw: func(b *board, in box) {
			b.write(Text{At: Point{in.left, in.top + s.drop()}, Size: s.size, Bold: numbered, Text: sign})
			s.lines(b, Point{in.left + indent, in.top}, AtStart, false, lines)
		}})
	}
	return list
}

// lines writes lines under one another.
func (s setting) lines(b *board, at Point, a Anchor, bold bool, lines []string) {
	for i, text := range lines {
		b.write(Text{At: Point{at.X, at.Y + s.line*float64(i) + s.drop()}, Size: s.size, Bold: bold, Anchor: a, Text: text})
	}
}

// wholeRows is up to how many rows a table stays in one column.
const wholeRows = 8

// table are the rows of a table in a width: the heading, then the rows, each
// as high as its longest cell.
func (s setting) table(t Table, width float64) []item {
	columns := s.columns(t, width)
	head := s.row(t, t.Heading, columns, true)
	head.keep = true
	list := []item{head}
	for i, r := range t.Rows {
		row := s.row(t, r, columns, false)
		row.head, row.keep = &head, len(t.Rows) <= wholeRows && i < len(t.Rows)-1
		list = append(list, row)
	}
	return list
}

// columns are the widths of a table's columns: what their texts need, a little more
// where there is room, and where that is too much the widest give way.
func (s setting) columns(t Table, width float64) []float64 {
	wide := make([]float64, len(t.Heading))
	for _, row := range append([][]string{t.Heading}, t.Rows...) {
		for i, text := range row[:min(len(row), len(wide))] {
			wide[i] = max(wide[i], Text{Size: s.size, Bold: true, Text: text}.width()+s.pad)
		}
	}
	sum := 0.0
	for _, w := range wide {
		sum += w
	}
	for i, more := 0, min(s.spread, (width-sum)/float64(len(wide))); more > 0 && i < len(wide); i++ {
		wide[i] += more
	}
	for sum > width+1e-9 {
		first, second := 0, 0.0
		for i, w := range wide {
			if w > wide[first] {
				first = i
			}
		}
		for i, w := range wide {
			if i != first {
				second = max(second, w)
			}
		}
		// Down to the next one, or by a little where two are alike.
		less := min(sum-width, max(wide[first]-second, 0.5))
		wide[first] -= less
		sum -= less
	}
	return wide
}

func (s setting) row(t Table, cells []string, columns []float64, head bool) item {
	lines := make([][]string, min(len(cells), len(columns)))
	most := 1
	for i := range lines {
		lines[i] = wrap(cells[i], s.size, columns[i]-s.pad+0.01, true)
		most = max(most, len(lines[i]))
	}
	return item{height: float64(most)*s.line + s.under, draw: func(b *board, in box) {
		x := in.left
		for i, l := range lines {
			at, a := Point{x, in.top}, AtStart
			if i < len(t.Right) && t.Right[i] {
				at.X, a = x+columns[i]-s.pad, AtEnd
			}
			s.lines(b, at, a, head, l)
			x += columns[i]
		}
		pen := Hair
		if head {
			pen = Medium
		}
		b.Line(pen, Point{in.left, in.bottom}, Point{x - s.pad, in.bottom})
	}}
}

// placed is an item with its place on a page.
type placed struct {
	item
	in box
}

// flow fills columns, then pages, with items in their order; the last page's
// columns are those of all pages after it too.
func flow(items []item, pages [][]box) [][]placed {
	var list [][]placed
	var page []placed
	columns := pages[0]
	column, y := 0, columns[0].top
	for i, it := range items {
		need := it.height
		for j := i; items[j].keep && j+1 < len(items); j++ {
			need += items[j+1].height
		}
		if y > columns[column].top && y+need > columns[column].bottom {
			column++
			if column == len(columns) {
				list, page, column = append(list, page), nil, 0
				columns = pages[min(len(list), len(pages)-1)]
			}
			y = columns[column].top
			if it.head != nil {
				page = append(page, it.head.placed(columns[column], y))
				y += it.head.height
			}
		}
		page = append(page, it.placed(columns[column], y))
		y += it.height
	}
	return append(list, page)
}

// placed puts an item into a column at a height.
func (it item) placed(column box, y float64) placed {
	return placed{it, box{column.left, y, column.right, y + it.height}}
}
