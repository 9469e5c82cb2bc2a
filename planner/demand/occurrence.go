package demand

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/plant"
)

// Occurrence is one working of a shift: on one day, from its start to its end.
type Occurrence struct {
	Shift plant.ShiftCode
	// Day is midnight of the day on which it starts, as an instant.
	Day time.Time
	// Work are the stretches that are worked, as time that has really passed
	// since Day: on the nights on which the clocks change that is not what they
	// show.
	Work []plant.Span
}

// Start and End are the instants at which its work begins and ends.
func (o Occurrence) Start() time.Time { return o.Day.Add(o.Work[0].Start) }

// End is the instant at which its work ends.
func (o Occurrence) End() time.Time { return o.Day.Add(o.Work[len(o.Work)-1].End) }

// Net returns its working time as it really passes: an hour less or more than
// the shift's on a night on which the clocks change.
func (o Occurrence) Net() time.Duration {
	var net time.Duration
	for _, w := range o.Work {
		net += w.End - w.Start
	}
	return net
}

// Occurrences lists every working of the shifts that starts on one of so many
// days from the day of from, ordered by start, then code. Shifts are kept by the
// wall clock of zone: where the clocks go forward or back in a shift, it still
// starts and ends, and has its breaks, at the times on the clock. A time that the
// clock skips is taken as the moment at which it is put forward; of a time that
// it shows twice the first is meant. A working with no minute is left out.
func Occurrences(shifts []plant.Shift, from time.Time, zone *time.Location, days int) []Occurrence {
	year, month, date := from.Date()
	var list []Occurrence
	for d := range days {
		for _, s := range shifts {
			day := time.Date(year, month, date+d, 0, 0, 0, 0, zone)
			if !s.Days[day.Weekday()] {
				continue
			}
			if work := onDay(s, day).Work(); len(work) > 0 {
				list = append(list, Occurrence{s.Shift, day, work})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Occurrence) int {
		return cmp.Or(a.Start().Compare(b.Start()), cmp.Compare(a.Shift, b.Shift))
	})
	return list
}

// onDay returns s with the times that have passed since day in place of those on
// the clock. A break keeps its length.
func onDay(s plant.Shift, day time.Time) plant.Shift {
	s.Start, s.End = passed(day, s.Start), passed(day, s.End)
	breaks := make([]plant.Break, len(s.Breaks))
	for i, b := range s.Breaks {
		breaks[i] = plant.Break{Start: passed(day, b.Start), Length: b.Length}
	}
	s.Breaks = breaks
	return s
}

// passed returns how much time has passed from midnight of day until its clock
// shows so much, which may be past 24 h.
func passed(day time.Time, clock time.Duration) time.Duration {
	zone := day.Location()
	offset := func(t time.Time) time.Duration {
		_, seconds := t.In(zone).Zone()
		return time.Duration(seconds) * time.Second
	}
	atMidnight := offset(day)
	first := day.Add(clock)
	after := offset(first.Add(12 * time.Hour))
	if offset(first) == atMidnight {
		return clock
	}
	second := first.Add(atMidnight - after)
	if offset(second) == after {
		return second.Sub(day)
	}
	_, change := second.In(zone).ZoneBounds()
	return change.Sub(day)
}
