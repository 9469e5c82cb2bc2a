package tours_test

import (
	"math"

	"lanewright/planner/tours"
)

// check recomputes routes from the problem alone: what they cost and whether
// they serve every stop once and keep all limits and wishes.
func check(p *tours.Problem, routes []tours.Route) (cost int64, ok bool) {
	w := p.Stops + 1
	times := p.Times
	if times == nil {
		times = p.Costs
	}
	seen := map[int32]int{}
	ok = p.MaxRoutes == 0 || len(routes) <= p.MaxRoutes
	labels := map[int]bool{}
	for i, r := range routes {
		ok = ok && len(r.Stops) > 0 && (r.Label == 0 || !labels[r.Label])
		labels[r.Label] = true
		c, keeps := checkRoute(p, times, w, r)
		cost += c + p.Fixed
		ok = ok && keeps
		for _, x := range r.Stops {
			_, twice := seen[x]
			ok = ok && !twice
			seen[x] = i
		}
	}
	for _, pair := range p.Apart {
		ok = ok && seen[pair[0]] != seen[pair[1]]
	}
	return cost, ok && len(seen) == p.Stops
}

func checkRoute(p *tours.Problem, times []int32, w int, r tours.Route) (cost int64, ok bool) {
	var time int64
	at := 0
	place := map[int32]int{}
	ok = true
	for i, x := range append(append([]int32(nil), r.Stops...), 0) {
		cost += int64(p.Costs[at*w+int(x)])
		time += int64(times[at*w+int(x)])
		if at = int(x); x == 0 {
			break
		}
		place[x] = i + 1
		if p.Service != nil {
			time += p.Service[x]
		}
		if p.Labels > 0 {
			price := p.Prices[int(x)*(p.Labels+1)+r.Label]
			cost += price
			ok = ok && price < tours.Never
		}
	}
	for _, l := range p.Loads {
		var mean, variance int64
		for _, x := range r.Stops {
			mean += l.Mean[x]
			if l.Variance != nil {
				variance += l.Variance[x]
			}
		}
		spread := int64(math.Ceil(l.Z * math.Sqrt(float64(variance))))
		ok = ok && mean+spread <= l.Capacity
		time += int64(math.Ceil(l.Handling * float64(spread)))
	}
	for _, b := range p.Before {
		if place[b[0]] > 0 && place[b[1]] > 0 && place[b[0]] > place[b[1]] {
			ok = false
		}
	}
	return cost, ok && (p.MaxTime == 0 || time <= p.MaxTime)
}
