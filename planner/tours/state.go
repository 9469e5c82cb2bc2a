package tours

import "math"

// out is the route of a stop that is on none.
const out = -1

// node is a stop on its route: what kicks read and change, so that many fit in
// the processor's cache.
type node struct {
	// link is what follows it, then what comes before it; either may be the
	// depot. leg is what the legs to them cost: to the one, from the other.
	link, leg [2]int32
	route     int32
	// saved is the kick in which it was saved for undoing.
	saved int32
}

// along is what is summed over a route from the depot on up to a stop. It holds
// on routes that are not stale.
type along struct {
	pos int32
	// load and time are those from the depot up to and with this stop.
	load, time int64
	// back and backTime are what the legs from this stop back to the first one
	// cost more than those from the first one here.
	back, backTime int64
}

// route is a slot for a route; it has no stops while size is 0.
type route struct {
	// ends are its first stop and its last.
	ends [2]int32
	size int32
	// saved is the kick in which it was saved for undoing, listed whether the
	// list of free slots has it, dirty whether it changed since the best, stale
	// whether it was not summed up since it changed.
	saved int32
	// changed is the count of changes at which it got the stops it has now.
	changed              int32
	listed, dirty, stale bool
	load, time           int64
	more                 goods
	// legs is what its legs cost.
	legs int64
	// over is what its breaches cost at today's prices, side what its wishes do.
	over, side int64
}

// goods are the sums of a problem's further loads.
type goods struct{ variance, load, loadVariance int64 }

func (g goods) plus(o goods) goods {
	return goods{g.variance + o.variance, g.load + o.load, g.loadVariance + o.loadVariance}
}

func (g goods) minus(o goods) goods {
	return goods{g.variance - o.variance, g.load - o.load, g.loadVariance - o.loadVariance}
}

// prices are what a unit too much costs.
type prices struct{ load, other, time float64 }

func (p prices) times(by float64) prices { return prices{p.load * by, p.other * by, p.time * by} }

// state is a set of routes that changes in place.
type state struct {
	f      *frozen
	nodes  []node
	along  []along
	routes []route
	// more are the goods of each stop, moreSums those up to and with it.
	more, moreSums []goods
	free           []int32
	// dirty are the routes that changed since the best was copied.
	dirty []int32
	// stale are the routes to be summed up before the local search.
	stale []int32
	open  int
	// cost is that of the legs, over and side are the sums of the routes'.
	cost, over, side int64
	prices           prices
	journal          journal
	// scratch for sequences of stops.
	seqA, seqB []int32
	// rank are places in a sequence while it is judged, else 0.
	rank []int32
	// wide is the longer of the two legs of a stop: endless where one is to or
	// from the depot, below nothing where the stop is out. It stands apart from
	// the nodes so that many fit in the processor's cache.
	wide []int32
	// clock counts the changes of routes.
	clock int32
}

func newState(f *frozen) *state {
	s := &state{f: f, nodes: make([]node, f.w), along: make([]along, f.w), routes: make([]route, f.Stops+f.Labels+1), rank: make([]int32, f.w), wide: make([]int32, f.w)}
	if f.rich {
		s.more, s.moreSums = furtherLoads(f), make([]goods, f.w)
	}
	s.clear()
	return s
}

func furtherLoads(f *frozen) []goods {
	list := make([]goods, f.w)
	for i, l := range f.Loads {
		for a := 1; a < f.w; a++ {
			if i == 1 {
				list[a].load = l.Mean[a]
			}
			if l.Variance == nil {
				continue
			}
			if i == 0 {
				list[a].variance = l.Variance[a]
			} else {
				list[a].loadVariance = l.Variance[a]
			}
		}
	}
	return list
}

// clear takes all stops out.
func (s *state) clear() {
	for a := range s.nodes {
		s.nodes[a], s.along[a], s.wide[a] = node{route: out}, along{}, isOut
	}
	s.free = s.free[:0]
	for r := len(s.routes) - 1; r >= 0; r-- {
		s.routes[r] = route{saved: -1}
		s.release(int32(r))
	}
	s.open, s.cost, s.over, s.side = 0, 0, 0, 0
	s.dirty, s.stale = s.dirty[:0], s.stale[:0]
	s.markAll()
}

// value is what the search minimises.
func (s *state) value() int64 { return s.cost + s.over + s.side + s.f.Fixed*int64(s.open) }

// feasible reports whether nothing is breached.
func (s *state) feasible() bool { return s.over == 0 && s.side < Never }

// total is the cost that counts in the end.
func (s *state) total() int64 { return s.cost + s.side + s.f.Fixed*int64(s.open) }

// release lists a slot as free.
func (s *state) release(r int32) {
	if int(r) >= s.f.Labels && !s.routes[r].listed {
		s.routes[r].listed = true
		s.free = append(s.free, r)
	}
}

// vacant returns an unlabelled slot without stops.
func (s *state) vacant() int32 {
	for {
		r := s.free[len(s.free)-1]
		if s.routes[r].size == 0 {
			return r
		}
		s.free = s.free[:len(s.free)-1]
		s.routes[r].listed = false
	}
}

// penalty is what a route with such loads and time costs for its breaches: 0
// only where there is none.
func (s *state) penalty(load, time int64, more goods) int64 {
	f := s.f
	if !f.rich {
		p := s.overload(load)
		if f.timed && time > f.maxTime {
			p += int64(float64(time-f.maxTime)*s.prices.time) + 1
		}
		return p
	}
	return s.richPenalty(load, time, more)
}

// overload is what a load without variance costs above the first limit.
func (s *state) overload(load int64) int64 {
	if load <= s.f.capacity {
		return 0
	}
	return int64(float64(load-s.f.capacity)*s.prices.load) + 1
}

func (s *state) richPenalty(load, time int64, more goods) int64 {
	l := s.f.Loads
	spread := l[0].spread(more.variance)
	over := float64(max(load+spread-l[0].Capacity, 0)) * s.prices.load
	time += l[0].slow(spread)
	if len(l) > 1 {
		spread = l[1].spread(more.loadVariance)
		over += float64(max(more.load+spread-l[1].Capacity, 0)) * s.prices.other
		time += l[1].slow(spread)
	}
	if s.f.timed && time > s.f.maxTime {
		over += float64(time-s.f.maxTime) * s.prices.time
	}
	return int64(math.Ceil(over))
}

// spread is Z·√variance, rounded up.
func (l *Load) spread(variance int64) int64 {
	if variance <= 0 {
		return 0
	}
	return int64(math.Ceil(l.Z * math.Sqrt(float64(variance))))
}

// slow is the time that handling the spread takes.
func (l *Load) slow(spread int64) int64 { return int64(math.Ceil(l.Handling * float64(spread))) }

// weigh sets what the breaches of r cost.
func (s *state) weigh(r *route) {
	p := s.penalty(r.load, r.time, r.more)
	s.over += p - r.over
	r.over = p
}

// reprice weighs all routes at new prices.
func (s *state) reprice(p prices) {
	s.prices = p
	for i := range s.routes {
		if s.routes[i].size > 0 {
			s.weigh(&s.routes[i])
		}
	}
}
