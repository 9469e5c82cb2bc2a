package drawing

import (
	"cmp"
	"slices"

	"lanewright/planner/units"
)

// mark is a place that a running dimension names.
type mark struct {
	at   units.Length
	text string
}

// Measures of dimensions on paper in mm: length and half the width of an arrow,
// how far extension lines stay from the body and go past the line, from one
// line of dimensions to the next.
const (
	arrowLong = 1.5
	arrowHalf = 0.35
	standOff  = 0.8
	dimStep   = 5.0
	leader    = 2.6
	// heightGap and placeGap lie between the texts of running dimensions.
	heightGap = plainSize * 1.25
	placeGap  = leastSize * 1.15
)

// arrow ends a line at tip; dx and dy point from the line to its tip.
func (v *view) arrow(tip Point, dx, dy float64) {
	back := Point{tip.X - dx*arrowLong, tip.Y - dy*arrowLong}
	v.Area(NoPen, Black, tip, Point{back.X - dy*arrowHalf, back.Y + dx*arrowHalf}, Point{back.X + dy*arrowHalf, back.Y - dx*arrowHalf})
}

// heights are running dimensions from the floor along an upright line at x; the
// texts stand to its left (outward -1) or right (1), and lines lead from edge.
func (v *view) heights(x, edge, outward float64, marks []mark) {
	if len(marks) == 0 {
		return
	}
	marks = sorted(marks)
	floor := v.at(0, 0).Y
	spots := make([]float64, len(marks))
	for i, m := range marks {
		spots[i] = v.at(0, m.at).Y
	}
	texts := between(spread(spots, heightGap), heightGap, v.cell.top+heightGap/2, v.cell.bottom-captionHigh-heightGap/2)
	anchor := AtEnd
	if outward > 0 {
		anchor = AtStart
	}
	v.Line(Hair, Point{x, floor}, Point{x, spots[0]})
	v.Circle(Thin, White, Point{x, floor}, 0.5)
	for i, y := range spots {
		v.Line(Hair, Point{edge + outward*standOff, y}, Point{x, y}, Point{x + outward*leader, texts[i]})
		if below := append(spots, floor)[i+1]; below-y > arrowLong*1.2 {
			v.arrow(Point{x, y}, 0, -1)
		}
		t := Text{Size: plainSize, Anchor: anchor, Text: marks[i].text}
		t.At = Point{x + outward*(leader+0.6), texts[i] + (ascent-descent)/2*plainSize}
		v.write(t)
	}
}

// sorted puts marks from the highest down and joins those at one place.
func sorted(marks []mark) []mark {
	marks = slices.Clone(marks)
	slices.SortStableFunc(marks, func(a, b mark) int { return cmp.Compare(b.at, a.at) })
	var list []mark
	for _, m := range marks {
		if n := len(list); n > 0 && list[n-1].at == m.at {
			if list[n-1].text != m.text {
				list[n-1].text += ", " + m.text
			}
			continue
		}
		list = append(list, m)
	}
	return list
}

// spread moves rising places apart until there is gap between neighbours, each
// group about its middle.
func spread(at []float64, gap float64) []float64 {
	type group struct {
		first, n int
		start    float64
	}
	var groups []group
	for i, p := range at {
		g := group{i, 1, p}
		for len(groups) > 0 {
			last := groups[len(groups)-1]
			if last.start+float64(last.n)*gap <= g.start {
				break
			}
			sum := 0.0
			for j := last.first; j <= i; j++ {
				sum += at[j] - float64(j-last.first)*gap
			}
			g = group{last.first, i - last.first + 1, sum / float64(i-last.first+1)}
			groups = groups[:len(groups)-1]
		}
		groups = append(groups, g)
	}
	list := make([]float64, 0, len(at))
	for _, g := range groups {
		for j := range g.n {
			list = append(list, g.start+float64(j)*gap)
		}
	}
	return list
}

// between moves places that are gap apart, or more, into a range that has room
// for all of them.
func between(at []float64, gap, low, high float64) []float64 {
	for i := range at {
		at[i] = max(at[i], low+float64(i)*gap)
	}
	for i := range at {
		at[i] = min(at[i], high-float64(len(at)-1-i)*gap)
	}
	return at
}

// places are running dimensions from the left along a level line at y, below the
// body; their texts are turned.
func (v *view) places(y, edge float64, from units.Length, marks []mark) {
	marks = sorted(marks)
	slices.Reverse(marks)
	spots := make([]float64, len(marks))
	for i, m := range marks {
		spots[i] = v.at(m.at, 0).X
	}
	texts := between(spread(spots, placeGap), placeGap, v.cell.left+placeGap/2, v.cell.right-placeGap/2)
	start := v.at(from, 0).X
	v.Line(Hair, Point{start, y}, Point{spots[len(spots)-1], y})
	v.Circle(Thin, White, Point{start, y}, 0.5)
	for i, x := range spots {
		v.Line(Hair, Point{x, edge + standOff}, Point{x, y}, Point{texts[i], y + leader})
		if before := append([]float64{start}, spots...)[i]; x-before > arrowLong*1.2 {
			v.arrow(Point{x, y}, 1, 0)
		}
		t := Text{Size: leastSize, Turned: true, Anchor: AtEnd, Text: marks[i].text}
		t.At = Point{texts[i] + (ascent-descent)/2*leastSize, y + leader + 0.5}
		v.write(t)
	}
}

// span is a dimension from one place to another along a level line at y, below
// the body; where its text does not fit between the arrows it stands behind them.
func (v *view) span(y, edge float64, from, to units.Length, text string) {
	a, b := v.at(from, 0).X, v.at(to, 0).X
	for _, x := range []float64{a, b} {
		v.Line(Hair, Point{x, edge + standOff}, Point{x, y + standOff})
	}
	v.Line(Hair, Point{a, y}, Point{b, y})
	if b-a > 3*arrowLong {
		v.arrow(Point{a, y}, -1, 0)
		v.arrow(Point{b, y}, 1, 0)
	}
	t := Text{At: Point{(a + b) / 2, y - 0.7}, Size: plainSize, Anchor: AtMiddle, Text: text}
	if t.width() > b-a-1 || !v.free(t.extent()) {
		t.At, t.Anchor = Point{b + 1, y + 0.9}, AtStart
	}
	v.write(t)
}

// floor is the ground: a thick line with strokes under it.
func (v *view) floor(from, to float64) {
	const apart, deep = 2.0, 1.2
	y := v.at(0, 0).Y
	v.Line(Thick, Point{from, y}, Point{to, y})
	for x := from + deep; x <= to; x += apart {
		v.Line(Hair, Point{x, y}, Point{x - deep, y + deep})
	}
}
