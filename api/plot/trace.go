package plot

import (
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/simulation"
)

// Size of the picture of a trace, in pixels.
const (
	traceWidth  = 1000
	traceHeight = 420
)

// tracePlot is one picture of a trace.
type tracePlot struct {
	*canvas
	trace simulation.Trace
	zone  *time.Location
	// worked are the stretches of the whole trace in which some shift works.
	worked []Window
	// points are those of the window, with the state at its two ends.
	points []simulation.Point
	window Window
	// area is where the curve is drawn; x and y are its scales, x in seconds from
	// the window's start.
	area box
	x, y scale
	// by is the distance of the ticks of y.
	by float64
	// rows are the lines of round marks below the area.
	rows []roundRow
}

// Trace draws the pieces on hand of one loop over time: what was worked and what
// not, when rounds came, how many signals they took, left and brought, and
// when the loop ran short.
func Trace(w io.Writer, t simulation.Trace, within Window) error {
	zone, err := time.LoadLocation(t.Zone)
	if err != nil {
		zone = time.UTC
	}
	p := tracePlot{trace: t, zone: zone, window: within, worked: worked(t.Shifts)}
	p.points = p.inside()
	p.layOut()
	return draw(w, traceWidth, traceHeight, p.title(), p.description(), func(c *canvas) {
		p.canvas = c
		p.heading()
		p.pauses()
		p.shortages()
		p.valueAxis()
		p.timeAxis()
		p.onHand()
		p.rounds()
		p.legend()
	})
}

// inside returns the points of the window, with the state at its two ends where
// the trace goes on beyond them.
func (p *tracePlot) inside() []simulation.Point {
	var list []simulation.Point
	all := p.trace.Points
	for i, now := range all {
		switch {
		case now.At.After(p.window.To):
			if i > 0 && !all[i-1].At.After(p.window.To) {
				list = append(list, p.carried(all[i-1], now, p.window.To))
			}
		case !now.At.Before(p.window.From):
			list = append(list, now)
		case i+1 < len(all) && all[i+1].At.After(p.window.From):
			list = append(list, p.carried(now, all[i+1], p.window.From))
		}
	}
	return list
}

// carried is the state at a time between two points, without what happened at
// the first of them.
func (p *tracePlot) carried(from, to simulation.Point, at time.Time) simulation.Point {
	state := simulation.Point{At: at, Event: simulation.EventStart, OnHand: from.OnHand, Missing: from.Missing}
	if all := p.net(Window{from.At, to.At}); all > 0 {
		state.OnHand += (p.before(to) - from.OnHand) * float64(p.net(Window{from.At, at})) / float64(all)
	}
	return state
}

// before is what was on hand just before a point: a delivery is a step.
func (p *tracePlot) before(now simulation.Point) float64 {
	return max(0, now.OnHand-float64(now.Brought)*float64(p.trace.Pack))
}

func (p *tracePlot) layOut() {
	p.rows = roundRows(p.points)
	p.area = box{100, 76, traceWidth - 22, traceHeight - 58 - rowHeight*float64(len(p.rows))}
	most := p.full()
	for _, now := range p.points {
		most = max(most, now.OnHand)
	}
	p.by = whole(most, 6)
	p.y = scale{0, p.by * math.Floor(most/p.by+1), p.area.bottom, p.area.top}
	p.x = scale{0, p.window.To.Sub(p.window.From).Seconds(), p.area.left, p.area.right}
}

// full is the number of pieces when all containers are full.
func (p *tracePlot) full() float64 { return float64(p.trace.Pack) * float64(p.trace.Containers) }

func (p *tracePlot) at(t time.Time) float64 {
	return min(max(p.x.at(t.Sub(p.window.From).Seconds()), p.area.left), p.area.right)
}

func (p *tracePlot) title() string {
	k := p.trace.Loop
	return fmt.Sprintf("Part %s at station %s of cell %s: pieces on hand", k.Part, k.Station, k.Cell)
}

func (p *tracePlot) subtitle() string {
	return fmt.Sprintf("%s to %s · replication %d · %d containers of %d pieces",
		p.window.From.In(p.zone).Format("Mon 2 Jan 2006 15:04"), p.window.To.In(p.zone).Format("Mon 2 Jan 15:04"),
		p.trace.Replication+1, p.trace.Containers, p.trace.Pack)
}

// description tells in a sentence what the picture shows.
func (p *tracePlot) description() string {
	rounds, low := 0, p.full()
	for _, at := range p.points {
		if at.Event == simulation.EventVisit {
			rounds++
		}
		low = min(low, at.OnHand)
	}
	return fmt.Sprintf("%s. %d rounds stop at the rack. The fewest pieces on hand are %s. The loop runs short %d times.",
		p.subtitle(), rounds, number(round1(low)), len(p.short()))
}

func (p *tracePlot) heading() {
	p.text("title", 16, 24, atStart, p.title(), "fill", ink, "font-size", "15", "font-weight", "600")
	p.text("subtitle", 16, 42, atStart, p.subtitle(), "fill", quiet)
}

// pauses shade what is not worked: breaks, and the time between shifts.
func (p *tracePlot) pauses() {
	from := p.window.From
	shade := func(to time.Time) {
		if to.After(p.window.To) {
			to = p.window.To
		}
		if to.After(from) {
			p.rect("pause", box{p.at(from), p.area.top, p.at(to), p.area.bottom}, "fill", shade)
		}
	}
	for _, s := range p.worked {
		shade(s.From)
		if s.To.After(from) {
			from = s.To
		}
	}
	shade(p.window.To)
}

// worked returns the stretches in which some shift works, in order and apart.
func worked(shifts []demand.Occurrence) []Window {
	var list []Window
	for _, o := range shifts {
		list = append(list, spans(o)...)
	}
	slices.SortFunc(list, func(a, b Window) int { return a.From.Compare(b.From) })
	apart := list[:0]
	for _, s := range list {
		if last := len(apart) - 1; last < 0 || s.From.After(apart[last].To) {
			apart = append(apart, s)
		} else if s.To.After(apart[last].To) {
			apart[last].To = s.To
		}
	}
	return apart
}

func spans(o demand.Occurrence) []Window {
	list := make([]Window, len(o.Work))
	for i, s := range o.Work {
		list[i] = Window{o.Day.Add(s.Start), o.Day.Add(s.End)}
	}
	return list
}

func (p *tracePlot) valueAxis() {
	for _, v := range ticks(0, p.y.high, p.by) {
		y := p.y.at(v)
		p.line("grid", p.area.left, y, p.area.right, y, "stroke", rule)
		p.text("tick-y", p.area.left-8, y+4, atEnd, number(v), "fill", quiet)
	}
	p.text("unit", p.area.left-8, p.area.top-10, atEnd, "pieces", "fill", quiet)
	y := p.y.at(p.full())
	p.line("full", p.area.left, y, p.area.right, y, "stroke", quiet, "stroke-dasharray", "2 4")
}

// timeAxis writes clock times, and the weekday where a day begins.
func (p *tracePlot) timeAxis() {
	y := p.area.bottom
	p.line("axis", p.area.left, y, p.area.right, y, "stroke", ink)
	times, minutes := clockTicks(p.window.From, p.window.To, p.zone, p.area.width(), 52)
	day := ""
	for _, t := range times {
		local := t.In(p.zone)
		x := p.at(t)
		p.line("tick", x, y, x, y+5, "stroke", ink)
		if minutes < 24*60 {
			p.text("tick-x", x, y+18, atMiddle, local.Format("15:04"), "fill", ink)
		}
		if d := local.Format("Mon 2 Jan"); d != day {
			half := textWidth(d, 12) / 2
			p.text("day", min(x, traceWidth-half-4), y+33, atMiddle, d, "fill", quiet)
			day = d
		}
	}
}
