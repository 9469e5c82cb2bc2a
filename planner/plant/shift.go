package plant

import (
	"slices"
	"time"

	"lanewright/planner/finding"
)

// Shift is a working time in wall-clock time of the plant's zone.
type Shift struct {
	Shift ShiftCode
	// Days are the weekdays on which the shift starts, Sunday first as in
	// time.Weekday.
	Days [7]bool
	// Start is the time of day, 0 <= Start < 24 h. End is greater than Start
	// and at most Start + 24 h: past 24 h it is on the next day.
	Start, End time.Duration
	Breaks     []Break
	Origin     finding.Origin
}

// Break is a pause in a shift. It includes its start and not its end.
type Break struct {
	// Start is measured as Shift.Start is: past 24 h on the next day.
	Start, Length time.Duration
	Origin        finding.Origin
}

// Span is a half-open stretch of time [Start, End).
type Span struct{ Start, End time.Duration }

// Work returns the stretches of s that are worked, in order, breaks taken out
// (overlapping breaks count once; what lies outside the shift counts nothing).
func (s Shift) Work() []Span {
	breaks := make([]Span, 0, len(s.Breaks))
	for _, b := range s.Breaks {
		breaks = append(breaks, Span{min(max(b.Start, s.Start), s.End), min(b.Start+b.Length, s.End)})
	}
	slices.SortFunc(breaks, func(a, b Span) int { return int(a.Start - b.Start) })
	var work []Span
	at := s.Start
	for _, b := range breaks {
		if b.End <= at {
			continue
		}
		if b.Start > at {
			work = append(work, Span{at, b.Start})
		}
		at = b.End
	}
	if at < s.End {
		work = append(work, Span{at, s.End})
	}
	return work
}

// Net returns the net working time of one such shift.
func (s Shift) Net() time.Duration {
	var net time.Duration
	for _, w := range s.Work() {
		net += w.End - w.Start
	}
	return net
}

// Passed returns the net working time of the shift that has passed at a wall-clock
// time, measured as Start is.
func (s Shift) Passed(t time.Duration) time.Duration {
	var net time.Duration
	for _, w := range s.Work() {
		net += min(max(t, w.Start), w.End) - w.Start
	}
	return net
}

// Clock returns the wall-clock time (past 24 h on the next day) at which net
// working time n of the shift has passed and work goes on; ok is false when
// the shift has no more than n.
func (s Shift) Clock(n time.Duration) (t time.Duration, ok bool) {
	for _, w := range s.Work() {
		if n < w.End-w.Start {
			return w.Start + n, true
		}
		n -= w.End - w.Start
	}
	return 0, false
}

// DefaultShift is the one shift of a plant without a Shifts sheet: Monday to
// Friday, 480 net minutes from 06:00.
func DefaultShift() Shift {
	return Shift{
		Shift: "day",
		Days:  [7]bool{time.Monday: true, time.Tuesday: true, time.Wednesday: true, time.Thursday: true, time.Friday: true},
		Start: 6 * time.Hour, End: 14 * time.Hour,
	}
}
