package routing_test

import (
	"context"
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/units"
)

// brute finds the best routes of a tiny plant by trying everything: all ways
// to part the racks, the best order of each part, all ways to share handlers. Racks are not
// split. It uses the checker's ways and formulas of its own.
type brute struct {
	*checker
	racks []plant.RackCode
	// best are the least metres of a round over a set of racks (a bit each) and
	// its minutes; +Inf where it fits no round.
	best map[plant.VehicleCode][]trip
}

type trip struct{ metres, minutes float64 }

// result is compared in this order.
type result struct {
	beyond, handlers, routes int
	metres                   float64
}

func (a result) less(b result) bool {
	switch {
	case a.beyond != b.beyond:
		return a.beyond < b.beyond
	case a.handlers != b.handlers:
		return a.handlers < b.handlers
	case a.routes != b.routes:
		return a.routes < b.routes
	default:
		return a.metres < b.metres
	}
}

func newBrute(in routing.Input) *brute {
	b := &brute{checker: &checker{in: in, number: map[plant.PointCode]int{}, ways: map[plant.VehicleCode][][]way{}}, best: map[plant.VehicleCode][]trip{}}
	b.z = normal(in)
	for i, a := range in.Index.Plant.AislePoints {
		b.number[a.Point] = i
	}
	for _, r := range in.Racks {
		b.racks = append(b.racks, r.Rack)
	}
	for _, v := range in.Index.Plant.Vehicles {
		b.ways[v.Vehicle] = b.floyd(v)
		ways := b.shortest(b.ways[v.Vehicle])
		for set := range 1 << len(b.racks) {
			b.best[v.Vehicle] = append(b.best[v.Vehicle], b.round(v, set, ways[set]))
		}
	}
	return b
}

// interval is the shortest of the racks in set.
func (b *brute) interval(set int) float64 {
	shortest := math.Inf(1)
	for _, d := range b.in.Demands {
		if set&b.bit(d.Rack) != 0 {
			shortest = math.Min(shortest, d.Interval.Minutes())
		}
	}
	return shortest
}

func (b *brute) bit(rack plant.RackCode) int {
	for i, r := range b.racks {
		if r == rack {
			return 1 << i
		}
	}
	return 0
}

// round reckons the best round over a set of racks, whose best way is known.
func (b *brute) round(v plant.Vehicle, set int, way way) trip {
	never := trip{math.Inf(1), math.Inf(1)}
	interval := b.interval(set)
	var mean, variance, mass, massVariance, empties, stops float64
	for _, d := range b.in.Demands {
		if set&b.bit(d.Rack) == 0 {
			continue
		}
		e := d.Rate * interval
		x := (e-math.Floor(e))*(1-(e-math.Floor(e))) + d.Variance*interval
		g := d.Gross.KG()
		mean, variance, mass, massVariance = mean+e, variance+x, mass+e*g, massVariance+x*g*g
		if d.Returnable {
			empties += e
		}
	}
	stops = float64(bits.OnesCount(uint(set)))
	planned := mean + b.z*math.Sqrt(variance)
	load, busy := b.in.Plant.LoadLimit.Float64(), b.in.Plant.BusyLimit.Float64()
	if planned > load*float64(v.Containers) || v.MassLimit > 0 && mass+b.z*math.Sqrt(massVariance) > load*v.MassLimit.KG() {
		return never
	}
	minutes := (way.seconds + stops*v.StopTime.Seconds() + planned*(v.LoadTime+v.UnloadTime).Seconds() + empties*v.EmptyTime.Seconds()) / 60
	if minutes > interval*busy {
		return never
	}
	return trip{way.metres, minutes}
}

func (b *brute) market() plant.PointCode {
	for _, a := range b.in.Index.Plant.AislePoints {
		if a.Kind == plant.Market {
			return a.Point
		}
	}
	return ""
}

// shortest finds the best way over each set of racks from the market and back (Held,
// Karp, A dynamic programming approach to sequencing problems, Journal of the Society
// for Industrial and Applied Mathematics 10, 1962, 196-210).
func (b *brute) shortest(ways [][]way) []way {
	never := way{math.Inf(1), math.Inf(1)}
	n, home := len(b.racks), b.number[b.market()]
	at := func(i int) int { return b.number[b.in.Racks[i].Point] }
	ends := make([][]way, 1<<n) // by set and last rack
	closed := make([]way, 1<<n)
	for set := range ends {
		closed[set] = never
		ends[set] = make([]way, n)
		for last := range n {
			ends[set][last] = never
			before := set &^ (1 << last)
			switch {
			case set == before || b.tooLate(last, before):
				continue
			case before == 0:
				ends[set][last] = ways[home][at(last)]
			}
			for i := range n {
				if before&(1<<i) != 0 {
					ends[set][last] = nearer(ends[set][last], ends[before][i], ways[at(i)][at(last)])
				}
			}
			closed[set] = nearer(closed[set], ends[set][last], ways[at(last)][home])
		}
	}
	closed[0] = way{}
	return closed
}

// tooLate reports whether a rule wants a rack before one of those in a set.
func (b *brute) tooLate(rack, set int) bool {
	for _, r := range b.in.Index.Plant.RouteRules {
		if r.Kind == plant.RuleBefore && b.bit(r.Rack) == 1<<rack && b.bit(r.Other)&set != 0 {
			return true
		}
	}
	return false
}

// mayJoin reports whether the rules let each set of racks share a route.
func (b *brute) mayJoin(sets []int) bool {
	names := map[plant.TourCode]int{}
	for i, set := range sets {
		pinned := plant.TourCode("")
		for _, r := range b.in.Index.Plant.RouteRules {
			switch {
			case set&b.bit(r.Rack) == 0:
			case r.Kind == plant.RuleApart && set&b.bit(r.Other) != 0:
				return false
			case r.Kind == plant.RulePin && (pinned != "" && pinned != r.Route || names[r.Route] > 0 && names[r.Route] != i+1):
				return false
			case r.Kind == plant.RulePin:
				pinned, names[r.Route] = r.Route, i+1
			}
		}
	}
	return true
}

// nearer returns the shorter of a way and another one in two legs.
func nearer(a, b, c way) way {
	if both := (way{b.seconds + c.seconds, b.metres + c.metres}); both.metres < a.metres {
		return both
	}
	return a
}

// each calls f with every way to part the racks.
func (b *brute) each(f func(sets []int)) {
	var sets []int
	var try func(rack int)
	try = func(rack int) {
		if rack == len(b.racks) {
			f(sets)
			return
		}
		for i := range sets {
			sets[i] |= 1 << rack
			try(rack + 1)
			sets[i] &^= 1 << rack
		}
		sets = append(sets, 1<<rack)
		try(rack + 1)
		sets = sets[:len(sets)-1]
	}
	try(0)
}

// handlers tries all ways to give rounds to handlers. They leave at whole minutes, by
// which six rounds lose at most five of the nine minutes an hour that nobody is busy.
func (b *brute) handlers(minutes, intervals []float64) int {
	busy := b.in.Plant.BusyLimit.Float64()
	best := len(minutes)
	var used []float64
	var try func(i int)
	try = func(i int) {
		if i == len(minutes) {
			best = min(best, len(used))
			return
		}
		u := minutes[i] / intervals[i]
		for h := range used {
			if used[h]+u <= busy+1e-9 {
				used[h] += u
				try(i + 1)
				used[h] -= u
			}
		}
		used = append(used, u)
		try(i + 1)
		used = used[:len(used)-1]
	}
	try(0)
	return best
}

// optimum is the best with one vehicle type for all routes.
func (b *brute) optimum() result {
	best := result{beyond: math.MaxInt}
	for _, v := range b.in.Index.Plant.Vehicles {
		b.each(func(sets []int) {
			var minutes, intervals []float64
			r := result{routes: len(sets)}
			for _, set := range sets {
				t := b.best[v.Vehicle][set]
				r.metres += t.metres
				minutes, intervals = append(minutes, t.minutes), append(intervals, b.interval(set))
			}
			if math.IsInf(r.metres, 1) || !b.mayJoin(sets) {
				return
			}
			r.handlers = b.handlers(minutes, intervals)
			r.beyond = max(0, r.handlers-v.Count)
			if r.less(best) {
				best = r
			}
		})
	}
	return best
}

// least finds, each for itself, the fewest routes, the fewest handlers and the
// fewest metres of any routes, mixing intervals and vehicle types.
func (b *brute) least() (routes, handlers int, metres float64) {
	routes, handlers, metres = math.MaxInt, math.MaxInt, math.Inf(1)
	b.each(func(sets []int) {
		var sum float64
		var minutes, intervals []float64
		for _, set := range sets {
			best := trip{math.Inf(1), math.Inf(1)}
			for _, trips := range b.best {
				best.metres, best.minutes = math.Min(best.metres, trips[set].metres), math.Min(best.minutes, trips[set].minutes)
			}
			sum += best.metres
			minutes, intervals = append(minutes, best.minutes), append(intervals, b.interval(set))
		}
		if math.IsInf(sum, 1) {
			return
		}
		routes, metres = min(routes, len(sets)), math.Min(metres, sum)
		handlers = min(handlers, b.handlers(minutes, intervals))
	})
	return routes, handlers, metres
}

// tiny makes a plant of up to 6 racks without speed limits, so that the
// shortest way is the quickest, whose loads make rounds small and large.
func tiny(seed uint64, intervals ...time.Duration) routing.Input {
	return tinyOf(seed, 0, intervals...)
}

// tinyOf makes one of so many racks, or of 1 to 6 for 0.
func tinyOf(seed uint64, racks int, intervals ...time.Duration) routing.Input {
	r := rand.New(rand.NewPCG(seed, 42))
	if few := 1 + r.IntN(6); racks == 0 {
		racks = few
	}
	in := random(r, size{columns: 4, rows: 3, racks: racks, loops: 3, vehicles: 1 + r.IntN(3), intervals: intervals, used: 0.5 + 2.5*r.Float64()})
	p := in.Index.Plant
	for i := range p.Aisles {
		p.Aisles[i].SpeedLimit = 0
	}
	if r.IntN(3) == 0 { // far apart: time decides
		for i := range p.Vehicles {
			p.Vehicles[i].Speed /= 6
		}
	}
	rack := map[plant.RackCode]time.Duration{} // one interval a rack: racks are served at the shortest
	for i, d := range in.Demands {
		if rack[d.Rack] == 0 {
			rack[d.Rack] = d.Interval
		}
		in.Demands[i].Interval = rack[d.Rack]
	}
	in = input(p, in.Racks, in.Demands)
	in.Plant.IntervalChoices = nil
	return in
}

// whole reports whether every rack was served, on one route.
func whole(p routing.Plan, racks int) bool {
	stops := 0
	for _, r := range p.Routes {
		stops += len(r.Stops)
	}
	return len(p.Unserved) == 0 && stops == racks
}

// TestAgainstAllRoutes wants the best there is on tiny plants.
func TestAgainstAllRoutes(t *testing.T) {
	t.Parallel()
	judged := 0
	for seed := range uint64(300) {
		in := tiny(seed, time.Hour)
		p := routing.Routes(context.Background(), in, routing.DefaultSettings(), 1, 1, nil)
		require.Empty(t, check(in, p), "seed %d", seed)
		if !whole(p, len(in.Racks)) {
			continue
		}
		judged++
		got := result{handlers: p.Bounds.Handlers, routes: p.Bounds.Routes, metres: p.Bounds.Travel.Metres()}
		got.beyond = max(0, got.handlers-in.Index.Vehicles[p.Routes[0].Vehicle].Count)
		want := newBrute(in).optimum()
		want.metres = math.Round(want.metres*1e6) / 1e6
		assert.Equal(t, want, got, "seed %d", seed)
	}
	assert.Greater(t, judged, 200)
}

// TestRulesAgainstAllRoutes wants the best routes that keep rules.
func TestRulesAgainstAllRoutes(t *testing.T) {
	t.Parallel()
	judged := 0
	for seed := range uint64(300) {
		in := tinyOf(seed, 6, time.Hour)
		r := rand.New(rand.NewPCG(seed, 77))
		name := func(i int) plant.RackCode { return in.Racks[i].Rack }
		order := r.Perm(6)
		in = withToday(in, nil,
			plant.RouteRule{Kind: plant.RuleApart, Rack: name(order[0]), Other: name(order[1])},
			plant.RouteRule{Kind: plant.RuleBefore, Rack: name(order[2]), Other: name(order[3])},
			plant.RouteRule{Kind: plant.RulePin, Rack: name(order[4]), Route: "N"},
			plant.RouteRule{Kind: plant.RulePin, Rack: name(order[5]), Route: []plant.TourCode{"N", "S"}[r.IntN(2)]})
		in.Plant.IntervalChoices = nil
		p := plan(t, in, routing.DefaultSettings())
		want := newBrute(in).optimum()
		if !whole(p, len(in.Racks)) || math.IsInf(want.metres, 1) || want.beyond == math.MaxInt {
			continue
		}
		judged++
		got := goals(in, p)
		want.metres = math.Round(want.metres*1e6) / 1e6
		assert.Equal(t, want, got, "seed %d", seed)
	}
	assert.Greater(t, judged, 280)
}

// TestBoundsAgainstAllRoutes: nothing beats a bound, whatever mix of intervals
// and vehicles; and the bounds are worth something.
func TestBoundsAgainstAllRoutes(t *testing.T) {
	t.Parallel()
	judged, tight := 0, 0
	for seed := range uint64(300) {
		in := tiny(seed, 30*time.Minute, time.Hour, time.Hour)
		p := routing.Routes(context.Background(), in, routing.Settings{Steps: 1}, 1, 1, nil)
		if !whole(p, len(in.Racks)) {
			continue
		}
		judged++
		routes, handlers, metres := newBrute(in).least()
		b := p.Bounds
		assert.LessOrEqual(t, b.RoutesBound, routes, "seed %d", seed)
		assert.LessOrEqual(t, b.HandlersBound, handlers, "seed %d", seed)
		assert.LessOrEqual(t, b.TravelBound.Metres(), metres+1e-6, "seed %d", seed)
		if b.RoutesBound == routes && b.TravelBound.Metres() > 0.7*metres {
			tight++
		}
	}
	assert.Greater(t, judged, 200)
	assert.Greater(t, tight, judged/3, "of %d", judged)
}

// TestMoreCapacityIsNeverWorse: with vehicles that carry more, no more handlers
// are needed, with as many no more routes, with as many of both no more metres.
func TestMoreCapacityIsNeverWorse(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		in := tiny(seed, time.Hour)
		last := result{handlers: math.MaxInt}
		for containers := 10; containers <= 40; containers += 5 {
			p := *in.Index.Plant
			p.Vehicles = []plant.Vehicle{p.Vehicles[0]}
			p.Vehicles[0].Containers, p.Vehicles[0].MassLimit = containers, units.Mass(containers*20)*units.Kilogram
			more := input(&p, in.Racks, in.Demands)
			more.Plant.IntervalChoices = nil
			plan := routing.Routes(context.Background(), more, routing.DefaultSettings(), 1, 1, nil)
			if !whole(plan, len(in.Racks)) {
				continue
			}
			r := result{handlers: plan.Bounds.Handlers, routes: plan.Bounds.Routes, metres: plan.Bounds.Travel.Metres()}
			assert.False(t, last.less(r), fmt.Sprintf("seed %d, %d containers: %+v after %+v", seed, containers, r, last))
			last = r
		}
	}
}
