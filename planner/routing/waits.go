package routing

import (
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// Waits returns the longest working time between two rounds of r by its
// timetable, and between a round and the next but one: at the end of a shift
// both may be more than one and two intervals, for the last round must end in
// the shift and the next shift counts anew. Shifts are taken one after the
// other; where they overlap less time may pass. Both are 0 for a route with no
// departure.
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

// inWeek lists the departures of a week in working time, and the first two of the
// week after it.
func (r Route) inWeek(shifts []plant.Shift) []time.Duration {
	monday := time.Date(2001, time.January, 1, 0, 0, 0, 0, time.UTC)
	var times []time.Duration
	var passed time.Duration
	for _, o := range demand.Occurrences(shifts, monday, time.UTC, 7) {
		for _, s := range shifts {
			if s.Shift == o.Shift {
				times = append(times, r.inShift(s, passed)...)
			}
		}
		passed += o.Net()
	}
	for _, t := range times[:min(2, len(times))] {
		times = append(times, t+passed)
	}
	return times
}

func (r Route) inShift(s plant.Shift, passed time.Duration) []time.Duration {
	var times []time.Duration
	for _, t := range r.Timetable {
		if t.Shift != s.Shift {
			continue
		}
		for _, d := range t.Departures {
			times = append(times, passed+s.Passed(d))
		}
	}
	return times
}
