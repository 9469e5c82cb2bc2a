package tours

import (
	"cmp"
	"math"
	"slices"
)

// depot stands for the place where routes begin and end.
const depot = 0

// frozen is a problem in the form that the search reads.
type frozen struct {
	*Problem
	w int
	// cost holds the legs from a stop in a row, into those that lead to it:
	// the same slice where costs are the same in both directions.
	cost, into []int32
	// time is nil where costs are times too.
	time      []int32
	symmetric bool
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

// neighbour is a stop with the legs to it and from it.
type neighbour struct {
	stop     int32
	to, from int32
}

// nearest is how many neighbours of a stop the search looks at.
const nearest = 40

func freeze(p *Problem) *frozen {
	f := &frozen{Problem: p, w: p.Stops + 1, cost: p.Costs, timed: p.MaxTime > 0, maxTime: math.MaxInt64, capacity: math.MaxInt64, maxRoutes: p.Stops}
	f.symmetric = p.Costs == nil || symmetric(p.Costs, f.w) && (p.Times == nil || symmetric(p.Times, f.w))
	f.into = f.cost
	if !f.symmetric {
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

// computed calls Way: apart, so that leg is short enough to be compiled in place.
//
//go:noinline
func (f *frozen) computed(a, b int32) int32 { return f.Way(a, b) }

// legInto is the cost from b to a, read where legs from a lie.
func (f *frozen) legInto(a, b int32) int32 {
	if f.into == nil {
		return f.computed(a, b)
	}
	return f.into[int(a)*f.w+int(b)]
}

// drive is the time from a to b.
func (f *frozen) drive(a, b int32) int64 {
	if f.time != nil {
		return int64(f.time[int(a)*f.w+int(b)])
	}
	return int64(f.leg(a, b))
}

// nearTo returns the nearest stops of a.
func (f *frozen) nearTo(a int32) []neighbour { return f.near[int(a-1)*f.k : int(a)*f.k] }

// neighbours lists for each stop the nearest others by the cheaper of the two
// legs, then by number.
func (f *frozen) neighbours() {
	n := f.Stops
	f.k = min(nearest, max(n-1, 0))
	f.near = make([]neighbour, 0, n*f.k)
	g := newGrid(f)
	list := make([]candidate, 0, n)
	var sum float64
	for a := int32(1); int(a) <= n; a++ {
		list = f.closest(g.around(a, list[:0]))
		for i, c := range list {
			f.near = append(f.near, neighbour{c.stop, f.leg(a, c.stop), f.leg(c.stop, a)})
			if i < 5 {
				sum += float64(c.cost)
			}
		}
	}
	f.meanLeg = max(sum/float64(max(n*min(5, f.k), 1)), 1)
}

type candidate struct{ cost, stop int32 }

// closest sorts the k nearest to the front and returns them.
func (f *frozen) closest(list []candidate) []candidate {
	before := func(a, b candidate) int { return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.stop, b.stop)) }
	lo, hi := 0, len(list)
	for hi-lo > 1 && hi > f.k { // quickselect by the middle value
		pivot := list[lo+(hi-lo)/2]
		i, j := lo, hi-1
		for i <= j {
			for before(list[i], pivot) < 0 {
				i++
			}
			for before(list[j], pivot) > 0 {
				j--
			}
			if i <= j {
				list[i], list[j] = list[j], list[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case f.k <= j+1:
			hi = j + 1
		case f.k >= i:
			lo = i
		default:
			lo = hi
		}
	}
	list = list[:min(f.k, len(list))]
	slices.SortFunc(list, before)
	return list
}
