package routing

import (
	"maps"
	"math"
	"slices"
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// bound fills in what no routes for the same racks can beat. It holds for any
// routes that keep the planning rules, also for such as mix intervals and
// shifts: a route is then driven at the shortest interval of its racks, which is
// at most the interval of each.
func (w *work) bound(served []site) {
	b := &w.plan.Bounds
	b.Routes = len(w.plan.Routes)
	for _, r := range w.plan.Routes {
		b.Travel += r.Travel
	}
	if len(served) == 0 {
		return
	}
	d := newBounder(w, served)
	b.RoutesBound = d.routes()
	b.HandlersBound = d.handlers()
	b.TravelBound = d.travel(b.RoutesBound)
}

// bounder holds what the bounds are computed from.
type bounder struct {
	sites []site
	// work[i] is the least share of a handler's time that site i takes, with
	// the best of every vehicle type.
	work []float64
	// containers and mass (kg; +Inf where a type has no limit) are the largest
	// that a round may carry, busy the share of an interval it may fill.
	containers, mass, busy float64
	points, markets        []plant.PointCode
	// ways are the shortest among points and markets, whatever their time.
	ways *floor.Table
}

func newBounder(w *work, served []site) *bounder {
	d := &bounder{sites: served, busy: w.in.Plant.BusyLimit.Float64()}
	for _, s := range served {
		d.points = append(d.points, s.point)
	}
	for _, v := range w.fleet {
		d.containers, d.mass = max(d.containers, v.bare.containers), max(d.mass, v.bare.mass)
		d.markets = append(d.markets, v.market)
	}
	slices.Sort(d.points)
	slices.Sort(d.markets)
	d.points, d.markets = slices.Compact(d.points), slices.Compact(d.markets)
	d.ways = w.in.Network.Shortest(slices.Concat(d.points, d.markets), w.threads)
	if w.fleet[0].bare.z < 0 {
		// Below a service level of 50 % a round is planned for less than its
		// mean: then loads prove nothing.
		d.containers, d.mass = math.Inf(1), math.Inf(1)
		d.work = make([]float64, len(served))
		return d
	}
	d.work = leastWork(w.fleet, served)
	return d
}

// leastWork returns the share of a handler's time that each site takes at
// least: its containers and empties at their mean, and once an interval a stop
// and a way to its point from another point or a market. Of several sites at
// one point only one, of longest interval, is charged with the way.
func leastWork(fleet []*vehicle, served []site) []float64 {
	handle, empty, stop := fleet[0].LoadTime+fleet[0].UnloadTime, fleet[0].EmptyTime, fleet[0].StopTime
	for _, v := range fleet {
		handle, empty, stop = min(handle, v.LoadTime+v.UnloadTime), min(empty, v.EmptyTime), min(stop, v.StopTime)
	}
	longest := map[plant.PointCode]int{}
	for i, s := range served {
		if j, ok := longest[s.point]; !ok || s.interval > served[j].interval {
			longest[s.point] = i
		}
	}
	entering := enteringTimes(fleet, served)
	work := make([]float64, len(served))
	for i, s := range served {
		n := total(s.demands, s.interval)
		busy := n.mean*float64(handle) + n.empties*float64(empty) + float64(stop)
		if longest[s.point] == i {
			busy += float64(entering[s.point])
		}
		work[i] = busy / float64(s.interval)
	}
	return work
}

// enteringTimes returns the least time to each served point from any other or
// from a market, with the quickest vehicle type.
func enteringTimes(fleet []*vehicle, served []site) map[plant.PointCode]time.Duration {
	times := map[plant.PointCode]time.Duration{}
	for _, s := range served {
		times[s.point] = math.MaxInt64
	}
	points := slices.Sorted(maps.Keys(times))
	for _, v := range fleet {
		rows := []int{v.home}
		for _, p := range points {
			row, _ := v.table.Index(p)
			rows = append(rows, row)
		}
		for i, p := range points {
			times[p] = min(times[p], v.entering(rows, i+1))
		}
	}
	return times
}

// entering returns the least time to rows[to] from any other of rows; the first
// of them is the market.
func (v *vehicle) entering(rows []int, to int) time.Duration {
	least := time.Duration(math.MaxInt64)
	for i, row := range rows {
		if leg, ok := v.table.Leg(row, rows[to]); ok && i != to {
			least = min(least, leg.Time)
		}
	}
	return least
}

// slack keeps a bound from being rounded up by an error of float64.
const slack = 1e-6

// routes returns the largest of three bounds. The first two: a route at
// interval R carries at most capacity/R containers a minute, and at most as
// many routes are driven at an interval as there are loops on racks of it, so
// the k shortest intervals, each counted once for each such loop, must carry
// everything. The third: no route is busier than the busy limit.
func (d *bounder) routes() int {
	var containers, mass float64
	var intervals []float64
	for _, s := range d.sites {
		for _, x := range s.demands {
			rate := x.Rate * x.Share.Float64()
			containers += rate
			mass += rate * x.Gross.KG()
			intervals = append(intervals, s.interval.Minutes())
		}
	}
	slices.Sort(intervals)
	return max(1, least(intervals, containers, d.containers), least(intervals, mass, d.mass), d.workers(d.work))
}

// least returns the smallest k for which capacity over each of the first k
// intervals adds up to rate.
func least(intervals []float64, rate, capacity float64) int {
	enough := rate * tolerance
	for k, interval := range intervals {
		if rate <= enough {
			return k
		}
		rate -= capacity / interval
	}
	return len(intervals)
}

// workers returns how many handlers, or routes, can do so much work at least.
func (d *bounder) workers(work []float64) int {
	var all float64
	for _, x := range work {
		all += x
	}
	return int(math.Ceil(all/d.busy - slack))
}

// handlers returns the largest number that the work of one shift needs.
func (d *bounder) handlers() int {
	byShift := map[plant.ShiftCode][]float64{}
	for i, s := range d.sites {
		for _, shift := range s.shifts {
			byShift[shift.Shift] = append(byShift[shift.Shift], d.work[i])
		}
	}
	most := 1
	for _, work := range byShift {
		most = max(most, d.workers(work))
	}
	return most
}

// travel returns the largest of the travel bounds; at least routes routes
// return to a market.
func (d *bounder) travel(routes int) units.Length {
	trips := map[plant.PointCode]units.Length{}
	farthest, back := units.Length(0), units.Length(math.MaxInt64)
	for _, p := range d.points {
		trip := units.Length(math.MaxInt64)
		for _, m := range d.markets {
			there, okThere := d.ways.Between(m, p)
			home, okHome := d.ways.Between(p, m)
			if okThere && okHome {
				trip = min(trip, there.Length+home.Length)
				back = min(back, home.Length)
			}
		}
		trips[p] = trip
		farthest = max(farthest, trip)
	}
	return max(farthest, d.radial(trips), units.Length(routes)*back+max(d.entering(), d.tree()))
}

// radial: a route is at least as long as the trip to each of its racks, so also
// as their mean, each weighted with the share of the route that it fills. The
// shares of a route add up to at most 1, by its load and by its time.
func (d *bounder) radial(trips map[plant.PointCode]units.Length) units.Length {
	shortest := d.sites[0].interval
	for _, s := range d.sites {
		shortest = min(shortest, s.interval)
	}
	var byLoad, byMass, byTime float64
	for i, s := range d.sites {
		trip := float64(trips[s.point])
		n := total(s.demands, shortest)
		byLoad += trip * n.mean / d.containers
		byMass += trip * n.mass / d.mass
		byTime += trip * d.work[i] / d.busy
	}
	return units.Length(max(byLoad, byMass, byTime) * (1 - slack))
}

// entering: every point is entered at least once, from the nearest other point
// or market.
func (d *bounder) entering() units.Length {
	var all units.Length
	for i := range d.points {
		nearest := units.Length(math.MaxInt64)
		for j := range d.ways.Len() {
			if leg, ok := d.ways.Leg(j, i); ok && i != j {
				nearest = min(nearest, leg.Length)
			}
		}
		all += nearest
	}
	return all
}

// tree: the ways of all routes without the last of each join the markets with
// every point, so they are no shorter than the shortest tree that does, each
// joint counted in its shorter direction (Prim, Shortest connection networks
// and some generalizations, Bell System Technical Journal 36, 1957, 1389-1401).
func (d *bounder) tree() units.Length {
	joint := make([]units.Length, len(d.points))
	for i := range joint {
		joint[i] = math.MaxInt64
		for m := range d.markets {
			joint[i] = min(joint[i], d.either(i, len(d.points)+m))
		}
	}
	var all units.Length
	joined := make([]bool, len(d.points))
	for range d.points {
		next := -1
		for i := range d.points {
			if !joined[i] && (next < 0 || joint[i] < joint[next]) {
				next = i
			}
		}
		joined[next] = true
		all += joint[next]
		for i := range d.points {
			if !joined[i] {
				joint[i] = min(joint[i], d.either(next, i))
			}
		}
	}
	return all
}

// either returns the shorter of the ways between two rows of ways.
func (d *bounder) either(i, j int) units.Length {
	way := units.Length(math.MaxInt64)
	if leg, ok := d.ways.Leg(i, j); ok {
		way = leg.Length
	}
	if leg, ok := d.ways.Leg(j, i); ok {
		way = min(way, leg.Length)
	}
	return way
}
