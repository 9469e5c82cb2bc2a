package tours

import "math"

// exchanges are swaps of two stops of neighbouring routes that each go to their
// best place on the other one, not to that of the other (SWAP*: Vidal, Hybrid
// genetic search for the CVRP: open-source implementation and SWAP*
// neighborhood, Computers & Operations Research 140, 2022, 105643; from memory,
// own code). Neighbours are routes that hold a near stop.
type exchanges struct {
	// there and here are the stops of two routes with what is known of each.
	here, there []leaver
	// tried is the change of each route up to which its pairs were tried.
	tried []int32
	seen  []bool
	close []int32
}

// leaver is a stop of one route that may go to another one.
type leaver struct {
	stop, prev, next int32
	// gone is what its route's legs cost more with it.
	gone int64
	// places are its three cheapest places on the other route: after which stop,
	// before which one, and what they add.
	places [3]opening
}

type opening struct {
	after, before int32
	cost          int64
}

// swap is an exchange with its places.
type swap struct {
	a, b     *leaver
	toA, toB int32
	delta    int64
}

// nearRoutes is beside how many neighbours of its stops a route's neighbours are.
const nearRoutes = 8

// exchangeAll tries all pairs of neighbouring routes of which one changed since
// the last time, and reports whether an exchange was made.
func (k *kicks) exchangeAll() bool {
	e := &k.exchanges
	if e.tried == nil {
		e.tried, e.seen = make([]int32, len(k.routes)), make([]bool, len(k.routes))
	}
	made := false
	for a := range k.routes {
		if k.routes[a].size == 0 {
			continue
		}
		last := e.tried[a]
		e.tried[a] = k.clock
		k.closeTo(int32(a))
		for _, b := range e.close {
			e.seen[b] = false
			if int(b) > a && max(k.routes[a].changed, k.routes[b].changed) > last && k.exchange(int32(a), b) {
				made = true
			}
		}
	}
	return made
}

// closeTo lists the routes that hold near stops of those of a.
func (k *kicks) closeTo(a int32) {
	e := &k.exchanges
	e.close = e.close[:0]
	for x := k.routes[a].ends[0]; x != depot; x = k.nodes[x].link[0] {
		for _, b := range k.f.nearTo(x)[:min(nearRoutes, k.f.k)] {
			if r := k.nodes[b.stop].route; r != a && !e.seen[r] {
				e.seen[r] = true
				e.close = append(e.close, r)
			}
		}
	}
}

// exchange makes the best exchange between two routes, if one improves.
func (k *kicks) exchange(ra, rb int32) bool {
	e := &k.exchanges
	if k.routes[ra].size == 0 || k.routes[rb].size == 0 {
		return false
	}
	e.here = k.leavers(ra, rb, e.here[:0])
	e.there = k.leavers(rb, ra, e.there[:0])
	best := swap{}
	for i := range e.here {
		for j := range e.there {
			k.trySwap(&best, ra, rb, &e.here[i], &e.there[j])
		}
	}
	if best.a == nil {
		return false
	}
	k.makeSwap(&best, ra, rb)
	return true
}

// leavers lists the stops of route from with their places on route to.
func (k *kicks) leavers(from, to int32, list []leaver) []leaver {
	f := k.f
	for x := k.routes[from].ends[0]; x != depot; x = k.nodes[x].link[0] {
		n := &k.nodes[x]
		l := leaver{stop: x, prev: n.link[1], next: n.link[0]}
		l.gone = int64(n.leg[0]) + int64(n.leg[1])
		if l.prev != l.next {
			l.gone -= int64(f.leg(l.prev, l.next))
		}
		for i := range l.places {
			l.places[i].cost = math.MaxInt64 / 4
		}
		at, in := int32(depot), int64(f.leg(depot, x))
		for y := k.routes[to].ends[0]; y != depot; y = k.nodes[y].link[0] {
			l.offer(opening{at, y, in + int64(f.leg(x, y)) - int64(k.nodes[y].leg[1])})
			at, in = y, int64(f.leg(y, x))
		}
		l.offer(opening{at, depot, in + int64(f.leg(x, depot)) - int64(k.nodes[at].leg[0])})
		list = append(list, l)
	}
	return list
}

// offer keeps a place if it is among the three cheapest.
func (l *leaver) offer(o opening) {
	switch p := &l.places; {
	case o.cost >= p[2].cost:
	case o.cost >= p[1].cost:
		p[2] = o
	case o.cost >= p[0].cost:
		p[1], p[2] = o, p[1]
	default:
		p[0], p[1], p[2] = o, p[0], p[1]
	}
}

// instead finds the cheapest place of l on the route that o leaves: after which
// stop and before which one.
func (k *kicks) instead(l, o *leaver) opening {
	f := k.f
	best := opening{o.prev, o.next, int64(f.leg(o.prev, l.stop)) + int64(f.leg(l.stop, o.next))}
	if o.prev != o.next {
		best.cost -= int64(f.leg(o.prev, o.next))
	}
	for _, p := range &l.places {
		if p.after != o.stop && p.before != o.stop {
			if p.cost < best.cost {
				best = p
			}
			break
		}
	}
	return best
}

// trySwap keeps the exchange of a and b if it is the best so far.
func (k *kicks) trySwap(best *swap, ra, rb int32, a, b *leaver) {
	f := k.f
	r, o := &k.routes[ra], &k.routes[rb]
	delta := -a.gone - b.gone - r.over - o.over
	more := f.demand[b.stop] - f.demand[a.stop]
	if !f.rich && !f.timed {
		delta += k.penalty(r.load+more, 0, goods{}) + k.penalty(o.load-more, 0, goods{})
	}
	if delta >= best.delta {
		return
	}
	toB, toA := k.instead(a, b), k.instead(b, a)
	delta += toB.cost + toA.cost
	if delta >= best.delta {
		return
	}
	if f.rich || f.timed {
		delta += k.swapped(r, a, b, toA) + k.swapped(o, b, a, toB)
	}
	if delta < best.delta {
		*best = swap{a: a, b: b, toA: toA.after, toB: toB.after, delta: delta}
	}
}

// swapped is what the breaches of r cost where in comes for gone at a place.
func (k *kicks) swapped(r *route, gone, in *leaver, place opening) int64 {
	f := k.f
	load, time, more := r.load+f.demand[in.stop]-f.demand[gone.stop], r.time, r.more
	if f.rich {
		more = more.plus(k.more[in.stop]).minus(k.more[gone.stop])
	}
	if f.timed {
		time += k.detour(in.stop, place.after, place.before) - k.detour(gone.stop, gone.prev, gone.next)
	}
	return k.penalty(load, time, more)
}

// makeSwap makes an exchange.
func (k *kicks) makeSwap(w *swap, ra, rb int32) {
	k.save(ra)
	k.save(rb)
	before := k.value()
	for _, l := range [2]*leaver{w.a, w.b} {
		k.touch(l.stop)
		k.touch(l.prev)
		k.touch(l.next)
		k.take(l.stop)
	}
	k.put(w.a.stop, rb, w.toB)
	k.put(w.b.stop, ra, w.toA)
	for _, at := range [2]int32{ra, rb} {
		k.clock++
		k.routes[at].changed = k.clock
	}
	if k.checked && k.value()-before != w.delta {
		panic("an exchange changed the value by something else")
	}
	for _, x := range [2]int32{w.a.stop, w.b.stop} {
		k.touch(k.nodes[x].link[0])
		k.touch(k.nodes[x].link[1])
	}
}
