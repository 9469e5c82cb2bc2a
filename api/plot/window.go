package plot

import (
	"time"

	"lanewright/planner/simulation"
)

// Window is the time that a picture shows, [From, To].
type Window struct{ From, To time.Time }

// Whole is all of the traced time.
func Whole(t simulation.Trace) Window {
	return Window{From: t.Points[0].At, To: t.Points[len(t.Points)-1].At}
}

// FirstDay is the first day on which pieces are missing, else the first that is
// worked in the traced time ("2026-10-19"); empty where none is.
func FirstDay(t simulation.Trace) string {
	at := t.Points[0].At
	for _, p := range t.Points {
		if p.Missing > 0 {
			at = p.At
			break
		}
	}
	for _, s := range t.Shifts {
		if s.End().After(at) {
			return s.Day.Format(time.DateOnly)
		}
	}
	return ""
}

// Day is the time from the start of the first shift that begins on a day to the
// end of the last; false where none does within the traced time.
func Day(t simulation.Trace, day string) (Window, bool) {
	w := Window{}
	for _, s := range t.Shifts {
		if s.Day.Format(time.DateOnly) != day {
			continue
		}
		if w.From.IsZero() {
			w.From = s.Start()
		}
		if s.End().After(w.To) {
			w.To = s.End()
		}
	}
	return w, !w.From.IsZero() && !w.From.After(Whole(t).To)
}
