package plot

import (
	"math"
	"slices"
)

// chart is a picture of spots between two axes.
type chart struct {
	*canvas
	area     box
	x, y     scale
	byX, byY float64
	// taken are where marks, lines and labels stand, so that no label covers one.
	taken []box
}

// newChart leaves room for axes, title and legend in a picture of that size.
func newChart(width, height float64) chart {
	return chart{area: box{92, 84, width - 40, height - 54}}
}

// layOut fits the axes to the values that they show.
func (p *chart) layOut(across, up []float64) {
	p.x, p.byX = spanned(across, p.area.left, p.area.right)
	p.y, p.byY = spanned(up, p.area.bottom, p.area.top)
}

// spanned spans values and a little more, from and to round numbers.
func spanned(values []float64, first, last float64) (scale, float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	if len(values) == 0 {
		low, high = 0, 1
	}
	by := step(max(high-low, math.Abs(high)/10, 1), 8)
	return scale{max(0, math.Floor(low/by-0.3)*by), math.Ceil(high/by+0.3) * by, first, last}, by
}

// axes draws the axes with what they show.
func (p *chart) axes(across, up string) {
	for _, v := range ticks(p.y.low, p.y.high, p.byY) {
		y := p.y.at(v)
		p.line("grid", p.area.left, y, p.area.right, y, "stroke", rule)
		p.text("tick-y", p.area.left-8, y+4, atEnd, number(v), "fill", quiet)
	}
	bottom := p.area.bottom
	p.line("axis", p.area.left, bottom, p.area.right, bottom, "stroke", ink)
	for _, v := range ticks(p.x.low, p.x.high, p.byX) {
		x := p.x.at(v)
		p.line("tick", x, bottom, x, bottom+5, "stroke", ink)
		p.text("tick-x", x, bottom+18, atMiddle, number(v), "fill", ink)
	}
	p.text("unit", 16, p.area.top-16, atStart, up, "fill", quiet)
	p.text("unit", p.area.right, bottom+38, atEnd, across, "fill", quiet)
}

// join draws a line through spots and keeps labels off it.
func (p *chart) join(spots []at) {
	p.curve("joined", spots, "stroke", accent, "stroke-width", "1.5")
	for i := 1; i < len(spots); i++ {
		p.keepOff(spots[i-1], spots[i])
	}
}

// keepOff lets no label stand on the line between two spots.
func (p *chart) keepOff(a, b at) {
	const apart = 10
	steps := math.Ceil(math.Hypot(b.x-a.x, b.y-a.y) / apart)
	for i := range int(steps) {
		share := float64(i) / steps
		x, y := a.x+share*(b.x-a.x), a.y+share*(b.y-a.y)
		p.taken = append(p.taken, box{x - 2, y - 2, x + 2, y + 2})
	}
}

// mark draws a spot, filled or hollow, and keeps labels off it.
func (p *chart) mark(class string, s at, filled bool) {
	p.circle(class, s, filled)
	p.taken = append(p.taken, box{s.x - 6, s.y - 6, s.x + 6, s.y + 6})
}

func (p *chart) circle(class string, s at, filled bool) {
	fill := accent
	if !filled {
		class += "-hollow"
		fill = ground
	}
	p.element("circle", class, "", attributes{"cx", px(s.x), "cy", px(s.y), "r", "5", "fill", fill, "stroke", accent, "stroke-width", "1.5"})
}

// label writes a text at a free side of a spot; one that finds none stands to the
// right all the same.
func (p *chart) label(s at, text string) {
	width := textWidth(text, 12)
	sides := []at{
		{s.x + 4, s.y - 10}, {s.x + 10, s.y + 4}, {s.x - 10 - width, s.y + 4}, {s.x - 4 - width, s.y - 10},
		{s.x + 4, s.y + 19}, {s.x - 4 - width, s.y + 19},
	}
	place := sides[0]
	for _, side := range sides {
		if p.free(box{side.x, side.y - 11, side.x + width, side.y + 3}) {
			place = side
			break
		}
	}
	p.taken = append(p.taken, box{place.x, place.y - 11, place.x + width, place.y + 3})
	p.text("label", place.x, place.y, atStart, text, "fill", ink)
}

func (p *chart) free(b box) bool {
	if b.left < p.area.left || b.right > p.area.right+36 {
		return false
	}
	return !slices.ContainsFunc(p.taken, func(o box) bool {
		return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
	})
}
