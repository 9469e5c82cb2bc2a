package routing

import (
	"cmp"
	"math"
	"slices"
	"time"
)

// mostPoints is for how many points dues are looked for: tours to each two are kept.
const mostPoints = 1500

// dueRounds is for how many rounds dues are raised, fewer where there are more racks
// than usual.
const (
	dueRounds = 40
	usual     = 1300
)

// charge raises what the sites of the longest interval take up, where a plan has more
// handlers than the bound. A round that serves one of them serves it whole, at that
// interval with the largest vehicle type and then beside others of that interval alone,
// or at a shorter interval or with another type: there no site is charged more than
// what it takes up by its own trip.
func (d *bounder) charge(handlers int) {
	longest, interval := d.longest()
	if d.z < 0 || len(d.points) > mostPoints || d.handlers() >= handlers {
		return
	}
	v := d.largest(longest, interval)
	if v == nil {
		return
	}
	e, rest := d.dues(v, longest, interval)
	enough := math.Inf(1)
	if d.alike() {
		enough = ((float64(handlers-1)+2*slack)*d.busy - rest) * interval.Minutes()
	}
	paid := e.raise(enough, max(1, dueRounds*usual/max(usual, len(longest))))
	for k, i := range longest {
		d.least[i].due = e.racks[k].base + paid[k]/interval.Minutes()
	}
}

// longest are the sites of the longest interval.
func (d *bounder) longest() (list []int, interval time.Duration) {
	for _, s := range d.sites {
		interval = max(interval, s.interval)
	}
	for i, s := range d.sites {
		if s.interval == interval {
			list = append(list, i)
		}
	}
	return list, interval
}

// alike reports whether all sites are worked in the same shifts.
func (d *bounder) alike() bool {
	name := shiftNames(d.sites[0].shifts)
	return !slices.ContainsFunc(d.sites, func(s site) bool { return shiftNames(s.shifts) != name })
}

// largest is the vehicle type on which sites take up least, of those that take each of
// them whole; nil where none does.
func (d *bounder) largest(list []int, interval time.Duration) *vehicle {
	var best *vehicle
	least := math.Inf(1)
	for _, v := range d.fleet {
		all := 0.0
		for _, i := range list {
			if s := d.sites[i]; !d.whole(v, s, interval) {
				all = math.Inf(1)
			} else {
				trip, _ := v.roundTrip(s.point)
				all += d.on(v, total(s.demands, interval), trip.Time, interval).trip + v.StopTime.Minutes()/interval.Minutes()
			}
		}
		if all < least {
			best, least = v, all
		}
	}
	return best
}

// dues are those of sites on v before they are raised, and what is taken up beside them.
func (d *bounder) dues(v *vehicle, list []int, interval time.Duration) (e *dues, rest float64) {
	e = newDues(d, v)
	for _, t := range d.least {
		rest += t.trip
	}
	others := slices.DeleteFunc(slices.Clone(d.fleet), func(u *vehicle) bool { return u == v })
	shorter := slices.DeleteFunc(d.intervals(), func(t time.Duration) bool { return t >= interval })
	for _, i := range list {
		s := d.sites[i]
		n := total(s.demands, interval)
		base := d.on(v, n, 0, interval).trip + v.StopTime.Minutes()/interval.Minutes()
		most := d.atInterval(s, interval, others).trip
		for _, t := range shorter {
			most = min(most, d.atInterval(s, t, d.fleet).trip)
		}
		point, _ := slices.BinarySearch(d.points, s.point)
		part := d.part(n, v.bare.containers)
		e.add(charged{
			point: int32(point), part: part, base: base,
			due: min(part*e.trip[point], (most-base)*interval.Minutes()), most: (most - base) * interval.Minutes(),
		})
		rest += base - d.least[i].trip
	}
	return e, rest
}

// newDues finds the ways of v to all points of d, for no racks yet.
func newDues(d *bounder, v *vehicle) *dues {
	var rows []int
	for _, code := range d.points {
		row, _ := v.table.Index(code)
		rows = append(rows, row)
	}
	n := len(rows)
	e := &dues{trip: make([]float64, n), tour: make([]float64, n*n), at: make([][]int32, n), back: make([]float64, n)}
	leg := func(a, b int) float64 {
		l, ok := v.table.Leg(a, b)
		if !ok {
			return math.Inf(1)
		}
		return l.Time.Minutes()
	}
	for p, a := range rows {
		e.trip[p] = leg(v.home, a) + leg(a, v.home)
		for q, b := range rows {
			e.tour[p*n+q] = min(leg(v.home, a)+leg(a, b)+leg(b, v.home), leg(v.home, b)+leg(b, a)+leg(a, v.home))
		}
	}
	for p := range int32(n) {
		e.aside, e.outward, e.top = append(e.aside, e.asideOf(p)), append(e.outward, p), append(e.top, 0)
	}
	slices.SortFunc(e.outward, func(a, b int32) int { return cmp.Or(cmp.Compare(e.trip[a], e.trip[b]), cmp.Compare(a, b)) })
	return e
}

// asideOf lists the points that are no farther than p, the least detour first.
func (e *dues) asideOf(p int32) []int32 {
	var list []int32
	for q := range int32(len(e.at)) {
		if e.trip[q] < e.trip[p] || e.trip[q] == e.trip[p] && q <= p {
			list = append(list, q)
		}
	}
	slices.SortFunc(list, func(a, b int32) int {
		return cmp.Or(cmp.Compare(e.detour(p, a), e.detour(p, b)), cmp.Compare(a, b))
	})
	return list
}

// add adds a rack.
func (e *dues) add(c charged) {
	i := int32(len(e.racks))
	e.racks = append(e.racks, c)
	e.at[c.point] = append(e.at[c.point], i)
	e.ranked, e.rank = append(e.ranked, i), append(e.rank, 0)
}
