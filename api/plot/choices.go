package plot

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"lanewright/planner"
	"lanewright/planner/units"
)

// Size of the picture of choices, in pixels.
const (
	choicesWidth  = 1000
	choicesHeight = 480
)

// measured is what an axis shows of each choice.
type measured struct {
	// name stands at the axis.
	name string
	of   func(planner.Choice) float64
}

// choicesPlot is one picture of choices.
type choicesPlot struct {
	*canvas
	list []planner.Choice
	// across and up are what the axes show.
	across, up measured
	area       box
	x, y       scale
	byX, byY   float64
	// taken are where labels stand, so that none covers another.
	taken []box
}

// Choices draws the curve that choices make: yearly cost where every price is
// known, else containers, against the rounds of a day where there are rounds, else
// the refill interval. Undominated choices are filled and joined, one line for each
// service level; dominated ones are hollow. Each is labelled with its interval.
func Choices(w io.Writer, list []planner.Choice) error {
	p := choicesPlot{list: list, area: box{92, 84, choicesWidth - 40, choicesHeight - 54}}
	p.across, p.up = axes(list)
	p.layOut()
	return draw(w, choicesWidth, choicesHeight, p.title(), p.description(), func(c *canvas) {
		p.canvas = c
		p.heading()
		p.axes()
		for _, level := range p.levels() {
			p.series(level)
		}
		p.labels()
	})
}

func axes(list []planner.Choice) (across, up measured) {
	across = measured{"rounds per day", func(c planner.Choice) float64 { return c.RoundsDay.Float64() }}
	if !slices.ContainsFunc(list, func(c planner.Choice) bool { return c.RoundsWeek > 0 }) {
		across = measured{"refill interval, minutes", func(c planner.Choice) float64 { return c.Interval.Minutes() }}
	}
	up = measured{"yearly cost, in the plant's currency", func(c planner.Choice) float64 { return c.Cost.Total.Float64() }}
	if len(list) == 0 || slices.ContainsFunc(list, func(c planner.Choice) bool { return c.Cost.Partial() }) {
		up = measured{"containers in all loops", func(c planner.Choice) float64 { return float64(c.Containers) }}
	}
	return across, up
}

func (p *choicesPlot) layOut() {
	p.x, p.byX = p.scale(p.across, p.area.left, p.area.right)
	p.y, p.byY = p.scale(p.up, p.area.bottom, p.area.top)
}

// scale spans the values of an axis and a little more, from and to round numbers.
func (p *choicesPlot) scale(m measured, first, last float64) (scale, float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range p.list {
		low, high = min(low, m.of(c)), max(high, m.of(c))
	}
	if len(p.list) == 0 {
		low, high = 0, 1
	}
	by := step(max(high-low, math.Abs(high)/10, 1), 8)
	return scale{max(0, math.Floor(low/by-0.3)*by), math.Ceil(high/by+0.3) * by, first, last}, by
}

func (p *choicesPlot) title() string { return "Choices of refill interval" }

func (p *choicesPlot) subtitle() string {
	return fmt.Sprintf("%d plans · %s against %s", len(p.list), p.up.name, p.across.name)
}

func (p *choicesPlot) description() string {
	text := p.subtitle() + "."
	for _, c := range p.list {
		if c.Undominated {
			text += fmt.Sprintf(" %s: %s, %s.", p.label(c), number(round1(p.across.of(c))), number(round1(p.up.of(c))))
		}
	}
	return text + " Choices not named here are dominated by another."
}

func (p *choicesPlot) heading() {
	p.text("title", 16, 24, atStart, p.title(), "fill", ink, "font-size", "15", "font-weight", "600")
	p.text("subtitle", 16, 42, atStart, p.subtitle(), "fill", quiet)
	x := p.area.right - 404
	p.circle("key", at{x, 20}, true)
	p.text("legend", x+12, 24, atStart, "no other choice dominates it", "fill", ink)
	p.circle("key", at{x, 38}, false)
	p.text("legend", x+12, 42, atStart, "another choice dominates it: as good or better in all that counts", "fill", ink)
}

func (p *choicesPlot) axes() {
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
	p.text("unit", 16, p.area.top-16, atStart, p.up.name, "fill", quiet)
	p.text("unit", p.area.right, bottom+38, atEnd, p.across.name, "fill", quiet)
}

// levels are the service levels in rising order.
func (p *choicesPlot) levels() []units.Ratio {
	var list []units.Ratio
	for _, c := range p.list {
		list = append(list, c.ServiceLevel)
	}
	slices.SortFunc(list, units.Ratio.Cmp)
	return slices.CompactFunc(list, units.Ratio.Equal)
}

// series joins the undominated choices of one service level in the order of their
// intervals and draws all of them.
func (p *choicesPlot) series(level units.Ratio) {
	var all []planner.Choice
	var joined []at
	for _, c := range p.list {
		if c.ServiceLevel.Equal(level) {
			all = append(all, c)
		}
	}
	slices.SortStableFunc(all, func(a, b planner.Choice) int { return int(a.Interval - b.Interval) })
	for _, c := range all {
		if c.Undominated {
			joined = append(joined, p.spot(c))
		}
	}
	p.curve("joined", joined, "stroke", accent, "stroke-width", "1.5")
	for i := 1; i < len(joined); i++ {
		p.keepOff(joined[i-1], joined[i])
	}
	for _, c := range all {
		s := p.spot(c)
		p.circle("choice", s, c.Undominated)
		p.taken = append(p.taken, box{s.x - 6, s.y - 6, s.x + 6, s.y + 6})
	}
}

// keepOff lets no label stand on the line between two spots.
func (p *choicesPlot) keepOff(a, b at) {
	const apart = 10
	steps := math.Ceil(math.Hypot(b.x-a.x, b.y-a.y) / apart)
	for i := range int(steps) {
		share := float64(i) / steps
		x, y := a.x+share*(b.x-a.x), a.y+share*(b.y-a.y)
		p.taken = append(p.taken, box{x - 2, y - 2, x + 2, y + 2})
	}
}

func (p *choicesPlot) spot(c planner.Choice) at {
	return at{p.x.at(p.across.of(c)), p.y.at(p.up.of(c))}
}

func (p *choicesPlot) circle(class string, s at, filled bool) {
	fill := accent
	if !filled {
		class += "-hollow"
		fill = ground
	}
	p.element("circle", class, "", attributes{"cx", px(s.x), "cy", px(s.y), "r", "5", "fill", fill, "stroke", accent, "stroke-width", "1.5"})
}

// label is the interval, with the service level where there are several.
func (p *choicesPlot) label(c planner.Choice) string {
	s := units.Minutes(c.Interval).String() + " min"
	if len(p.levels()) > 1 {
		s += ", " + strconv.FormatFloat(100*c.ServiceLevel.Float64(), 'g', 6, 64) + " %"
	}
	return s
}

// labels write each choice's label at a free side of its mark; one that finds none
// stands to the right all the same.
func (p *choicesPlot) labels() {
	for _, c := range p.list {
		s, text := p.spot(c), p.label(c)
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
}

func (p *choicesPlot) free(b box) bool {
	if b.left < p.area.left || b.right > choicesWidth-4 {
		return false
	}
	return !slices.ContainsFunc(p.taken, func(o box) bool {
		return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
	})
}
