package plot

import (
	"fmt"
	"math"
	"time"

	"lanewright/planner/simulation"
)

// onHand draws the curve. Between two events pieces are used evenly while work goes
// on and none in a pause; a delivery is a step.
func (p *tracePlot) onHand() {
	var spots []at
	for i, now := range p.points {
		before := p.before(now)
		if i > 0 {
			spots = append(spots, p.between(p.points[i-1], now.At, before)...)
		}
		spots = append(spots, at{p.at(now.At), p.y.at(before)}, at{p.at(now.At), p.y.at(now.OnHand)})
	}
	p.curve("onhand", spots, "stroke", accent, "stroke-width", "2", "stroke-linejoin", "round")
}

// between returns the corners of the curve from the state after one event to the
// value just before the next: where work stops and where it goes on.
func (p *tracePlot) between(from simulation.Point, to time.Time, value float64) []at {
	all, done := p.net(Window{from.At, to}), time.Duration(0)
	if all == 0 {
		return []at{{p.at(to), p.y.at(from.OnHand)}}
	}
	var spots []at
	for _, s := range p.worked {
		o := overlap(s, from.At, to)
		if o == 0 {
			continue
		}
		level := func() float64 {
			return p.y.at(from.OnHand + (value-from.OnHand)*float64(done)/float64(all))
		}
		if s.From.After(from.At) {
			spots = append(spots, at{p.at(s.From), level()})
		}
		if done += o; s.To.Before(to) {
			spots = append(spots, at{p.at(s.To), level()})
		}
	}
	return spots
}

// overlap is how much of s lies between two times.
func overlap(s Window, from, to time.Time) time.Duration {
	if s.From.After(from) {
		from = s.From
	}
	if s.To.Before(to) {
		to = s.To
	}
	return max(0, to.Sub(from))
}

// short returns the stretches in which pieces were wanted that were not there, the
// last one to the end of what was played where it does not end before.
func (p *tracePlot) short() []Window {
	var list []Window
	open := false
	for _, now := range p.points {
		if open {
			list[len(list)-1].To = now.At
		}
		if now.Missing > 0 && !open {
			list = append(list, Window{now.At, now.At})
		}
		open = now.Missing > 0
	}
	return list
}

// shortages are bands of hatching over the whole height, each with its length
// where there is room.
func (p *tracePlot) shortages() {
	list := p.short()
	for _, s := range list {
		left := p.at(s.From)
		p.rect("short", box{left, p.area.top, max(p.at(s.To), left+2), p.area.bottom}, "fill", "url(#h)", "stroke", harm)
	}
	var free [shortRows]float64
	for _, s := range list {
		p.shortLabel(s, &free)
	}
}

// shortRows are the rows in which labels of shortages may stand.
const shortRows = 3

// shortLabel writes how long a shortage is into the first row with room; free is
// where the last label of each row ends.
func (p *tracePlot) shortLabel(s Window, free *[shortRows]float64) {
	label := "short " + length(p.net(s))
	half := textWidth(label, 12)/2 + 4
	middle := min(max((p.at(s.From)+p.at(s.To))/2, p.area.left+half), p.area.right-half)
	for row := range free {
		if middle-half < free[row] {
			continue
		}
		free[row] = middle + half
		top := p.area.top + 4 + 20*float64(row)
		p.rect("plate", box{middle - half, top, middle + half, top + 17}, "fill", ground, "stroke", harm, "rx", "3")
		p.text("short-label", middle, top+13, atMiddle, label, "fill", harm, "font-weight", "600")
		return
	}
}

// net is the worked time within s.
func (p *tracePlot) net(s Window) time.Duration {
	var sum time.Duration
	for _, w := range p.worked {
		sum += overlap(w, s.From, s.To)
	}
	return sum
}

// length writes a time in whole minutes, or seconds where it is less than one.
func length(d time.Duration) string {
	if d < time.Minute {
		return fmt.Sprintf("%.0f s", d.Seconds())
	}
	return fmt.Sprintf("%.0f min", d.Minutes())
}

func round1(f float64) float64 { return math.Round(10*f) / 10 }

// legend explains the marks, from the right of the heading.
func (p *tracePlot) legend() {
	x := p.area.right
	entry := func(label string, swatch func(left float64)) {
		x -= textWidth(label, 12)
		p.text("legend", x, 42, atStart, label, "fill", ink)
		x -= 30
		swatch(x)
		x -= 14
	}
	entry("short", func(l float64) {
		p.rect("key", box{l, 32, l + 24, 43}, "fill", "url(#h)", "stroke", harm)
	})
	entry("not worked", func(l float64) { p.rect("key", box{l, 32, l + 24, 43}, "fill", shade, "stroke", rule) })
	entry("all full", func(l float64) {
		p.line("key", l, 38, l+24, 38, "stroke", quiet, "stroke-dasharray", "2 4")
	})
	entry("on hand", func(l float64) { p.line("key", l, 38, l+24, 38, "stroke", accent, "stroke-width", "2") })
}
