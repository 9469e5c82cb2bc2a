package placement

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

func (e MoveLoop) do(b *board) {
	if !b.knows(e.Loop) {
		return
	}
	to := b.tier(e.To)
	if to == nil {
		b.refuse(e.Loop, e.To, "no supply level of that number stands there")
		return
	}
	h := berth{loop: e.Loop, wish: e.Side, moved: true}
	if h.wish == "" {
		h.wish = b.wished(e.Loop, e.From)
	}
	here := to.find(e.Loop)
	h.n = b.collect(e, to)
	if h.n == 0 && here < 0 {
		b.refuse(e.Loop, e.From, "no container of it is there to be moved")
		return
	}
	if here < 0 {
		b.lay(to, e.To.Lane, h)
		return
	}
	h.n += to.berths[here].n
	if e.To.Lane == 0 || e.To.Lane == b.numberOf(to, here) {
		b.renew(to, here, h)
		return
	}
	b.vacate(to, here)
	b.lay(to, e.To.Lane, h)
}

// wished is the flow side of a loop: that of its lanes on a level, else of its first
// lane, else of the last it had; empty where it never had one.
func (b *board) wished(k demand.Key, on Spot) plant.FlowSide {
	places := b.places(k)
	for _, p := range places {
		if p.names(on) {
			return p.berth().wish
		}
	}
	if len(places) > 0 {
		return places[0].berth().wish
	}
	return b.wish[k]
}

// collect takes the containers that e means from where they lie, but for those on
// the tier they go to, and counts them.
func (b *board) collect(e MoveLoop, to *tier) int {
	left := e.Containers
	if left <= 0 {
		left = b.loops[e.Loop].Containers
	}
	n := 0
	if e.From.Rack == "" {
		n = min(left, b.missing(e.Loop))
	}
	for _, p := range slices.Backward(b.places(e.Loop)) {
		meant := e.From.Rack == "" || p.names(e.From)
		take := min(left-n, p.berth().n)
		if p.tier == to || !meant || take <= 0 {
			continue
		}
		n += take
		b.shrink(p.tier, p.at, p.berth().n-take)
	}
	return n
}

func (e SwapLoops) do(b *board) {
	if !b.knows(e.A) || !b.knows(e.B) {
		return
	}
	p, q := b.places(e.A), b.places(e.B)
	switch {
	case e.A == e.B:
	case len(p) > 1 || len(q) > 1:
		b.refuse(e.A, Spot{}, "one of the two lies on several levels, and which is meant is not known: move it instead")
	case len(p) == 0 && len(q) == 0:
		b.refuse(e.A, Spot{}, "neither has a lane")
	case len(p) == 0:
		b.replace(q[0], e.A)
	case len(q) == 0:
		b.replace(p[0], e.B)
	default:
		h, o := p[0].berth(), q[0].berth()
		h.loop, h.n, h.wish, o.loop, o.n, o.wish = o.loop, o.n, o.wish, h.loop, h.n, h.wish
		h.moved, o.moved = true, true
	}
}

func (e PinLoop) do(b *board) {
	if !b.knows(e.Loop) {
		return
	}
	to := e.To
	if to.Rack == "" {
		places := b.places(e.Loop)
		if len(places) == 0 {
			b.refuse(e.Loop, to, "it has no lane to be pinned to")
			return
		}
		to = Spot{Rack: places[0].tier.rack.Rack, Level: places[0].tier.level.Level.Level}
	}
	if !b.stands(to) {
		b.refuse(e.Loop, to, "no supply level of that number stands there")
		return
	}
	b.pins[e.Loop] = []plant.Pin{{Part: e.Loop.Part, Station: e.Loop.Station, Rack: to.Rack, Level: to.Level, Lane: to.Lane}}
}

func (e UnpinLoop) do(b *board) {
	if b.knows(e.Loop) {
		delete(b.pins, e.Loop)
	}
}

func (e CloseLane) do(b *board) {
	if closed, i, ok := b.lock(e.Lane); ok {
		*closed = append(slices.Clone(*closed), i)
	}
}

func (e OpenLane) do(b *board) {
	closed, i, ok := b.lock(e.Lane)
	if !ok {
		return
	}
	if !slices.Contains(*closed, i) {
		b.refuse(demand.Key{}, e.Lane, "the lane is not closed")
		return
	}
	*closed = slices.DeleteFunc(slices.Clone(*closed), func(k int) bool { return k == i })
}

// lock is where a lane is noted when it is closed, and its number there; an edit that
// names no supply lane is refused.
func (b *board) lock(lane Spot) (closed *[]int, i int, ok bool) {
	r := b.tier(lane)
	switch {
	case r == nil || lane.Lane < 1:
	case r.fixed():
		if lane.Lane <= len(r.level.Fixed) {
			return &r.shut, lane.Lane, true
		}
	default:
		if at := b.indexOf(r, lane.Lane); at < len(r.berths) {
			return &r.berths[at].closed, lane.Lane - b.numberOf(r, at), true
		}
	}
	b.refuse(demand.Key{}, lane, "no supply lane of that number is there")
	return nil, 0, false
}
