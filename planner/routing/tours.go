package routing

import (
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/units"
)

// out marks a stop that is on no route, and the end of a list.
const out = -1

// tours is a set of routes while it is searched: linked lists over flat slices,
// so that a stop is put in or taken out in constant time, and a log that undoes
// both.
type tours struct {
	p *problem
	// next, prev and route are by stop; a route's ends have home as neighbour.
	next, prev, route []int32
	// first and last are by route; home means that the route has no stops.
	first, last []int32
	// sums, drive and rounds are by route.
	sums   []load
	drive  []floor.Leg
	rounds []time.Duration
	// unused are the routes without stops, the next to be used last.
	unused []int32
	length units.Length
	log    []move
}

// move is a stop put into a route after another, or taken out from there.
type move struct {
	stop, route, after int32
	in                 bool
}

// newTours returns tours with every stop taken out.
func newTours(p *problem) *tours {
	n := len(p.stops)
	t := &tours{
		p: p, next: make([]int32, n+1), prev: make([]int32, n+1), route: make([]int32, n+1),
		first: make([]int32, n), last: make([]int32, n),
		sums: make([]load, n), drive: make([]floor.Leg, n), rounds: make([]time.Duration, n),
	}
	for i := range t.route {
		t.route[i] = out
	}
	for r := n - 1; r >= 0; r-- {
		t.unused = append(t.unused, int32(r))
	}
	return t
}

// routes returns how many routes have stops.
func (t *tours) routes() int { return len(t.first) - len(t.unused) }

// fresh returns the route that the next new tour is given; there is one as long
// as a stop is out.
func (t *tours) fresh() int32 { return t.unused[len(t.unused)-1] }

// follower returns the stop after another of a route; after home is the first.
func (t *tours) follower(route, after int32) int32 {
	if after == home {
		return t.first[route]
	}
	return t.next[after]
}

// put puts a stop that is out into a route, after another stop or home.
func (t *tours) put(stop, route, after int32) {
	if t.first[route] == home {
		t.unused = t.unused[:len(t.unused)-1]
	}
	before := t.follower(route, after)
	t.next[stop], t.prev[stop], t.route[stop] = before, after, route
	t.join(route, after, stop)
	t.join(route, stop, before)
	t.change(route, t.sums[route].plus(t.p.loads[stop]), t.detour(stop, after, before))
	t.log = append(t.log, move{stop, route, after, true})
}

// take takes a stop out of its route.
func (t *tours) take(stop int32) {
	route, after, before := t.route[stop], t.prev[stop], t.next[stop]
	t.join(route, after, before)
	t.route[stop] = out
	t.change(route, t.sums[route].minus(t.p.loads[stop]), floor.Leg{}.Minus(t.detour(stop, after, before)))
	if t.first[route] == home {
		t.unused = append(t.unused, route)
	}
	t.log = append(t.log, move{stop, route, after, false})
}

// join makes b the follower of a; either may be home.
func (t *tours) join(route, a, b int32) {
	if a == home {
		t.first[route] = b
	} else {
		t.next[a] = b
	}
	if b == home {
		t.last[route] = a
	} else {
		t.prev[b] = a
	}
}

// change gives a route its new load and adds to its way.
func (t *tours) change(route int32, l load, way floor.Leg) {
	t.sums[route] = l
	t.drive[route] = t.drive[route].Plus(way)
	t.rounds[route] = t.p.round(l, t.drive[route].Time)
	t.length += way.Length
}

// detour is the way that a stop adds between two others.
func (t *tours) detour(stop, after, before int32) floor.Leg {
	way := t.p.leg(after, stop).Plus(t.p.leg(stop, before))
	if after == home && before == home {
		return way
	}
	return way.Minus(t.p.leg(after, before))
}

// fits reports whether a stop may join a route that it makes longer by way.
func (t *tours) fits(stop, route int32, way time.Duration) bool {
	l := t.sums[route].plus(t.p.loads[stop])
	return t.p.carries(l) && t.p.round(l, t.drive[route].Time+way) <= t.p.limit.round
}

// undo takes back everything logged.
func (t *tours) undo() {
	for i := len(t.log) - 1; i >= 0; i-- {
		if m := t.log[i]; m.in {
			t.take(m.stop)
		} else {
			t.put(m.stop, m.route, m.after)
		}
		t.log = t.log[:i]
	}
}

// keep forgets the log: what was done stays.
func (t *tours) keep() { t.log = t.log[:0] }

// order appends the stops of all routes to buf, route after route, home after
// each.
func (t *tours) order(buf []int32) []int32 {
	for r := range t.first {
		if t.first[r] == home {
			continue
		}
		for s := t.first[r]; s != home; s = t.next[s] {
			buf = append(buf, s)
		}
		buf = append(buf, home)
	}
	return buf
}

// load fills t, which must be empty, with an order.
func (t *tours) load(order []int32) {
	after := int32(home)
	route := int32(out)
	for _, s := range order {
		if s == home {
			after, route = home, out
			continue
		}
		if route == out {
			route = t.fresh()
		}
		t.put(s, route, after)
		after = s
	}
	t.keep()
}

// clear takes all stops out.
func (t *tours) clear() {
	for s := range t.route {
		if t.route[s] != out {
			t.take(int32(s))
		}
	}
	t.keep()
}
