package simulation

import (
	"math"
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// never is a time that no play reaches.
const never = math.MaxInt64

// duty is one working of a shift. Times are nanoseconds since the start of the
// play.
type duty struct {
	shift plant.ShiftCode
	work  []plant.Span
	net   time.Duration
}

func (d *duty) end() int64 { return int64(d.work[len(d.work)-1].End) }

// at returns the moment at which so much of its working time has passed and
// work goes on; false when there is no such moment.
func (d *duty) at(net time.Duration) (int64, bool) {
	for _, w := range d.work {
		if net < w.End-w.Start {
			return int64(w.Start + net), true
		}
		net -= w.End - w.Start
	}
	return 0, false
}

// passed returns how much of its working time has passed at a moment.
func (d *duty) passed(at int64) time.Duration {
	var net time.Duration
	for _, w := range d.work {
		net += min(max(time.Duration(at), w.Start), w.End) - w.Start
	}
	return net
}

// later returns the moment at which so much more of its working time has passed,
// its end where there is not so much.
func (d *duty) later(at int64, net time.Duration) int64 {
	if t, ok := d.at(d.passed(at) + net); ok {
		return t
	}
	return d.end()
}

// after returns the moment at which so much working time has passed since a
// moment of the duty: its own as long as it lasts, then that of the calendar.
func (d *duty) after(c *calendar, at, net int64) int64 {
	total := d.passed(at) + time.Duration(net)
	if t, ok := d.at(total); ok {
		return t
	}
	return c.later(d.end(), int64(total-d.net))
}

// calendar leads between the clock and the net time of a set of shifts: net time
// stands still when none is worked and runs twice as fast where two overlap.
type calendar struct {
	// clock are the moments at which the number of shifts at work changes, net the
	// net time at each, and speed how many are at work from then on.
	clock, net []int64
	speed      []int64
}

func newCalendar(duties []*duty) *calendar {
	type change struct{ at, by int64 }
	var changes []change
	for _, d := range duties {
		for _, w := range d.work {
			changes = append(changes, change{int64(w.Start), 1}, change{int64(w.End), -1})
		}
	}
	slices.SortFunc(changes, func(a, b change) int { return int(min(max(a.at-b.at, -1), 1)) })
	c := &calendar{}
	c.add(0, 0, 0)
	at, net, speed := int64(0), int64(0), int64(0)
	for i, x := range changes {
		net += (x.at - at) * speed
		at = x.at
		speed += x.by
		if i+1 == len(changes) || changes[i+1].at != at {
			c.add(at, net, speed)
		}
	}
	return c
}

func (c *calendar) add(clock, net, speed int64) {
	c.clock, c.net, c.speed = append(c.clock, clock), append(c.net, net), append(c.speed, speed)
}

// cursor is a place in a calendar. Times asked of it never go back.
type cursor struct{ at int }

// clockOf returns the moment at which so much net time has passed and work goes
// on; never, where the play ends before.
func (k *cursor) clockOf(c *calendar, net int64) int64 {
	for k.at+1 < len(c.net) && c.net[k.at+1] <= net {
		k.at++
	}
	if c.speed[k.at] == 0 {
		return never
	}
	return c.clock[k.at] + (net-c.net[k.at])/c.speed[k.at]
}

// netOf returns the net time that has passed at a moment.
func (k *cursor) netOf(c *calendar, clock int64) int64 {
	for k.at+1 < len(c.clock) && c.clock[k.at+1] <= clock {
		k.at++
	}
	return c.net[k.at] + (clock-c.clock[k.at])*c.speed[k.at]
}

// search returns a cursor at which a calendar may be asked for a moment.
func (c *calendar) search(clock int64) cursor {
	i, found := slices.BinarySearch(c.clock, clock)
	if !found {
		i--
	}
	return cursor{i}
}

// later returns the moment at which so much net time more has passed.
func (c *calendar) later(clock, net int64) int64 {
	k := c.search(clock)
	return k.clockOf(c, k.netOf(c, clock)+net)
}

// dutiesOf returns the workings of each shift over some days.
func dutiesOf(shifts []plant.Shift, start time.Time, zone *time.Location, days int) map[plant.ShiftCode][]*duty {
	m := map[plant.ShiftCode][]*duty{}
	for _, o := range demand.Occurrences(shifts, start, zone, days) {
		d := &duty{shift: o.Shift, net: o.Net(), work: make([]plant.Span, len(o.Work))}
		since := o.Day.Sub(start)
		for i, w := range o.Work {
			d.work[i] = plant.Span{Start: since + w.Start, End: since + w.End}
		}
		m[o.Shift] = append(m[o.Shift], d)
	}
	return m
}
