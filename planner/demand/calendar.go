package demand

import (
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// NetDay returns the net minutes of one working day under shifts: the net
// minutes of a week (overlapping shifts add up) over the weekdays on which any
// shift starts. Shifts count by the wall clock, so a change of clocks changes
// nothing here. It is 0 when nothing is worked.
func NetDay(shifts []plant.Shift) units.Ratio {
	week, days := worked(shifts)
	if days == 0 {
		return units.Ratio{}
	}
	return units.Minutes(week).Div(units.Int(days))
}

// NetWeek returns the net minutes of one week under shifts, counted as for
// NetDay.
func NetWeek(shifts []plant.Shift) units.Ratio {
	week, _ := worked(shifts)
	return units.Minutes(week)
}

// worked returns the net time of a week and on how many weekdays a shift starts.
func worked(shifts []plant.Shift) (week time.Duration, days int64) {
	var any [7]bool
	for _, s := range shifts {
		net := s.Net()
		for d, on := range s.Days {
			if on {
				week += net
				any[d] = true
			}
		}
	}
	for _, on := range any {
		if on {
			days++
		}
	}
	return week, days
}

// longest returns the net time of the longest shift that is worked on any day.
func longest(shifts []plant.Shift) time.Duration {
	var most time.Duration
	for _, s := range shifts {
		if s.Days != [7]bool{} {
			most = max(most, s.Net())
		}
	}
	return most
}

// hours is when a cell works: the net minutes of its day and week, 1 over those
// of its day (0 where it works none), and the net time of its longest shift.
type hours struct {
	day, week, perDay units.Ratio
	shift             time.Duration
}

func hoursOf(shifts []plant.Shift) hours {
	h := hours{day: NetDay(shifts), week: NetWeek(shifts), shift: longest(shifts)}
	if !h.day.IsZero() {
		h.perDay = units.Int(1).Div(h.day)
	}
	return h
}
