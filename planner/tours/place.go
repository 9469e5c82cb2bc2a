package tours

import "math"

// place finds the cheapest place for a stop next to one of its neighbours, or
// on a route of its own.
func (k *kicks) place(x int32) (at, after int32) {
	f := k.f
	least := int64(math.MaxInt64)
	at = out
	if k.open < f.maxRoutes {
		at, least = k.alone(x)
	}
	on, in := f.rows(x)
	nodes, routes, wide := k.nodes, k.routes, k.wide
	demand, symmetric := f.demand[x], f.symmetric
	room := f.capacity - demand
	for _, b := range f.nearTo(x)[:min(width, f.k)] {
		// Of the two stops beside a place this one is the nearer or was not
		// looked at before, so no less than twice its leg is added.
		if 2*int64(b.leg)-int64(wide[b.stop]) >= least {
			continue
		}
		n := &nodes[b.stop]
		if n.route == out {
			continue
		}
		var over int64
		if load := routes[n.route].load; load > room {
			if k.hard {
				continue
			}
			if over = k.overload(load+demand) - k.overload(load); over >= least {
				continue
			}
		}
		next, prev := n.link[0], n.link[1]
		to, from := b.leg, b.leg
		if !symmetric {
			to, from = f.leg(x, b.stop), f.legInto(x, b.stop)
		}
		d := over + int64(from) - int64(n.leg[0]) + f.legOn(on, x, next)
		if d < least && !k.overlook() {
			if d += k.extra(x, n.route, b.stop, next); d < least {
				least, at, after = d, n.route, b.stop
			}
		}
		d = over + int64(to) - int64(n.leg[1]) + f.legIn(in, x, prev)
		if d < least && !k.overlook() {
			if d += k.extra(x, n.route, prev, b.stop); d < least {
				least, at, after = d, n.route, prev
			}
		}
	}
	if at == out || k.routes[at].size == 0 {
		at, after = k.placeAmongKicked(x, at, least)
	}
	if at == out {
		return k.anywhere(x)
	}
	return at, after
}

// rows are the legs from x to all and those into it, nil where no table has them by stops.
func (f *frozen) rows(x int32) (on, in []int32) {
	if f.cost == nil {
		return nil, nil
	}
	return f.cost[int(x)*f.w : int(x+1)*f.w], f.into[int(x)*f.w : int(x+1)*f.w]
}

// legOn is the leg from x to y, legIn that from y to x; row is what rows says of x.
func (f *frozen) legOn(row []int32, x, y int32) int64 {
	if row == nil {
		return int64(f.computed(x, y))
	}
	return int64(row[y])
}

func (f *frozen) legIn(row []int32, x, y int32) int64 {
	if row == nil {
		return int64(f.computed(y, x))
	}
	return int64(row[y])
}

// placeAmongKicked looks at all places of the routes that lost stops: for stops
// whose neighbours have no room.
func (k *kicks) placeAmongKicked(x, at int32, least int64) (found, after int32) {
	f := k.f
	found = at
	for _, i := range k.journal.slots {
		r := &k.routes[i]
		if r.size == 0 || k.hard && r.load+f.demand[x] > f.capacity {
			continue
		}
		for p, more := int32(depot), true; more; {
			q := k.after(r, p)
			if d := int64(f.leg(p, x)) + int64(f.leg(x, q)) - int64(f.leg(p, q)); d < least {
				if d += k.worse(x, i, p, q); d < least {
					least, found, after = d, i, p
				}
			}
			p, more = q, q != depot
		}
	}
	return found, after
}

// extra is what putting x between p and q costs beside legs and load.
func (k *kicks) extra(x, at, p, q int32) int64 {
	f := k.f
	if !f.timed && !f.rich && !f.sided {
		return 0
	}
	var d int64
	r := &k.routes[at]
	if f.timed || f.rich {
		load, time, more := r.load+f.demand[x], r.time, r.more
		if f.timed {
			time += k.detour(x, p, q)
		}
		if f.rich {
			more = more.plus(k.more[x])
		}
		d = k.penalty(load, time, more)
		if k.hard && d > 0 {
			return Never
		}
		d -= r.over
		if load > f.capacity {
			d -= k.overload(load) - k.overload(r.load)
		}
	}
	if f.sided {
		d += k.wish(x, at, p)
	}
	return d
}

// alone is the slot of a new route for x alone and what it costs.
func (k *kicks) alone(x int32) (at int32, cost int64) {
	f := k.f
	at = k.vacant()
	cost = f.Fixed + f.trip[x]
	if f.timed || f.rich || f.demand[x] > f.capacity {
		var more goods
		if f.rich {
			more = k.more[x]
		}
		cost += k.penalty(f.demand[x], f.drive(depot, x)+f.service[x]+f.drive(x, depot), more)
	}
	if f.Labels == 0 {
		return at, cost
	}
	best := f.price(x, at)
	for l := range f.Labels {
		if k.routes[l].size == 0 && f.price(x, int32(l)) < best {
			at, best = int32(l), f.price(x, int32(l))
		}
	}
	return at, cost + best
}

// anywhere looks at all places: for the rare stop that finds none nearby.
func (k *kicks) anywhere(x int32) (at, after int32) {
	least := int64(math.MaxInt64)
	at = out
	for y := int32(1); int(y) < k.f.w; y++ {
		n := &k.nodes[y]
		if n.route == out {
			continue
		}
		d := int64(k.f.leg(y, x)) + int64(k.f.leg(x, n.link[0])) - int64(n.leg[0]) + k.worse(x, n.route, y, n.link[0])
		if d < least {
			least, at, after = d, n.route, y
		}
		if n.link[1] == depot {
			d = int64(k.f.leg(depot, x)) + int64(k.f.leg(x, y)) - int64(n.leg[1]) + k.worse(x, n.route, depot, y)
			if d < least {
				least, at, after = d, n.route, depot
			}
		}
	}
	if at == out {
		at, _ = k.alone(x)
	}
	return at, after
}

// worse is what breaches and wishes cost with x between p and q.
func (k *kicks) worse(x, at, p, q int32) int64 {
	f, r := k.f, &k.routes[at]
	more := r.more
	if f.rich {
		more = more.plus(k.more[x])
	}
	time := r.time
	if f.timed {
		time += k.detour(x, p, q)
	}
	d := k.penalty(r.load+f.demand[x], time, more) - r.over
	if f.sided {
		d += k.wish(x, at, p)
	}
	return d
}
