package ticks

import (
	"slices"
	"time"

	"lanewright/planner"
	"lanewright/planner/plant"
)

// State says how far a round is.
type State string

// States of a round: ToCome until the first tick, Done from the tick that ends it.
const (
	ToCome   State = "to_come"
	UnderWay State = "under_way"
	Done     State = "done"
)

// Progress is what is known of a round by its ticks.
type Progress struct {
	State State
	// Started and Ended are zero where nothing says so. A round whose start nobody
	// ticked has started at its first tick.
	Started, Ended time.Time
	// Took counts containers by part.
	Took  map[plant.PartCode]int
	Stops []StopProgress
	// Undone are the ids of the ticks that were taken back.
	Undone map[string]bool
}

// StopProgress is what is known of one stop.
type StopProgress struct {
	// Lanes are those of the sheet's stop.
	Lanes []LaneProgress
	// Empties taken back; nil where nobody said.
	Empties *int
	// Skipped is the skip of the stop: of those of its lanes on which nothing else
	// was ticked.
	Skipped *Tick
}

// LaneProgress is what is known of one lane.
type LaneProgress struct {
	// Brought and Short count containers; nil where nobody said.
	Brought, Short *int
	// Skipped is the lane's own skip, or that of its stop.
	Skipped *Tick
}

// Ticked reports whether something was ticked on the lane.
func (l LaneProgress) Ticked() bool { return l.Brought != nil || l.Short != nil || l.Skipped != nil }

// Ticked reports whether the stop is dealt with: each of its lanes is.
func (s StopProgress) Ticked() bool {
	return !slices.ContainsFunc(s.Lanes, func(l LaneProgress) bool { return !l.Ticked() }) && (len(s.Lanes) > 0 || s.Skipped != nil || s.Empties != nil)
}

// StopsTicked counts the stops that are dealt with.
func (p Progress) StopsTicked() (n int) {
	for _, s := range p.Stops {
		if s.Ticked() {
			n++
		}
	}
	return n
}

// ProgressOf returns the progress of a round by its ticks, given in any order, some of
// them perhaps twice. They count in the order of the device's time, then id: a later
// count takes the place of an earlier one of the same kind at the same place; on a lane
// a skip takes the place of what was brought and short, and these of a skip. What was
// undone does not count, whenever that was said.
func ProgressOf(sheet *planner.RoundSheet, list []Tick) Progress {
	p := Progress{State: ToCome, Took: map[plant.PartCode]int{}, Stops: make([]StopProgress, len(sheet.Stops)), Undone: map[string]bool{}}
	for i, s := range sheet.Stops {
		p.Stops[i].Lanes = make([]LaneProgress, len(s.Lanes))
	}
	list = slices.Clone(list)
	Sort(list)
	for _, t := range list {
		if t.Kind == Undone {
			p.Undone[t.Undoes] = true
		}
	}
	for i := range list {
		if t := &list[i]; t.Kind != Undone && !p.Undone[t.ID] {
			p.apply(sheet, t)
		}
	}
	for i := range p.Stops {
		p.Stops[i].spread()
	}
	return p
}

// apply lets a tick count.
func (p *Progress) apply(sheet *planner.RoundSheet, t *Tick) {
	if p.State == ToCome {
		p.State, p.Started = UnderWay, t.At
	}
	switch t.Kind {
	case Started:
		p.Started = t.At
	case Ended:
		p.State, p.Ended = Done, t.At
	case Took:
		p.Took[t.Part] = t.Containers
	case Empties, Brought, Short, Skipped:
		if t.Check(sheet) == "" {
			p.Stops[t.Stop-1].apply(laneAt(sheet, *t), t)
		}
	}
}

// apply lets a tick count at a stop; lane is -1 for the whole of it.
func (s *StopProgress) apply(lane int, t *Tick) {
	switch {
	case t.Kind == Empties:
		s.Empties = &t.Containers
	case lane < 0:
		s.Skipped = t
	case t.Kind == Skipped:
		s.Lanes[lane] = LaneProgress{Skipped: t}
	case t.Kind == Short:
		s.Lanes[lane].Short, s.Lanes[lane].Skipped = &t.Containers, nil
	default:
		s.Lanes[lane].Brought, s.Lanes[lane].Skipped = &t.Containers, nil
	}
}

// spread gives the lanes on which nothing was ticked the skip of their stop.
func (s *StopProgress) spread() {
	for i := range s.Lanes {
		if !s.Lanes[i].Ticked() {
			s.Lanes[i].Skipped = s.Skipped
		}
	}
}
