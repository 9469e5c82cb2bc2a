package tours

import "math"

// take takes a stop out of its route.
func (s *state) take(x int32) { s.takeString(x, x) }

// takeString takes the stops from a to b, which follow one another, out of their
// route.
func (s *state) takeString(a, b int32) {
	f := s.f
	at := s.nodes[a].route
	r := &s.routes[at]
	p, q := s.nodes[a].link[1], s.nodes[b].link[0]
	legs, time := -int64(s.nodes[a].leg[1]), int64(0)
	for x, last := a, p; x != q; {
		n := &s.nodes[x]
		s.saveNode(x, n)
		n.route = out
		s.wide[x] = isOut
		legs -= int64(n.leg[0])
		r.size--
		r.load -= f.demand[x]
		if f.timed {
			time += f.drive(last, x) + f.service[x]
		}
		if f.rich {
			r.more = r.more.minus(s.more[x])
		}
		last, x = x, n.link[0]
	}
	var leg int32
	if p != q { // both are the depot where the route becomes empty
		leg = f.leg(p, q)
	}
	s.link(r, p, q, leg)
	s.outdate(at)
	s.pay(r, legs+int64(leg))
	switch {
	case r.size == 0:
		r.time = 0
		s.open--
		s.release(at)
	case f.timed:
		r.time -= time + f.drive(b, q) - f.drive(p, q)
	}
	s.weigh(r)
}

// put puts a stop that is out into route r after p, which may be the depot.
func (s *state) put(x, at, p int32) {
	n, r := &s.nodes[x], &s.routes[at]
	q := s.after(r, p)
	in, on := s.f.leg(p, x), s.f.leg(x, q)
	old := s.f.leg(p, q)
	if r.size == 0 {
		old = 0
		s.open++
	}
	s.pay(r, int64(in)+int64(on)-int64(old))
	if s.f.timed {
		r.time += s.detour(x, p, q)
	}
	r.size++
	r.load += s.f.demand[x]
	if s.f.rich {
		r.more = r.more.plus(s.more[x])
	}
	s.saveNode(x, n)
	n.route = at
	s.link(r, p, x, in)
	s.link(r, x, q, on)
	s.outdate(at)
	s.weigh(r)
}

// after is what follows p on r.
func (s *state) after(r *route, p int32) int32 {
	if p == depot {
		return r.ends[0]
	}
	return s.nodes[p].link[0]
}

// pay adds to the cost of r's legs.
func (s *state) pay(r *route, d int64) {
	r.legs += d
	s.cost += d
}

// link lets q follow p on r.
func (s *state) link(r *route, p, q, leg int32) {
	if p == depot {
		r.ends[0] = q
	} else {
		n := &s.nodes[p]
		s.saveNode(p, n)
		n.link[0], n.leg[0] = q, leg
		s.wide[p] = n.width()
	}
	if q == depot {
		r.ends[1] = p
	} else {
		n := &s.nodes[q]
		s.saveNode(q, n)
		n.link[1], n.leg[1] = p, leg
		s.wide[q] = n.width()
	}
}

// isOut is the width of stops that are on no route.
const isOut = math.MinInt32

// width is the longer of n's legs, endless where one leads to the depot.
func (n *node) width() int32 {
	if n.link[0] == depot || n.link[1] == depot {
		return math.MaxInt32
	}
	return max(n.leg[0], n.leg[1])
}

// detour is the time that serving x between p and q takes longer than not.
func (s *state) detour(x, p, q int32) int64 {
	d := s.f.drive(p, x) + s.f.service[x] + s.f.drive(x, q)
	if p == q {
		return d
	}
	return d - s.f.drive(p, q)
}

// outdate lists a route whose stops have other sums now.
func (s *state) outdate(at int32) {
	if r := &s.routes[at]; !r.stale {
		r.stale = true
		s.stale = append(s.stale, at)
	}
}

// refreshStale sums up the routes that are listed.
func (s *state) refreshStale() {
	for _, at := range s.stale {
		s.refresh(at)
		s.routes[at].stale = false
	}
	s.stale = s.stale[:0]
}

// refresh sums up r from the depot on.
func (s *state) refresh(at int32) {
	r := &s.routes[at]
	var load, time, back, backTime int64
	prev, pos := int32(depot), int32(1)
	for x := r.ends[0]; x != depot; x = s.nodes[x].link[0] {
		a := &s.along[x]
		load += s.f.demand[x]
		a.pos, a.load = pos, load
		if s.f.timed {
			time += s.f.drive(prev, x) + s.f.service[x]
			a.time = time
		}
		if !s.f.symmetric && prev != depot {
			back += int64(s.f.leg(x, prev)) - int64(s.nodes[x].leg[1])
			if s.f.timed {
				backTime += s.f.drive(x, prev) - s.f.drive(prev, x)
			}
		}
		a.back, a.backTime = back, backTime
		if s.f.rich {
			s.moreSums[x] = s.moreSums[prev].plus(s.more[x])
		}
		prev = x
		pos++
	}
}

// load gives route r the stops of seq, which are out or on routes that get
// other stops in the same move.
func (s *state) load(at int32, seq []int32) {
	r := &s.routes[at]
	s.drop(r)
	s.clock++
	r.changed = s.clock
	if len(seq) == 0 {
		s.release(at)
		s.weigh(r)
		return
	}
	s.open++
	prev := int32(depot)
	for _, x := range seq {
		leg := s.f.leg(prev, x)
		s.pay(r, int64(leg))
		s.link(r, prev, x, leg)
		s.nodes[x].route = at
		r.load += s.f.demand[x]
		if s.f.timed {
			r.time += s.f.drive(prev, x) + s.f.service[x]
		}
		if s.f.rich {
			r.more = r.more.plus(s.more[x])
		}
		prev = x
	}
	leg := s.f.leg(prev, depot)
	s.pay(r, int64(leg))
	s.link(r, prev, depot, leg)
	if s.f.timed {
		r.time += s.f.drive(prev, depot)
	}
	r.size = int32(len(seq))
	s.weigh(r)
	s.refresh(at)
}

// drop forgets the stops of r.
func (s *state) drop(r *route) {
	if r.size == 0 {
		return
	}
	s.pay(r, -r.legs)
	s.open--
	r.ends, r.size, r.load, r.time, r.more = [2]int32{}, 0, 0, 0, goods{}
}
