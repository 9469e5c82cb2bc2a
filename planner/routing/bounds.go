package routing

import (
	"maps"
	"math"
	"slices"
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
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

// slack keeps a bound from being rounded up by an error of float64.
const slack = 1e-6

// bounder holds what the bounds are computed from.
type bounder struct {
	sites []site
	fleet []*vehicle
	// capacity and mass (kg, +Inf where a vehicle has no limit) are the most
	// that a round may carry, busy the share of an interval that it may fill.
	capacity, mass, busy float64
	// parts and rates are by site and demand: the least part of one route that
	// the demand takes up, and the least of that per minute of the interval.
	parts, rates [][]float64
	// byWay and byTrip are, for each site, two bounds on the share of a
	// handler's time that it takes.
	byWay, byTrip   []float64
	points, markets []plant.PointCode
	// ways are the shortest among points and markets, whatever their time.
	ways *floor.Table
}

func newBounder(w *work, served []site) *bounder {
	d := &bounder{sites: served, fleet: w.fleet, busy: w.in.Plant.BusyLimit.Float64()}
	for _, s := range served {
		d.points = append(d.points, s.point)
	}
	for _, v := range w.fleet {
		d.capacity, d.mass = max(d.capacity, v.bare.containers), max(d.mass, v.bare.mass)
		d.markets = append(d.markets, v.market)
	}
	slices.Sort(d.points)
	slices.Sort(d.markets)
	d.points, d.markets = slices.Compact(d.points), slices.Compact(d.markets)
	d.ways = w.in.Network.Shortest(slices.Concat(d.points, d.markets), w.threads)
	z := w.fleet[0].bare.z
	if z < 0 {
		d.mass = math.Inf(1)
	}
	d.share(z)
	d.measure()
	return d
}

// share fills in parts and rates. A route is driven at the interval of one of
// its racks, the shortest. At each interval that it may be, a demand of mean m
// and variance v takes up a·m + b·v of the route, with the weights of that
// interval; the least of them counts.
func (d *bounder) share(z float64) {
	var intervals []time.Duration
	for _, s := range d.sites {
		intervals = append(intervals, s.interval)
		d.parts = append(d.parts, fill(len(s.demands), math.Inf(1)))
		d.rates = append(d.rates, fill(len(s.demands), math.Inf(1)))
	}
	slices.Sort(intervals)
	for _, interval := range slices.Compact(intervals) {
		a, b := d.weights(interval, z)
		for i, s := range d.sites {
			if s.interval < interval {
				continue
			}
			for j, x := range s.demands {
				n := x.need(interval)
				part := a*n.mean + b*n.variance
				if n.mean == 0 {
					part = 0
				}
				d.parts[i][j] = min(d.parts[i][j], part)
				d.rates[i][j] = min(d.rates[i][j], part/interval.Minutes())
			}
		}
	}
}

func fill(n int, x float64) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = x
	}
	return list
}

// weights returns a and b, none negative, with a·m + b·v <= 1 for the mean m
// and variance v of everything that one round at an interval can carry, m + z·√v
// <= capacity. The ratio v/m of a round lies between the least and the greatest
// of the demands it may serve. On the two rays of these ratios the capacity is
// reached at (m₁, v₁) and (m₂, v₂); the curve m + z·√v = capacity between them
// is convex as v over m, so all that fits lies below the straight line through
// the two points.
func (d *bounder) weights(interval time.Duration, z float64) (a, b float64) {
	if z < 0 {
		// Below a service level of 50 % a round is planned for less than its
		// mean: then loads prove nothing.
		return 0, 0
	}
	low, high := math.Inf(1), 0.0
	for _, s := range d.sites {
		for _, x := range s.demands {
			if n := x.need(interval); s.interval >= interval && n.mean > 0 {
				low, high = min(low, n.variance/n.mean), max(high, n.variance/n.mean)
			}
		}
	}
	full := func(ratio float64) float64 { // m with m + z·√(ratio·m) = capacity
		root := (math.Sqrt(z*z*ratio+4*d.capacity) - z*math.Sqrt(ratio)) / 2
		return root * root
	}
	if high-low <= slack {
		return 1 / full(low), 0
	}
	b = (1/full(high) - 1/full(low)) / (high - low)
	return max(1/full(low)-b*low, 0), b
}

// measure fills in byWay and byTrip: of both, the containers that the rates
// stand for (a round is planned for at least capacity times its parts), the
// empties, and one stop an interval. To this byWay adds, once an interval, a
// way to the point from the nearest other point or market; of several sites at
// one point only one, of longest interval, is charged with it. Or byTrip adds
// the trip to the site and back for the part of a round that it takes: a round
// drives at least the longest of its trips, so also their weighted mean.
func (d *bounder) measure() {
	charged := map[plant.PointCode]int{}
	for i, s := range d.sites {
		if j, ok := charged[s.point]; !ok || s.interval > d.sites[j].interval {
			charged[s.point] = i
		}
	}
	entering := enteringTimes(d.fleet, d.sites)
	for i, s := range d.sites {
		stop := time.Duration(math.MaxInt64)
		for _, v := range d.fleet {
			stop = min(stop, v.StopTime)
		}
		way := float64(stop) / float64(s.interval)
		trip := way
		if charged[s.point] == i {
			way += float64(entering[s.point]) / float64(s.interval)
		}
		for j, x := range s.demands {
			handling, driving := d.least(s, x, d.rates[i][j])
			way += handling
			trip += driving
		}
		d.byWay, d.byTrip = append(d.byWay, way), append(d.byTrip, trip)
	}
}

// least returns the share of a handler's time that a demand takes with the best
// vehicle for it: its handling, and its handling and driving. Rate is the part
// of a route that the demand takes up, per minute.
func (d *bounder) least(s site, x Demand, rate float64) (handling, driving float64) {
	handling, driving = math.Inf(1), math.Inf(1)
	empties := 0.0
	if x.Returnable {
		empties = x.Share.Float64() * x.Rate
	}
	for _, v := range d.fleet {
		work := d.capacity*rate*(v.LoadTime+v.UnloadTime).Minutes() + empties*v.EmptyTime.Minutes()
		handling = min(handling, work)
		if trip, ok := v.roundTrip(s.point); ok {
			driving = min(driving, work+rate*trip.Time.Minutes())
		}
	}
	return handling, driving
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

// routes returns the largest of the bounds on routes. The parts of each route
// add up to at most 1. A route at interval R takes a rate of at most 1/R, and at
// most as many routes are driven at an interval as there are loops on racks of
// it, so the k shortest intervals, each counted once for each such loop, must
// take everything; the same for mass. And no route is busier than the busy
// limit.
func (d *bounder) routes() int {
	var part, rate, mass float64
	var intervals []float64
	for i, s := range d.sites {
		for j, x := range s.demands {
			part += d.parts[i][j]
			rate += d.rates[i][j]
			mass += x.Rate * x.Share.Float64() * x.Gross.KG()
			intervals = append(intervals, s.interval.Minutes())
		}
	}
	slices.Sort(intervals)
	return max(1, int(math.Ceil(part-slack)), rounds(intervals, rate, 1), rounds(intervals, mass, d.mass),
		d.workers(d.byWay), d.workers(d.byTrip))
}

// rounds returns the smallest k for which capacity over each of the first k
// intervals adds up to rate.
func rounds(intervals []float64, rate, capacity float64) int {
	enough := rate * slack
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
	byWay, byTrip := map[plant.ShiftCode][]float64{}, map[plant.ShiftCode][]float64{}
	for i, s := range d.sites {
		for _, shift := range s.shifts {
			byWay[shift.Shift] = append(byWay[shift.Shift], d.byWay[i])
			byTrip[shift.Shift] = append(byTrip[shift.Shift], d.byTrip[i])
		}
	}
	most := 1
	for shift := range byWay {
		most = max(most, d.workers(byWay[shift]), d.workers(byTrip[shift]))
	}
	return most
}
