package plot

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"

	"lanewright/planner"
)

// Size of the picture of a trade, in pixels.
const (
	tradeWidth  = 1000
	tradeHeight = 480
)

// tradePlot is one picture of frontage against effort.
type tradePlot struct {
	chart
	list []planner.TradeOff
	cell string
}

// Trade draws the frontage of racks against the effort of the work on them, for a
// cell or, where that is empty, the plant. What nothing beats is filled and
// joined, what something beats is hollow, and each has its fill limit beside it.
// A ring is around the best of the fill limits at the price of frontage, a square
// around the plan at that price; neither is there without a price.
func Trade(w io.Writer, cell string, list []planner.TradeOff) error {
	p := tradePlot{chart: newChart(tradeWidth, tradeHeight), list: list, cell: cell}
	var across, up []float64
	for _, t := range list {
		across, up = append(across, t.Frontage.Metres()), append(up, t.Effort)
	}
	p.layOut(across, up)
	return draw(w, tradeWidth, tradeHeight, p.title(), p.description(), func(c *canvas) {
		p.canvas = c
		p.heading()
		p.axes("frontage of all racks, m", "effort, kg per net hour")
		p.spots()
		p.names()
	})
}

func (p *tradePlot) title() string {
	if p.cell == "" {
		return "Frontage against effort"
	}
	return "Frontage against effort, cell " + p.cell
}

func (p *tradePlot) description() string {
	text := "Each spot is a plan of the racks at one fill limit."
	for _, t := range p.list {
		text += fmt.Sprintf(" %s: %s m, %s kg/h", p.name(t), number(round1(t.Frontage.Metres())), number(round1(t.Effort)))
		switch {
		case t.Priced:
			text += ", the plan at the price of frontage"
		case t.Best:
			text += ", the best fill limit at the price of frontage"
		}
		if !t.Undominated {
			text += ", beaten by another"
		}
		text += "."
	}
	return text
}

func (p *tradePlot) heading() {
	p.text("title", 16, 24, atStart, p.title(), "fill", ink, "font-size", "15", "font-weight", "600")
	p.text("subtitle", 16, 42, atStart, "each spot is a plan of the racks at one fill limit", "fill", quiet)
	x := p.area.right - 404
	p.circle("key", at{x, 20}, true)
	p.text("legend", x+12, 24, atStart, "nothing beats it", "fill", ink)
	p.circle("key", at{x, 38}, false)
	p.text("legend", x+12, 42, atStart, "another is as good or better in all that counts", "fill", ink)
	if slices.ContainsFunc(p.list, func(t planner.TradeOff) bool { return t.Priced }) {
		p.ring("key", at{x + 140, 20})
		p.text("legend", x+154, 24, atStart, "best fill limit at the price", "fill", ink)
		p.square("key", at{x + 326, 20})
		p.text("legend", x+340, 24, atStart, "plan at the price", "fill", ink)
	}
}

// spots joins what nothing beats by rising frontage, draws all and marks what is
// chosen.
func (p *tradePlot) spots() {
	list := slices.Clone(p.list)
	slices.SortStableFunc(list, func(a, b planner.TradeOff) int { return cmp.Compare(a.Frontage, b.Frontage) })
	var joined []at
	for _, t := range list {
		if t.Undominated {
			joined = append(joined, p.spot(t))
		}
	}
	p.join(joined)
	for _, t := range list {
		p.mark("trade", p.spot(t), t.Undominated)
		switch {
		case t.Priced:
			p.square("plan", p.spot(t))
		case t.Best:
			p.ring("best", p.spot(t))
		}
	}
}

func (p *tradePlot) spot(t planner.TradeOff) at {
	return at{p.x.at(t.Frontage.Metres()), p.y.at(t.Effort)}
}

func (p *tradePlot) ring(class string, s at) {
	p.element("circle", class, "", attributes{"cx", px(s.x), "cy", px(s.y), "r", "9", "fill", "none", "stroke", ink, "stroke-width", "1.5"})
}

func (p *tradePlot) square(class string, s at) {
	p.rect(class, box{s.x - 9, s.y - 9, s.x + 9, s.y + 9}, "fill", "none", "stroke", ink, "stroke-width", "1.5")
}

// name is the fill limit, with the containers that have no lane.
func (p *tradePlot) name(t planner.TradeOff) string {
	name := strconv.FormatFloat(100*t.FillLimit.Float64(), 'g', 6, 64) + " %"
	if t.Priced {
		name = "plan"
	}
	if t.Unplaced > 0 {
		name += ", " + number(float64(t.Unplaced)) + " without a lane"
	}
	return name
}

// names writes each spot's label; spots that fall together share one.
func (p *tradePlot) names() {
	for i, t := range p.list {
		together := func(o planner.TradeOff) bool { return p.spot(o) == p.spot(t) }
		if slices.ContainsFunc(p.list[:i], together) {
			continue
		}
		text := p.name(t)
		for _, o := range p.list[i+1:] {
			if together(o) {
				text += " = " + p.name(o)
			}
		}
		p.label(p.spot(t), text)
	}
}
