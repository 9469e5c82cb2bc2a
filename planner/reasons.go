package planner

import (
	"sync"

	"lanewright/planner/demand"
	"lanewright/planner/floor"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Reasons tells why a plan is as it is: how a loop came to have its containers, why it
// lies where it lies, why a rack is on its route and where a route's time goes. What the
// answers rest on is gathered once, on first use; any goroutine may ask.
type Reasons struct {
	plan   *Plan
	index  *plant.Index
	speech units.Speech
	// laid and routed are what placement and routing made the plan from.
	laid   func() placement.Input
	routed func() routing.Input
	rounds func() *routing.Reasons
	taker  func() *Taker
}

// Speech is how the plant's people read measures.
func (r *Reasons) Speech() units.Speech { return r.speech }

// NewReasons tells of a plan made from facts.
func NewReasons(facts *plant.Plant, p *Plan) *Reasons {
	r := &Reasons{plan: p, index: plant.NewIndex(facts), speech: Speech(facts, p)}
	r.laid = sync.OnceValue(func() placement.Input { return laid(r.index, p) })
	r.routed = sync.OnceValue(func() routing.Input {
		network, _ := floor.New(facts)
		return routing.Input{
			Plant: p.Settings.Plant, Index: r.index, Network: network, Tables: new(floor.Tables),
			Racks: p.Racks, Demands: demands(r.index, sized(p), layoutOf(p)),
		}
	})
	r.rounds = sync.OnceValue(func() *routing.Reasons {
		return routing.NewReasons(r.routed(), routing.Plan{Routes: p.Routes, Unserved: p.Unserved, Bounds: p.RouteBounds}, 1)
	})
	r.taker = sync.OnceValue(func() *Taker { return NewTaker(facts, p) })
	return r
}

// Places says why a loop lies where it lies, or has no lane, and what other places and
// changes there are; ok is false where the plan has no such loop.
func (r *Reasons) Places(key demand.Key) (w placement.Whys, ok bool) {
	return placement.Why(r.laid(), r.plan.Settings.Placement, layoutOf(r.plan), key)
}

// Take lists what a round of a route takes from the market, as Taker.Take does.
func (r *Reasons) Take(route string) (picks []Pick, ok bool) { return r.taker().Take(route) }

// laid is what placement made a plan from.
func laid(x *plant.Index, p *Plan) placement.Input {
	return placement.Input{Index: x, Loops: sized(p), Racks: structure.Racks(x), Plant: p.Settings.Plant}
}

// layoutOf is the layout of a plan.
func layoutOf(p *Plan) placement.Layout {
	return placement.Layout{Racks: p.Racks, Lanes: p.Lanes, Unplaced: p.Unplaced, Bounds: p.Cells, Balance: p.Balance}
}
