package plot

import (
	"fmt"
	"io"
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
	chart
	list []planner.Choice
	// across and up are what the axes show.
	across, up measured
}

// Choices draws the curve that choices make: yearly cost where every price is
// known, else containers, against the rounds of a day where there are rounds, else
// the refill interval. Undominated choices are filled and joined, one line for each
// service level; dominated ones are hollow. Each is labelled with its interval.
func Choices(w io.Writer, list []planner.Choice) error {
	p := choicesPlot{list: list, chart: newChart(choicesWidth, choicesHeight)}
	p.across, p.up = axes(list)
	p.layOut(p.values(p.across), p.values(p.up))
	return draw(w, choicesWidth, choicesHeight, p.title(), p.description(), func(c *canvas) {
		p.canvas = c
		p.heading()
		p.axes(p.across.name, p.up.name)
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

func (p *choicesPlot) values(m measured) []float64 {
	list := make([]float64, len(p.list))
	for i, c := range p.list {
		list[i] = m.of(c)
	}
	return list
}

func (p *choicesPlot) title() string { return "Choices of refill interval" }

func (p *choicesPlot) subtitle() string {
	return fmt.Sprintf("%d plans · %s against %s", len(p.list), p.up.name, p.across.name)
}

func (p *choicesPlot) description() string {
	text := p.subtitle() + "."
	for _, c := range p.list {
		if c.Undominated {
			text += fmt.Sprintf(" %s: %s, %s.", p.name(c), number(round1(p.across.of(c))), number(round1(p.up.of(c))))
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
	p.join(joined)
	for _, c := range all {
		p.mark("choice", p.spot(c), c.Undominated)
	}
}

func (p *choicesPlot) spot(c planner.Choice) at {
	return at{p.x.at(p.across.of(c)), p.y.at(p.up.of(c))}
}

// name is the interval, with the service level where there are several.
func (p *choicesPlot) name(c planner.Choice) string {
	s := units.Minutes(c.Interval).String() + " min"
	if len(p.levels()) > 1 {
		s += ", " + strconv.FormatFloat(100*c.ServiceLevel.Float64(), 'g', 6, 64) + " %"
	}
	return s
}

func (p *choicesPlot) labels() {
	for _, c := range p.list {
		p.label(p.spot(c), p.name(c))
	}
}
