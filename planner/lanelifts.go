package planner

import (
	"lanewright/planner/demand"
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
	x := plant.NewIndex(facts)
	list := tasks(x, loops, placement.Layout{Racks: p.Racks, Lanes: knownLanes(x, p)}, routing.Plan{Routes: p.Routes})
	for _, t := range list {
		l.Lifts = append(l.Lifts, Lift{t, t.Indices(p.Settings.Ergonomics)})
	}
	l.Rounds, l.Stations = ergonomics.Jobs(list, p.Settings.Ergonomics)
	return l
}

// knownLanes are the lanes of a plan whose part and container the facts have.
func knownLanes(x *plant.Index, p *Plan) (list []placement.Lane) {
	container := map[demand.Key]plant.ContainerCode{}
	for _, l := range p.Loops {
		container[l.Key] = l.Container
	}
	for _, l := range p.Lanes {
		if x.Parts[l.Loop.Part] != nil && x.Containers[container[l.Loop]] != nil {
			list = append(list, l)
		}
	}
	return list
}
