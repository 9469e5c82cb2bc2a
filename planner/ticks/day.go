package ticks

import (
	"time"

	"lanewright/planner"
)

// Round is one round of a day with what was ticked on it.
type Round struct {
	ID RoundID
	planner.DayRound
	Sheet *planner.RoundSheet
	Progress
}

// Rounds puts the ticks of a day to the rounds of a plan's day. Strays are ticks on
// rounds that are not among these, as those of the plan before.
func Rounds(plan int64, day time.Time, rounds []planner.DayRound, sheets map[string]*planner.RoundSheet, list []Tick) (with []Round, strays []Tick) {
	with = make([]Round, 0, len(rounds))
	by := make(map[RoundID][]Tick)
	for _, t := range list {
		by[t.Round] = append(by[t.Round], t)
	}
	for _, r := range rounds {
		id := IDOf(plan, day, r)
		sheet := sheets[r.Route.Route]
		with = append(with, Round{id, r, sheet, ProgressOf(sheet, by[id])})
		delete(by, id)
	}
	for _, t := range list {
		if _, left := by[t.Round]; left {
			strays = append(strays, t)
		}
	}
	return with, strays
}

// Late is by how much a round began, or came back, after its time; 0 is not late.
// Both are measured until now where they have not happened.
type Late struct{ Start, Back time.Duration }

// Late measures a round against its timetable at a moment. A round that was ended
// without a tick at its start counts from its first tick.
func (r Round) Late(now time.Time) Late {
	started, ended := r.Started, r.Ended
	if started.IsZero() {
		started = now
	}
	if ended.IsZero() {
		ended = now
	}
	return Late{max(0, started.Sub(r.Leaves)), max(0, ended.Sub(r.Back))}
}

// Miss is a lane, or a whole stop, that was short or skipped on a round.
type Miss struct {
	// Stop is its number, from 1; Lane is nil for a stop without lanes.
	Stop int
	Lane *planner.SheetLane
	// Short counts containers; Skipped is nil where it was not skipped.
	Short   int
	Skipped *Tick
}

// Misses lists what was short or skipped, in the order of the sheet.
func (r Round) Misses() (list []Miss) {
	for i, s := range r.Stops() {
		for j, l := range s.Lanes {
			if l.Short != nil || l.Skipped != nil {
				m := Miss{Stop: i + 1, Lane: &r.Sheet.Stops[i].Lanes[j], Skipped: l.Skipped}
				if l.Short != nil {
					m.Short = *l.Short
				}
				list = append(list, m)
			}
		}
		if len(s.Lanes) == 0 && s.Skipped != nil {
			list = append(list, Miss{Stop: i + 1, Skipped: s.Skipped})
		}
	}
	return list
}

// Stops is the progress of the stops; their planned arrivals are those of DayRound.
func (r Round) Stops() []StopProgress { return r.Progress.Stops }
