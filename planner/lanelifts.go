package planner

import (
	"lanewright/planner/ergonomics"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
)

// Lift is what people lift at one loop on one level of a rack.
type Lift struct {
	ergonomics.Task
	ergonomics.Indices
}

// Lifting is what people lift in a plan.
type Lifting struct {
	// Lifts are in the order of the lanes, once for each level that a loop lies on.
	Lifts []Lift
	// Rounds and Stations are the composite indices of whole jobs.
	Rounds, Stations []ergonomics.Job
}

// Lifts judges refilling and picking at every lane of a plan, and the rounds and
// stations that they make up.
func Lifts(facts *plant.Plant, p *Plan) (l Lifting) {
	loops := make([]sizing.Loop, len(p.Loops))
	for i := range p.Loops {
		loops[i] = p.Loops[i].Loop
	}
	list := tasks(plant.NewIndex(facts), loops, placement.Layout{Racks: p.Racks, Lanes: p.Lanes}, routing.Plan{Routes: p.Routes})
	for _, t := range list {
		l.Lifts = append(l.Lifts, Lift{t, t.Indices(p.Settings.Ergonomics)})
	}
	l.Rounds, l.Stations = ergonomics.Jobs(list, p.Settings.Ergonomics)
	return l
}
