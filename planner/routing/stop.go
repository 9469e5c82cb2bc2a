package routing

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/plant"
)

// stop is a site, or a part of one, as one vehicle type serves it on one round.
type stop struct {
	rack    plant.RackCode
	point   plant.PointCode
	demands []Demand
	need    need
	// part counts the stops at a rack that is split over rounds, from 0.
	part int
}

func newStop(s site, demands []Demand, interval time.Duration) stop {
	return stop{rack: s.rack, point: s.point, demands: demands, need: total(demands, interval)}
}

// splitBudget bounds the search for the least number of parts of a rack: all
// ways to part ten loops are 115 975, of which few are tried.
const splitBudget = 20_000

// stops returns the least number of stops found with which v can serve s, each
// of them alone within one round. It holds only where v serves every loop of s
// alone.
func (v *vehicle) stops(s site) []stop {
	if _, ok := v.alone(s.point, s.demands, s.interval); ok {
		return []stop{newStop(s, s.demands, s.interval)}
	}
	demands := v.largestFirst(s)
	part := func(bin []int) []Demand {
		list := make([]Demand, 0, len(bin))
		for _, i := range bin {
			list = append(list, demands[i])
		}
		return list
	}
	bins := pack(len(demands), func(bin []int) bool {
		_, ok := v.alone(s.point, part(bin), s.interval)
		return ok
	}, 2, splitBudget)
	list := make([]stop, 0, len(bins))
	for _, bin := range bins {
		d := part(bin)
		slices.SortFunc(d, func(a, b Demand) int { return a.Loop.Compare(b.Loop) })
		one := newStop(s, d, s.interval)
		one.part = len(list)
		list = append(list, one)
	}
	return list
}

// largestFirst orders the loops of s by how much of a round of v each fills.
func (v *vehicle) largestFirst(s site) []Demand {
	fill := make([]float64, len(s.demands))
	order := make([]int, len(s.demands))
	for i, d := range s.demands {
		e, _ := v.alone(s.point, []Demand{d}, s.interval)
		order[i], fill[i] = i, e.ratio()
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(fill[b], fill[a]), cmp.Compare(a, b)) })
	demands := make([]Demand, 0, len(order))
	for _, i := range order {
		demands = append(demands, s.demands[i])
	}
	return demands
}

// serves reports whether v can serve every loop of s, each alone if need be.
func (v *vehicle) serves(s site) bool {
	return !slices.ContainsFunc(s.demands, func(d Demand) bool {
		_, ok := v.alone(s.point, []Demand{d}, s.interval)
		return !ok
	})
}
