package routing

import (
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// Waits returns the longest working time between two rounds of r by its
// timetable, and between a round and the next but one. At the end of a shift both
// may be more than one and two intervals, for the last round must end in the
// shift and the next shift counts anew; and where shifts overlap, both work
// between two rounds of one. Both are 0 for a route with no departure.
func (r Route) Waits(shifts []plant.Shift) (one, two time.Duration) {
	times := r.inWeek(shifts)
	for i := range times {
		if i >= 1 {
			one = max(one, times[i]-times[i-1])
		}
		if i >= 2 {
			two = max(two, times[i]-times[i-2])
		}
	}
	return one, two
}

// inWeek lists the departures of a week by the working time of all shifts that
// has passed, and the first two of the week after it.
func (r Route) inWeek(shifts []plant.Shift) []time.Duration {
	monday := time.Date(2001, time.January, 1, 0, 0, 0, 0, time.UTC)
	week := demand.Occurrences(shifts, monday, time.UTC, 7)
	var times []time.Duration
	for _, o := range week {
		for _, t := range r.Timetable {
			if t.Shift != o.Shift {
				continue
			}
			for _, d := range t.Departures {
				times = append(times, worked(week, o.Day.Add(d)))
			}
		}
	}
	slices.Sort(times)
	whole := worked(week, monday.AddDate(0, 0, 9))
	for _, t := range times[:min(2, len(times))] {
		times = append(times, t+whole)
	}
	return times
}

// worked is the working time that has passed at a moment.
func worked(list []demand.Occurrence, at time.Time) time.Duration {
	var net time.Duration
	for _, o := range list {
		since := at.Sub(o.Day)
		for _, w := range o.Work {
			net += min(max(since, w.Start), w.End) - w.Start
		}
	}
	return net
}
