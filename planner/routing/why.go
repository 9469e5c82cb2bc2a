package routing

import (
	"cmp"
	"fmt"
	"slices"
	"sync"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Why says why a rack is on the route that it is on.
type Why struct {
	Rack plant.RackCode
	// Route is the route that serves it, Stop its number there, from 1.
	Route string
	Stop  int
	// Saved is what the route would be shorter without it: metres and time of a round.
	Saved     units.Length
	SavedTime time.Duration
	// Others are the other routes: those that could take the rack, the one that costs
	// least first, then those that can not, the one that is nearest to it first.
	Others []OtherRoute
}

// OtherRoute is a route that could serve a rack, or what forbids it.
type OtherRoute struct {
	Route string
	// Stop is where the rack would stand on it at least cost.
	Stop int
	// More and MoreTime are what all routes together would drive and work more in one
	// round of each, the saving on today's route taken off; below 0 is less.
	More     units.Length
	MoreTime time.Duration
	// Forbidden says in words why the route can not take it; empty where it can. Over
	// is the limit that it would pass, if that is the reason.
	Forbidden string
	Over      *Excess
}

// Reasons tells why the routes of a plan are as they are. It is reckoned with the routes
// as they are: no other stop moves. Any goroutine may ask.
type Reasons struct {
	mu   sync.Mutex // the rota remembers
	laid *laid
}

// NewReasons computes the tours of a plan made from in. Routes whose vehicle type or
// whose racks in does not have are no part of it.
func NewReasons(in Input, p Plan, threads int) *Reasons {
	return &Reasons{laid: lay(in, p, threads)}
}

// laid is a plan's routes as tours again.
type laid struct {
	*work
	routes   []Route
	tours    []tour
	unserved []Unserved
	rota     *rota
	rules    Rules
}

func lay(in Input, p Plan, threads int) *laid {
	l := &laid{
		work: &work{in: in, threads: max(1, threads)}, unserved: p.Unserved,
		rota: newRota(in.Plant.BusyLimit.Float64()), rules: NewRules(in.Index.Plant),
	}
	list := sites(in)
	var points []plant.PointCode
	for _, s := range list {
		if in.Network.Has(s.point) {
			points = append(points, s.point)
		}
	}
	l.fleet = fleet(in, points, l.threads)
	for _, r := range p.Routes {
		if t, ok := l.tour(r, list); ok {
			l.routes, l.tours = append(l.routes, r), append(l.tours, t)
		}
	}
	return l
}

// tour computes a route from its stops.
func (l *laid) tour(r Route, list []site) (t tour, ok bool) {
	g := &group{interval: r.Interval}
	v := slices.IndexFunc(l.fleet, func(v *vehicle) bool { return v.code() == r.Vehicle })
	if v < 0 {
		return t, false
	}
	var stops []stop
	for _, s := range r.Stops {
		at, found := slices.BinarySearchFunc(list, s.Rack, func(x site, code plant.RackCode) int { return cmp.Compare(x.rack, code) })
		if !found {
			return t, false
		}
		g.shifts, g.name = list[at].shifts, shiftNames(list[at].shifts)
		demands := slices.DeleteFunc(slices.Clone(list[at].demands), func(d Demand) bool { return !slices.Contains(s.Loops, d.Loop) })
		stops = append(stops, newStop(list[at], demands, r.Interval))
	}
	return newTour(l.fleet[v], g, stops), true
}

// Rack says, for each stop at a rack, why it is on its route.
func (r *Reasons) Rack(rack plant.RackCode) []Why {
	r.mu.Lock()
	defer r.mu.Unlock()
	l := r.laid
	var list []Why
	for i, t := range l.tours {
		for k, s := range t.stops {
			if s.rack == rack {
				list = append(list, l.why(i, k))
			}
		}
	}
	return list
}

func (l *laid) why(route, at int) Why {
	t := l.tours[route]
	s := t.stops[at]
	without := newTour(t.vehicle, t.group, slices.Delete(slices.Clone(t.stops), at, at+1))
	if len(without.stops) == 0 {
		without.round, without.drive.Length = 0, 0
	}
	w := Why{Rack: s.rack, Route: l.routes[route].Route, Stop: at + 1, Saved: t.drive.Length - without.drive.Length, SavedTime: t.round - without.round}
	for i := range l.tours {
		if i != route {
			w.Others = append(w.Others, l.other(w, t, s, i))
		}
	}
	slices.SortStableFunc(w.Others, func(a, b OtherRoute) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(a.over(), b.over()), cmp.Compare(a.More, b.More), cmp.Compare(a.MoreTime, b.MoreTime))
	})
	return w
}

// rank puts routes that can first, then those that pass a limit, then the others.
func (o OtherRoute) rank() int {
	switch {
	case o.Forbidden == "":
		return 0
	case o.Over != nil:
		return 1
	default:
		return 2
	}
}

func (o OtherRoute) over() float64 {
	if o.Over == nil || o.Over.Limit <= 0 {
		return 0
	}
	return o.Over.Value / o.Over.Limit
}

// other tries a stop in each place of another route and keeps the best: one that fits
// before one that does not, then the shortest.
func (l *laid) other(w Why, from tour, s stop, i int) OtherRoute {
	t, r := l.tours[i], l.routes[i]
	o := OtherRoute{Route: r.Route}
	if o.Forbidden = l.apart(from, s, t); o.Forbidden != "" {
		return o
	}
	s = newStop(site{rack: s.rack, point: s.point}, s.demands, t.group.interval)
	var best tour
	for at := 0; at <= len(t.stops); at++ {
		with := newTour(t.vehicle, t.group, slices.Insert(slices.Clone(t.stops), at, s))
		if best.vehicle == nil || with.drive.Length < best.drive.Length || with.drive.Length == best.drive.Length && with.round < best.round {
			best, o.Stop = with, at+1
		}
	}
	o.More, o.MoreTime = best.drive.Length-t.drive.Length-w.Saved, best.round-t.round-w.SavedTime
	o.Forbidden, o.Over = l.forbids(best, r)
	return o
}

// apart says what forbids a stop on a route whatever its place.
func (l *laid) apart(from tour, s stop, t tour) string {
	switch {
	case t.group.interval > from.group.interval:
		return fmt.Sprintf("it is driven only every %s, and the rack is served every %s", minutes(t.group.interval), minutes(from.group.interval))
	case t.group.name != from.group.name:
		return "it works other shifts than the rack's cell"
	}
	if _, ok := t.vehicle.roundTrip(s.point); !ok {
		return fmt.Sprintf("its vehicle type %s does not get from its market to point %s and back", t.vehicle.code(), s.point)
	}
	for _, p := range l.rules.Apart {
		for _, other := range t.stops {
			if p.First == s.rack && p.Second == other.rack || p.Second == s.rack && p.First == other.rack {
				return fmt.Sprintf("a rule keeps it apart from rack %s", other.rack)
			}
		}
	}
	for _, other := range t.stops {
		if a, b := l.rules.Pins[s.rack], l.rules.Pins[other.rack]; a != "" && b != "" && a != b {
			return fmt.Sprintf("a rule pins it to route %s and rack %s to route %s", a, other.rack, b)
		}
	}
	return ""
}

// forbids says which limit a longer round passes: what the vehicle may carry, the busy
// limit, or the time of a handler who drives other routes too.
func (l *laid) forbids(t tour, r Route) (string, *Excess) {
	if over := t.over(); len(over) > 0 {
		worst := over[0]
		return fmt.Sprintf("a round would need %.4g %s, and %.4g may be planned", worst.Value, worst.Unit, worst.Limit), &worst
	}
	tours := []tour{t}
	for i, other := range l.routes {
		if other.Handler == r.Handler && other.Route != r.Route {
			tours = append(tours, l.tours[i])
		}
	}
	if _, ok := l.rota.turns(hardestFirst(tours)); len(tours) > 1 && !ok {
		need, limit := busiest(tours, l.rota.busy)
		return fmt.Sprintf("its handler %s could no longer drive all of his rounds: %s of %s", r.Handler, minutes(need), minutes(limit)),
			&Excess{"min", need.Minutes(), limit.Minutes()}
	}
	return "", nil
}

// busiest is the time of all rounds of a handler and what the shortest interval leaves
// for them.
func busiest(tours []tour, busy float64) (need, limit time.Duration) {
	shortest := tours[0].group.interval
	for _, t := range tours {
		need += t.round
		shortest = min(shortest, t.group.interval)
	}
	return need, time.Duration(busy * float64(shortest))
}
