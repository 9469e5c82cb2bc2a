package planner

import (
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// Places says why a loop of a plan lies where it lies, or has no lane, and what
// other places and changes there are; ok is false where the plan has no such loop.
func Places(facts *plant.Plant, p *Plan, key demand.Key) (w placement.Whys, ok bool) {
	x := plant.NewIndex(facts)
	return placement.Why(laid(x, p), p.Settings.Placement, layoutOf(p), key)
}

// laid is what placement made a plan from.
func laid(x *plant.Index, p *Plan) placement.Input {
	return placement.Input{Index: x, Loops: sized(p), Racks: structure.Racks(x), Plant: p.Settings.Plant}
}

// layoutOf is the layout of a plan.
func layoutOf(p *Plan) placement.Layout {
	return placement.Layout{Racks: p.Racks, Lanes: p.Lanes, Unplaced: p.Unplaced, Bounds: p.Cells, Balance: p.Balance}
}
