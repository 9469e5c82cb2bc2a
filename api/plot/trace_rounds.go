package plot

import (
	"strconv"

	"lanewright/planner/simulation"
)

// rowHeight is the height of a line of round marks.
const rowHeight = 20

// roundRow is a line of marks below the curve: what rounds took, left or brought.
type roundRow struct {
	name, class string
	// count returns the number at a point, and whether the point has a mark.
	count func(simulation.Point) (int, bool)
	color string
}

// roundRows are the lines a trace needs: what rounds left waiting is shown only
// where that happened.
func roundRows(points []simulation.Point) []roundRow {
	visit := func(f func(simulation.Point) int) func(simulation.Point) (int, bool) {
		return func(p simulation.Point) (int, bool) { return f(p), p.Event == simulation.EventVisit }
	}
	taken := roundRow{"signals taken", "taken", visit(func(p simulation.Point) int { return p.Taken }), ink}
	left := roundRow{"signals left", "left", visit(func(p simulation.Point) int { return p.Left }), harm}
	brought := roundRow{"full brought", "brought", func(p simulation.Point) (int, bool) {
		return p.Brought, p.Event == simulation.EventDeliver
	}, accent}
	for _, p := range points {
		if n, ok := left.count(p); ok && n > 0 {
			return []roundRow{taken, left, brought}
		}
	}
	return []roundRow{taken, brought}
}

// rounds draws the lines of marks: a tick at each stop, and the number where it is
// not 0 and there is room.
func (p *tracePlot) rounds() {
	top := p.area.bottom + 42
	for i, r := range p.rows {
		y := top + rowHeight*float64(i)
		p.text("row", p.area.left-8, y+13, atEnd, r.name, "fill", quiet)
		p.line("row-line", p.area.left, y+rowHeight-1, p.area.right, y+rowHeight-1, "stroke", rule)
		p.marks(r, y)
	}
}

func (p *tracePlot) marks(r roundRow, y float64) {
	free := p.area.left - 10
	for _, at := range p.points {
		n, ok := r.count(at)
		if !ok {
			continue
		}
		x := p.at(at.At)
		if n == 0 {
			p.line(r.class+"-none", x, y+rowHeight-5, x, y+rowHeight-1, "stroke", quiet)
			continue
		}
		p.line(r.class, x, y+rowHeight-6, x, y+rowHeight-1, "stroke", r.color, "stroke-width", "3")
		label := strconv.Itoa(n)
		if half := textWidth(label, 11) / 2; x-half >= free {
			p.text(r.class+"-count", x, y+12, atMiddle, label, "fill", r.color, "font-size", "11", "font-weight", "600")
			free = x + half + 2
		}
	}
}
