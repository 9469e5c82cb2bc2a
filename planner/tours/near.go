package tours

import (
	"cmp"
	"slices"
)

// neighbour is a stop with the cheaper of the legs to it and from it.
type neighbour struct{ stop, leg int32 }

// nearest is how many neighbours of a stop the search looks at.
const nearest = 40

// nearTo returns the nearest stops of a.
func (f *frozen) nearTo(a int32) []neighbour { return f.near[int(a-1)*f.k : int(a)*f.k] }

// legs are those from a to its neighbour b and back.
func (f *frozen) legs(a int32, b neighbour) (to, from int32) {
	if f.symmetric {
		return b.leg, b.leg
	}
	return f.leg(a, b.stop), f.legInto(a, b.stop)
}

// neighbours lists for each stop the nearest others.
func (f *frozen) neighbours() {
	n := f.Stops
	f.k = min(nearest, max(n-1, 0))
	f.near = make([]neighbour, n*f.k)
	var sum float64
	f.eachNearest(f.k, func(a int32, list []candidate) {
		near := f.nearTo(a)
		for i, c := range list {
			near[i] = neighbour{c.stop, c.cost}
			if i < 5 {
				sum += float64(c.cost)
			}
		}
	})
	f.meanLeg = max(sum/float64(max(n*min(5, f.k), 1)), 1)
}

// Nearest lists for each stop from number 1 the k nearest others, k below Stops, by the
// cheaper of the two legs, then by number.
func (p *Problem) Nearest(k int) []int32 {
	near := make([]int32, p.Stops*k)
	p.eachNearest(k, func(a int32, list []candidate) {
		for i, c := range list {
			near[int(a-1)*k+i] = c.stop
		}
	})
	return near
}

type candidate struct{ cost, stop int32 }

// eachNearest calls f with each stop and its k nearest, in no order of stops.
func (p *Problem) eachNearest(k int, f func(a int32, list []candidate)) {
	list := make([]candidate, 0, p.Stops)
	if p.Places != nil {
		newSpots(p).each(k, func(a int32, around []candidate) {
			list = append(list[:0], around...)
			list = slices.DeleteFunc(list, func(c candidate) bool { return c.stop == a })
			f(a, closest(list, k))
		})
		return
	}
	g := newGrid(p, k)
	for a := int32(1); int(a) <= p.Stops; a++ {
		f(a, closest(g.around(a, list[:0]), k))
	}
}

// spots are the stops by place.
type spots struct {
	*Problem
	at [][]int32
}

func newSpots(p *Problem) *spots {
	s := &spots{p, make([][]int32, p.places())}
	for a := int32(1); int(a) <= p.Stops; a++ {
		s.at[p.Places[a]] = append(s.at[p.Places[a]], a)
	}
	return s
}

// each calls f with each stop and those, itself among them, that may be its k nearest:
// all at places no farther than the k nearest other ones.
func (s *spots) each(k int, f func(a int32, around []candidate)) {
	var ways, around []candidate
	for at, stops := range s.at {
		if len(stops) == 0 {
			continue
		}
		ways, around = ways[:0], around[:0]
		for to, there := range s.at {
			if len(there) > 0 {
				ways = append(ways, candidate{min(s.way(at, to), s.way(to, at)), int32(to)})
			}
		}
		near := closest(slices.Clone(ways), k+1)
		for _, c := range ways {
			if c.cost > near[len(near)-1].cost {
				continue
			}
			for _, b := range s.at[c.stop] {
				around = append(around, candidate{c.cost, b})
			}
		}
		for _, a := range stops {
			f(a, around)
		}
	}
}

func (s *spots) way(a, b int) int32 { return s.Costs[a*len(s.at)+b] }

// closest sorts the k nearest to the front and returns them.
func closest(list []candidate, k int) []candidate {
	before := func(a, b candidate) int { return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.stop, b.stop)) }
	lo, hi := 0, len(list)
	for hi-lo > 1 && hi > k { // quickselect by the middle value
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
		case k <= j+1:
			hi = j + 1
		case k >= i:
			lo = i
		default:
			lo = hi
		}
	}
	list = list[:min(k, len(list))]
	slices.SortFunc(list, before)
	return list
}
