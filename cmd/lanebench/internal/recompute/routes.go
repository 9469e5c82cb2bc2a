package recompute

import (
	"fmt"
	"math"
)

// way is a leg between two aisle points.
type way struct{ seconds, metres float64 }

// ways computes quickest ways between all aisle points for one speed by
// Floyd and Warshall, ties by length.
func (f *facts) ways(speed float64) map[[2]string]way {
	w := map[[2]string]way{}
	var points []string
	for _, p := range f.sheets["Aisle points"] {
		points = append(points, p["Point"])
		w[[2]string{p["Point"], p["Point"]}] = way{}
	}
	offer := func(a, b string, x way) {
		old, ok := w[[2]string{a, b}]
		if !ok || x.seconds < old.seconds-1e-9 || x.seconds < old.seconds+1e-9 && x.metres < old.metres {
			w[[2]string{a, b}] = x
		}
	}
	for _, a := range f.sheets["Aisles"] {
		p, q := f.by["Aisle points"][a["From"]], f.by["Aisle points"][a["To"]]
		length := a.num("Length", math.Hypot(p.num("X", 0)-q.num("X", 0), p.num("Y", 0)-q.num("Y", 0)))
		v := math.Min(speed, a.num("Speed limit", math.Inf(1)))
		offer(a["From"], a["To"], way{length / v, length})
		if !a.yes("One way", false) {
			offer(a["To"], a["From"], way{length / v, length})
		}
	}
	for _, k := range points {
		for _, a := range points {
			ak, ok := w[[2]string{a, k}]
			if !ok {
				continue
			}
			for _, b := range points {
				if kb, ok := w[[2]string{k, b}]; ok {
					offer(a, b, way{ak.seconds + kb.seconds, ak.metres + kb.metres})
				}
			}
		}
	}
	return w
}

func (f *facts) market(vehicle string) string {
	if m := f.by["Vehicles"][vehicle]["From market"]; m != "" {
		return m
	}
	for _, p := range f.sheets["Aisle points"] {
		if p["Kind"] == "market" {
			return p["Point"]
		}
	}
	return ""
}

// onRack is how many containers of each loop lie on each rack.
func (j *judge) onRack() map[key]map[string]int {
	out := map[key]map[string]int{}
	for _, l := range j.plan.Lanes {
		if l.Part == "" {
			continue
		}
		if out[l.key()] == nil {
			out[l.key()] = map[string]int{}
		}
		out[l.key()][l.Rack] += l.Containers
	}
	return out
}

// load is what the rounds of a route carry.
type load struct{ mean, variance, mass, massVariance, empties float64 }

func (a *load) add(b load) {
	a.mean, a.variance, a.empties = a.mean+b.mean, a.variance+b.variance, a.empties+b.empties
	a.mass, a.massVariance = a.mass+b.mass, a.massVariance+b.massVariance
}

// ask is what one loop on one rack asks of a round every r minutes.
func (j *judge) ask(n *need, k key, share, r float64) load {
	part := j.facts.by["Parts"][k.part]
	q, gross := part.num("Standard pack", 1), j.gross(k.part)
	e := share * float(n.rate) * r / q
	_, frac := math.Modf(e + 1e-12)
	frac = math.Max(0, frac-1e-12)
	v := frac*(1-frac) + share*share*float(n.variance)*r/q/q
	l := load{mean: e, variance: v, mass: e * gross, massVariance: v * gross * gross}
	if j.facts.by["Containers"][part["Container"]].yes("Returnable", true) {
		l.empties = e
	}
	return l
}

func (j *judge) routes() {
	needs := j.facts.needs()
	on := j.onRack()
	seen := map[string]bool{}
	ways := map[string]map[[2]string]way{}
	for _, r := range j.plan.Routes {
		if ways[r.VehicleType] == nil {
			ways[r.VehicleType] = j.facts.ways(j.facts.by["Vehicles"][r.VehicleType].num("Speed", 1))
		}
		j.route(r, needs, on, seen, ways[r.VehicleType])
	}
	for _, u := range j.plan.Unserved {
		if !j.reasons[u.Reason] {
			j.say("unserved rack %s: reason %q stands in no finding", u.Rack, u.Reason)
		}
		for _, l := range u.Loops {
			seen[fmt.Sprint(key{l.Part, l.Cell, l.Station}, u.Rack)] = true
		}
	}
	for _, k := range sortedKeys(on) {
		for rack := range on[k] {
			if !seen[fmt.Sprint(k, rack)] {
				j.say("loop %v on rack %s is on no route and has no reason", k, rack)
			}
		}
	}
	b := j.plan.Bounds.Routes
	total := 0.0
	for _, r := range j.plan.Routes {
		total += r.TravelM
	}
	j.near(b.TravelM, total, "sum of travel")
	if b.Routes != len(j.plan.Routes) || b.RoutesBound > b.Routes || b.TravelBoundM > b.TravelM+1e-6 {
		j.say("bounds of routes %+v with %d routes", b, len(j.plan.Routes))
	}
}

func (j *judge) route(r planRoute, needs map[key]*need, on map[key]map[string]int, seen map[string]bool, ways map[[2]string]way) {
	v := j.facts.by["Vehicles"][r.VehicleType]
	at := j.facts.market(r.VehicleType)
	var total load
	shortest := math.Inf(1)
	clock, seconds, metres := 0.0, 0.0, 0.0
	for i, s := range r.Stops {
		rack := j.rackOf[s.Rack]
		if rack == nil || s.AislePoint != rack.AislePoint || s.Order != i+1 {
			j.say("route %s stop %d: rack %s is not served at %s", r.Route, i+1, s.Rack, s.AislePoint)
			continue
		}
		leg, ok := ways[[2]string{at, s.AislePoint}]
		if !ok {
			j.say("route %s: no way from %s to %s", r.Route, at, s.AislePoint)
		}
		seconds, metres, clock, at = seconds+leg.seconds, metres+leg.metres, clock+leg.seconds, s.AislePoint
		j.near(s.ArriveMin, clock/60, "route %s stop %d: arrival", r.Route, i+1)
		var here load
		for _, l := range s.Loops {
			k := key{l.Part, l.Cell, l.Station}
			name := fmt.Sprint(k, s.Rack)
			if seen[name] {
				j.say("loop %v on rack %s is on two routes", k, s.Rack)
			}
			seen[name] = true
			n := needs[k]
			placed := 0
			for _, c := range on[k] {
				placed += c
			}
			here.add(j.ask(n, k, float64(on[k][s.Rack])/float64(placed), r.IntervalMin))
			shortest = math.Min(shortest, float(n.interval))
		}
		j.near(s.Containers, here.mean, "route %s stop %d: containers", r.Route, i+1)
		j.near(s.Empties, here.empties, "route %s stop %d: empties", r.Route, i+1)
		total.add(here)
		clock += v.num("Stop time", 0) + here.mean*v.num("Unload time", 0) + here.empties*v.num("Empty time", 0)
	}
	if home, ok := ways[[2]string{at, j.facts.market(r.VehicleType)}]; ok {
		seconds, metres = seconds+home.seconds, metres+home.metres
	} else {
		j.say("route %s: no way home from %s", r.Route, at)
	}
	if r.IntervalMin > shortest+1e-9 {
		j.say("route %s runs every %v min, a loop on it needs %v", r.Route, r.IntervalMin, shortest)
	}
	j.near(r.TravelM, metres, "route %s: travel", r.Route)
	j.fits(r, v, total, seconds)
}

// fits recomputes a route's loads and round time and its three limits.
func (j *judge) fits(r planRoute, v row, total load, seconds float64) {
	f := j.facts
	z := quantile(f.share("Service level", "99.5"))
	planned := total.mean + z*math.Sqrt(total.variance)
	mass := total.mass + z*math.Sqrt(total.massVariance)
	seconds += float64(len(r.Stops))*v.num("Stop time", 0) + planned*(v.num("Load time", 0)+v.num("Unload time", 0)) + total.empties*v.num("Empty time", 0)
	j.near(r.LoadMean, total.mean, "route %s: mean load", r.Route)
	j.near(r.LoadPlanned, planned, "route %s: planned load", r.Route)
	j.near(r.MassPlanned, mass, "route %s: planned mass", r.Route)
	j.near(r.RoundMin, seconds/60, "route %s: round", r.Route)
	j.near(r.Busy, seconds/60/r.IntervalMin, "route %s: busy", r.Route)
	share := f.share("Load limit of a round", "90")
	if limit := v.num("Containers", 0) * share; planned > limit+1e-6 {
		j.say("route %s: %v containers planned, limit %v", r.Route, planned, limit)
	}
	if limit := v.num("Mass limit", math.Inf(1)) * share; mass > limit+1e-6 {
		j.say("route %s: %v kg planned, limit %v", r.Route, mass, limit)
	}
	if limit := r.IntervalMin * f.share("Busy limit of a handler", "85"); seconds/60 > limit+1e-6 {
		j.say("route %s: round of %v min, limit %v", r.Route, seconds/60, limit)
	}
}
