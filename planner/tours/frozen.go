package tours

import "math"

// depot stands for the place where routes begin and end.
const depot = 0

// frozen is a problem in the form that the search reads.
type frozen struct {
	*Problem
	w int
	// cost holds the legs from a stop in a row, into those that lead to it: the same
	// slice where costs are the same in both directions, nil where legs are computed
	// or looked up by places.
	cost, into []int32
	// time is nil where costs are times too.
	time []int32
	// row is where the row of each stop begins in a table, column the place in it.
	row, column []int32
	symmetric   bool
	// timed: routes have a limit of time. rich: there are variances or a second
	// load. sided: there are wishes beside the costs.
	timed, rich, sided bool
	demand, service    []int64
	capacity, maxTime  int64
	maxRoutes          int
	// near lists the k nearest stops of each from number 1.
	near []neighbour
	k    int
	// meanLeg is the mean cost of the legs to the nearest few stops.
	meanLeg float64
	pairs   pairs
	// trip is what a route with one stop costs.
	trip []int64
}

func freeze(p *Problem) *frozen {
	f := &frozen{Problem: p, w: p.Stops + 1, cost: p.Costs, timed: p.MaxTime > 0, maxTime: math.MaxInt64, capacity: math.MaxInt64, maxRoutes: p.Stops}
	wide := p.places()
	f.symmetric = p.Costs == nil || symmetric(p.Costs, wide) && (p.Times == nil || symmetric(p.Times, wide))
	f.row, f.column = p.index(wide)
	if p.Places != nil {
		f.cost = nil
	}
	if f.into = f.cost; f.cost != nil && !f.symmetric {
		f.into = transposed(p.Costs, f.w)
	}
	if f.timed {
		f.maxTime = p.MaxTime
		if !same(p.Times, p.Costs) {
			f.time = p.Times
		}
	}
	if p.MaxRoutes > 0 {
		f.maxRoutes = p.MaxRoutes
	}
	f.service, f.demand = p.Service, make([]int64, f.w)
	if f.service == nil {
		f.service = make([]int64, f.w)
	}
	if len(p.Loads) > 0 {
		f.demand, f.capacity = p.Loads[0].Mean, p.Loads[0].Capacity
	}
	f.rich = len(p.Loads) > 1 || len(p.Loads) == 1 && p.Loads[0].Variance != nil
	f.sided = p.Labels > 0 || len(p.Apart)+len(p.Before) > 0
	f.pairs = newPairs(p)
	f.trip = make([]int64, f.w)
	for a := int32(1); int(a) < f.w; a++ {
		f.trip[a] = int64(f.leg(depot, a)) + int64(f.leg(a, depot))
	}
	f.neighbours()
	return f
}

func same(a, b []int32) bool { return len(a) == 0 || len(b) > 0 && &a[0] == &b[0] }

func symmetric(m []int32, w int) bool {
	for a := range w {
		for b := range a {
			if m[a*w+b] != m[b*w+a] {
				return false
			}
		}
	}
	return true
}

func transposed(m []int32, w int) []int32 {
	t := make([]int32, len(m))
	for a := range w {
		for b := range w {
			t[b*w+a] = m[a*w+b]
		}
	}
	return t
}

// leg is the cost from a to b.
func (f *frozen) leg(a, b int32) int32 {
	if f.cost == nil {
		return f.computed(a, b)
	}
	return f.cost[int(a)*f.w+int(b)]
}

// computed is the cost from a to b where no table has it by stops: apart, so that leg is
// short enough to be compiled in place.
//
//go:noinline
func (f *frozen) computed(a, b int32) int32 {
	if f.Way != nil {
		return f.Way(a, b)
	}
	return f.Costs[f.row[a]+f.column[b]]
}

// legInto is the cost from b to a, read where legs from a lie.
func (f *frozen) legInto(a, b int32) int32 {
	if f.into == nil {
		return f.computed(b, a)
	}
	return f.into[int(a)*f.w+int(b)]
}

// drive is the time from a to b.
func (f *frozen) drive(a, b int32) int64 {
	if f.time != nil {
		return int64(f.time[f.row[a]+f.column[b]])
	}
	return int64(f.leg(a, b))
}
