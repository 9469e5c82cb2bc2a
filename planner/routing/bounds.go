package routing

import (
	"maps"
	"math"
	"slices"
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/internal/packing"
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
	d.charge(b.Handlers)
	b.HandlersBound = d.handlers()
	b.TravelBound = d.travel(b.RoutesBound)
}

// slack keeps a bound from being rounded up by an error of float64.
const slack = 1e-6

// bounder holds what the bounds are computed from.
type bounder struct {
	sites []site
	fleet []*vehicle
	// mass (kg, +Inf where a vehicle has no limit) is the most that a round may
	// carry, busy the share of an interval that it may fill, z the quantile that
	// loads are planned for.
	mass, busy, z float64
	// least is, for each site, the least of everything that it takes up.
	least           []takes
	points, markets []plant.PointCode
	// ways are the shortest among points and markets, whatever their time.
	ways *floor.Table
}

// takes is the least that a site takes up, each for itself: the part of one route;
// that part for each minute of the interval; and three bounds on the share of a
// handler's time: by the ways between points, by its own trip, and by what it can be
// charged of the rounds to it and others (see dues).
type takes struct{ part, rate, way, trip, due float64 }

func newBounder(w *work, served []site) *bounder {
	d := &bounder{sites: served, fleet: w.fleet, busy: w.in.Plant.BusyLimit.Float64(), z: w.fleet[0].bare.z}
	for _, s := range served {
		d.points = append(d.points, s.point)
	}
	for _, v := range w.fleet {
		d.mass = max(d.mass, v.bare.mass)
		d.markets = append(d.markets, v.market)
	}
	slices.Sort(d.points)
	slices.Sort(d.markets)
	d.points, d.markets = slices.Compact(d.points), slices.Compact(d.markets)
	d.ways = w.in.Network.Shortest(slices.Concat(d.points, d.markets), w.threads)
	if d.z < 0 {
		d.mass = math.Inf(1)
	}
	d.measure()
	return d
}

// measure fills in least. To the way it adds, once an interval, a way to the point
// from the nearest other point or market; of several sites at one point only one,
// of longest interval, is charged with it.
func (d *bounder) measure() {
	charged := map[plant.PointCode]int{}
	for i, s := range d.sites {
		if j, ok := charged[s.point]; !ok || s.interval > d.sites[j].interval {
			charged[s.point] = i
		}
	}
	intervals := d.intervals()
	entering := enteringTimes(d.fleet, d.sites)
	for i, s := range d.sites {
		t := d.atBest(s, intervals)
		if charged[s.point] == i {
			t.way += entering[s.point].Minutes() / s.interval.Minutes()
		}
		d.least = append(d.least, t)
	}
}

// intervals are those of the sites, each once, the shortest first.
func (d *bounder) intervals() []time.Duration {
	var list []time.Duration
	for _, s := range d.sites {
		list = append(list, s.interval)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// atBest is the least that s takes up at any interval at which a route may serve it:
// the route is driven at the shortest of its racks.
func (d *bounder) atBest(s site, intervals []time.Duration) takes {
	best := takes{math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)}
	for _, interval := range intervals {
		if interval <= s.interval {
			best = best.least(d.atInterval(s, interval, d.fleet))
		}
	}
	return best
}

func (a takes) least(b takes) takes {
	return takes{min(a.part, b.part), min(a.rate, b.rate), min(a.way, b.way), min(a.trip, b.trip), min(a.due, b.due)}
}

func (a takes) plus(b takes) takes {
	return takes{a.part + b.part, a.rate + b.rate, a.way + b.way, a.trip + b.trip, a.due + b.due}
}

// atInterval is the least that s takes up at one interval with some vehicle types:
// whole, on one that can take it in one round, or loop by loop on those that can not.
// (A rack is split only over rounds of a type for which it is too big.)
func (d *bounder) atInterval(s site, interval time.Duration, fleet []*vehicle) takes {
	never := takes{math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)}
	best, stop := never, math.Inf(1)
	split := make([]takes, len(s.demands))
	for j := range split {
		split[j] = never
	}
	for _, v := range fleet {
		trip, ok := v.roundTrip(s.point)
		if !ok {
			continue
		}
		if d.whole(v, s, interval) {
			t := d.on(v, total(s.demands, interval), trip.Time, interval)
			best = best.least(t.plus(stopping(v.StopTime.Minutes() / interval.Minutes())))
			continue
		}
		stop = min(stop, v.StopTime.Minutes()/interval.Minutes())
		for j, x := range s.demands {
			split[j] = split[j].least(d.on(v, x.need(interval), trip.Time, interval))
		}
	}
	parts := stopping(stop)
	for _, t := range split {
		parts = parts.plus(t)
	}
	return best.least(parts)
}

func stopping(share float64) takes { return takes{way: share, trip: share, due: share} }

// whole reports whether v takes s in one round, at its own interval and at another.
func (d *bounder) whole(v *vehicle, s site, interval time.Duration) bool {
	_, own := v.alone(s.point, s.demands, s.interval)
	_, here := v.alone(s.point, s.demands, interval)
	return own && here
}

// on is what a need takes up on v at an interval, stops and ways between stops apart:
// its part of the round; the handling of the containers that this part stands for (a
// round is planned for at least its capacity times its parts) and of the empties; and
// its part of the round trip, for a round drives at least the longest of its trips, so
// also their mean, each weighted with its part.
func (d *bounder) on(v *vehicle, n need, trip, interval time.Duration) takes {
	part := d.part(n, v.bare.containers)
	minutes := interval.Minutes()
	handling := (part*v.bare.containers*(v.LoadTime+v.UnloadTime).Minutes() + n.empties*v.EmptyTime.Minutes()) / minutes
	own := handling + part*trip.Minutes()/minutes
	return takes{part, part / minutes, handling, own, own}
}

// part is a weight of needs that adds up to at most 1 in every round that carries at
// most capacity: m + z·√v <= capacity for the sums m of means and v of variances. With
// x(r) the mean at which a round whose variance is r times its mean is full, a need
// weighs m/x(v/m). 1/x is concave in r: it is (z²r + 2C + z·√(z²r² + 4Cr)) / 2C². So
// by Jensen's inequality the weights of a round are at most m/x(v/m) of their sums,
// which is at most 1. A round of less than capacity carries at least capacity times its
// weights, because m + z·√(r·m) is concave in m. (Own derivation.)
func (d *bounder) part(n need, capacity float64) float64 {
	if d.z < 0 || n.mean <= 0 {
		// Below a service level of 50 % a round is planned for less than its
		// mean: then loads prove nothing.
		return 0
	}
	r := n.variance / n.mean
	root := (math.Sqrt(d.z*d.z*r+4*capacity) - d.z*math.Sqrt(r)) / 2
	return n.mean / (root * root)
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
// add up to at most 1, so the sites need as many routes as things of these sizes need
// bins. A route at interval R takes a rate of at most 1/R, and at most as many routes
// are driven at an interval as there are loops on racks of it, so the k shortest
// intervals, each counted once for each such loop, must take everything; the same for
// mass. And no route is busier than the busy limit.
func (d *bounder) routes() int {
	var rate, mass float64
	var intervals []float64
	for i, s := range d.sites {
		rate += d.least[i].rate
		for _, x := range s.demands {
			mass += x.Rate * x.Share.Float64() * x.Gross.KG()
			intervals = append(intervals, s.interval.Minutes())
		}
	}
	slices.Sort(intervals)
	return max(1, d.bins(), rounds(intervals, rate, 1), rounds(intervals, mass, d.mass),
		d.workers(takes.byWay, nil), d.workers(takes.byTrip, nil))
}

// bins returns how many bins of size 1 the parts need at least.
func (d *bounder) bins() int {
	const whole = 1_000_000_000
	var sizes []int64
	all := 0.0
	for _, t := range d.least {
		all += t.part
		if size := int64(min(t.part, 1) * (1 - slack) * whole); size > 0 {
			sizes = append(sizes, size)
		}
	}
	sum := int(math.Ceil(all - slack))
	least, err := packing.LowerBound(packing.Of(whole, sizes...))
	if err != nil { // more sizes than it takes
		return sum
	}
	return max(sum, int(least))
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

func (a takes) byWay() float64  { return a.way }
func (a takes) byTrip() float64 { return a.trip }
func (a takes) byDue() float64  { return a.due }

// workers returns how many handlers, or routes, can do so much work at least: that of
// one shift, or of all for nil.
func (d *bounder) workers(share func(takes) float64, shift *plant.Shift) int {
	var all float64
	for i, s := range d.sites {
		if shift == nil || slices.ContainsFunc(s.shifts, func(t plant.Shift) bool { return t.Shift == shift.Shift }) {
			all += share(d.least[i])
		}
	}
	return int(math.Ceil(all/d.busy - slack))
}

// handlers returns the largest number that the work of one shift needs.
func (d *bounder) handlers() int {
	most := 1
	seen := map[plant.ShiftCode]bool{}
	for _, s := range d.sites {
		for _, shift := range s.shifts {
			if !seen[shift.Shift] {
				seen[shift.Shift] = true
				most = max(most, d.workers(takes.byWay, &shift), d.workers(takes.byTrip, &shift), d.workers(takes.byDue, &shift))
			}
		}
	}
	return most
}
