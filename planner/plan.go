// Package planner is the recipe: facts of a plant in, a plan and findings out.
// Each stage is a package below it; none reads files, the clock or a database,
// so the same facts, settings and seed give the same plan.
package planner

import (
	"lanewright/planner/ergonomics"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/search"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// Version of the planner's rules; it is stored with each plan and changes
// whenever the same facts may give another plan.
const Version = "0.5.6"

// Settings are the facts' own settings, as the run uses them, and those of
// each stage.
type Settings struct {
	// Plant starts as the plant's own settings; a run may override some.
	Plant      plant.Settings
	Placement  placement.Settings
	Routing    routing.Settings
	Ergonomics ergonomics.Settings
	// CoverShiftEnds sizes loops for the longest wait that the timetable of their
	// route has, which at the end of a shift may be more than the interval; the
	// planning rules take the interval.
	CoverShiftEnds bool
	// ChooseIntervals lets the plan choose refill intervals from the plant's list, for
	// loops whose rows give none.
	ChooseIntervals bool
	// DesignRacks lets the plan design rack types for cells that lack lanes or buy
	// racks, and use them beside the plant's own.
	DesignRacks bool
	// Simulation says how the plan is played; Prove, that it is played when it
	// was made.
	Simulation simulation.Settings
	Prove      bool
}

// DefaultSettings returns the settings of a plan of p that asks for nothing
// else.
func DefaultSettings(p *plant.Plant) Settings {
	return Settings{
		Plant:      p.Settings,
		Placement:  placement.DefaultSettings(),
		Routing:    routing.DefaultSettings(),
		Ergonomics: ergonomics.DefaultSettings(),
		Simulation: simulation.DefaultSettings(),
	}
}

// Options say how a run is done. They never change its result.
type Options struct {
	// Threads is the number of goroutines that search; below 1 means 1.
	Threads  int
	Progress search.Progress
}

// Plan is the result of one run.
type Plan struct {
	Plant string
	// Revision is plant.Revision of the facts.
	Revision string
	Version  string
	Settings Settings
	// Loops are ordered by cell, station and part.
	Loops    []Loop
	Racks    []structure.Rack
	Lanes    []placement.Lane
	Unplaced []placement.Unplaced
	Cells    []placement.Bound
	Balance  []placement.Balance
	Routes   []routing.Route
	Unserved []routing.Unserved
	// RouteBounds compares the routes with what no routes can beat.
	RouteBounds routing.Bounds
	Moves       []placement.Move
	// MoveSteps is the list that turns today's layout into the plan's, in the
	// order in which a person can do it.
	MoveSteps []placement.Step
	// Proof is what was measured when the plan was played; nil where it was not.
	Proof    *simulation.Result
	Findings finding.List
	// Edits are what somebody changed by hand, one after the other, on the plan that
	// this one was made from; empty where the stages made it. Held are those that
	// still count when it is edited again: what was pinned, unpinned and closed, on
	// the plans before too.
	Edits, Held []placement.Edit
	// Stopped is search.Cancelled when a time limit or the caller cut the
	// search short: then the same bytes can not be promised.
	Stopped search.Stop
}

// Loop is a sized loop and how the plan lays and serves it.
type Loop struct {
	sizing.Loop
	// Capacity is containers in its first lane and Lanes the number of its
	// lanes; Side the flow side of its first lane. All are zero where the loop
	// has no lane.
	Capacity, Lanes int
	Side            plant.FlowSide
	// Route names the route that refills it; empty where none does.
	Route string
}

// LoopsUnserved counts the loops on racks that no round serves.
func (p *Plan) LoopsUnserved() int {
	n := 0
	for _, u := range p.Unserved {
		n += len(u.Loops)
	}
	return n
}

// Summary counts and sums a plan.
type Summary struct {
	Loops, LoopsPlaced                       int
	LanesUsed, LanesFree, ReturnLanes        int
	Racks, RacksProposed                     int
	Containers, ContainersUnplaced           int
	Routes, Handlers, Moves, MovedContainers int
	Errors, Warnings, Notes                  int
	PiecesPerHour, ContainersPerHour         float64
	Effort                                   float64
}

// Summary counts p. A loop is placed when none of its containers is without a
// lane; lanes count supply lanes only, except ReturnLanes.
func (p *Plan) Summary() Summary {
	s := Summary{
		Loops: len(p.Loops), LoopsPlaced: len(p.Loops) - len(p.Unplaced),
		Racks: len(p.Racks), Routes: len(p.Routes), Handlers: p.RouteBounds.Handlers,
		Moves:  len(p.Moves),
		Errors: p.Findings.Count(finding.Error), Warnings: p.Findings.Count(finding.Warning), Notes: p.Findings.Count(finding.Note),
	}
	for _, l := range p.Loops {
		s.Containers += l.Containers
		rate := l.Rate.Float64() * 60
		s.PiecesPerHour += rate
		s.ContainersPerHour += rate / float64(l.Pack)
	}
	for _, l := range p.Lanes {
		switch {
		case l.Kind == plant.Return:
			s.ReturnLanes++
		case l.Empty():
			s.LanesFree++
		default:
			s.LanesUsed++
		}
	}
	for _, r := range p.Racks {
		if r.Proposed {
			s.RacksProposed++
		}
	}
	for _, u := range p.Unplaced {
		s.ContainersUnplaced += u.Containers
	}
	for _, m := range p.Moves {
		s.MovedContainers += m.Containers
	}
	for _, c := range p.Cells {
		s.Effort += c.Effort
	}
	return s
}
