package routing

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Today is the routes that are driven today, judged by the rules that a plan keeps.
type Today struct {
	Routes []TodayRoute
	// Handlers is how many they need at least as first fit counts them, those that
	// fit and those that do not.
	Handlers int
	// Lacking are the racks with something to refill that no route of today serves.
	Lacking []plant.RackCode
}

// TodayRoute is one of them. Route.Route is its name of today; it has no handler and
// no timetable.
type TodayRoute struct {
	Route
	// Over lists the limits that a round passes, worst first; empty where it fits.
	Over []Excess
	// Unknown are racks on it with nothing to refill in this plan, Apart those that
	// its vehicle does not get to and back from. Neither is counted.
	Unknown, Apart []plant.RackCode
}

// Excess is by how much a round passes a limit.
type Excess struct {
	// Unit is "containers", "kg" or "min".
	Unit         string
	Value, Limit float64
}

// MetresPerHour is what the rounds of routes drive in an hour of work.
func MetresPerHour(routes []Route) float64 {
	sum := 0.0
	for _, r := range routes {
		sum += r.Travel.Metres() / r.Interval.Hours()
	}
	return sum
}

// JudgeToday drives today's routes with what the racks ask for in this plan. A route
// without a vehicle type gets the one whose limits its round passes by least, one
// without an interval the shortest of its racks.
func JudgeToday(in Input, threads int) Today {
	w := &work{in: in, threads: max(1, threads)}
	list := sites(in)
	var points []plant.PointCode
	for _, s := range list {
		if in.Network.Has(s.point) {
			points = append(points, s.point)
		}
	}
	w.fleet = fleet(in, points, w.threads)
	return w.today(list)
}

func (w *work) today(list []site) Today {
	var t Today
	if len(w.in.Index.Plant.CurrentRoutes) == 0 || len(w.fleet) == 0 {
		return t
	}
	bySite := map[plant.RackCode]site{}
	for _, s := range list {
		if s.used() {
			bySite[s.rack] = s
		}
	}
	tours := map[plant.VehicleCode][]tour{}
	served := map[plant.RackCode]bool{}
	for _, rows := range currentRoutes(w.in.Index.Plant) {
		r, made := w.judge(rows, bySite)
		t.Routes = append(t.Routes, r)
		for _, s := range r.Stops {
			served[s.Rack] = true
		}
		if len(r.Stops) > 0 {
			tours[r.Vehicle] = append(tours[r.Vehicle], made)
		}
	}
	for _, v := range w.fleet {
		t.Handlers += newRota(w.in.Plant.BusyLimit.Float64()).firstFit(tours[v.code()])
	}
	for _, s := range list {
		if s.used() && !served[s.rack] {
			t.Lacking = append(t.Lacking, s.rack)
		}
	}
	return t
}

// currentRoutes groups the rows of today's routes, by name, in their order.
func currentRoutes(p *plant.Plant) [][]plant.CurrentStop {
	rows := slices.Clone(p.CurrentRoutes)
	slices.SortStableFunc(rows, func(a, b plant.CurrentStop) int {
		return cmp.Or(cmp.Compare(a.Route, b.Route), cmp.Compare(a.Order, b.Order), cmp.Compare(a.Rack, b.Rack))
	})
	var list [][]plant.CurrentStop
	for i, s := range rows {
		if i == 0 || s.Route != rows[i-1].Route {
			list = append(list, nil)
		}
		list[len(list)-1] = append(list[len(list)-1], s)
	}
	return list
}

// judge drives one route of today.
func (w *work) judge(rows []plant.CurrentStop, bySite map[plant.RackCode]site) (TodayRoute, tour) {
	r := TodayRoute{Route: Route{Route: string(rows[0].Route)}}
	var list []site
	g := &group{}
	for _, row := range rows {
		s, ok := bySite[row.Rack]
		if !ok {
			r.Unknown = append(r.Unknown, row.Rack)
			continue
		}
		list = append(list, s)
		if g.interval == 0 || s.interval < g.interval {
			g.interval = s.interval
		}
		g.shifts, g.name = s.shifts, shiftNames(s.shifts)
	}
	if given := first(rows, func(s plant.CurrentStop) time.Duration { return s.Interval }); given > 0 {
		g.interval = given
	}
	if g.interval == 0 {
		return r, tour{}
	}
	named := first(rows, func(s plant.CurrentStop) plant.VehicleCode { return s.Vehicle })
	var best tour
	for _, v := range w.fleet {
		if named != "" && v.code() != named {
			continue
		}
		t, apart := drives(v, g, list)
		if best.vehicle == nil || len(apart) < len(r.Apart) || len(apart) == len(r.Apart) && t.worst().ratio() < best.worst().ratio() {
			best, r.Apart = t, apart
		}
	}
	if best.vehicle == nil || len(best.stops) == 0 {
		return r, tour{}
	}
	r.Route = best.route()
	r.Route.Route = string(rows[0].Route)
	r.Over = best.over()
	return r, best
}

// first returns the first value that a row of a route gives.
func first[T comparable](rows []plant.CurrentStop, value func(plant.CurrentStop) T) T {
	var none T
	for _, s := range rows {
		if v := value(s); v != none {
			return v
		}
	}
	return none
}

// drives makes a tour of v over sites in their order, and lists those that v does
// not get to.
func drives(v *vehicle, g *group, list []site) (t tour, apart []plant.RackCode) {
	var stops []stop
	for _, s := range list {
		if _, ok := v.roundTrip(s.point); !ok {
			apart = append(apart, s.rack)
			continue
		}
		stops = append(stops, newStop(s, s.demands, g.interval))
	}
	return newTour(v, g, stops), apart
}

// worst is the limit that t comes nearest to, or passes by most.
func (t *tour) worst() excess {
	e, _ := t.vehicle.limit(t.group.interval).worst(t.need, t.round)
	return e
}

// over lists the limits that t passes, the worst first.
func (t *tour) over() []Excess {
	l := t.vehicle.limit(t.group.interval)
	list := []excess{{t.need.planned(l.z), l.containers, "containers"}, {t.need.plannedMass(l.z), l.mass, "kg"}, {t.round.Minutes(), l.round.Minutes(), "min"}}
	list = slices.DeleteFunc(list, func(e excess) bool { return e.ratio() <= 1+tolerance })
	slices.SortStableFunc(list, func(a, b excess) int { return cmp.Compare(b.ratio(), a.ratio()) })
	var over []Excess
	for _, e := range list {
		over = append(over, Excess{e.unit, e.value, e.limit})
	}
	return over
}

// noteToday compares the plan with today's routes.
func (w *work) noteToday(served []site) {
	t := w.today(served)
	if len(t.Routes) == 0 {
		return
	}
	var routes []Route
	for _, r := range t.Routes {
		if len(r.Stops) > 0 {
			routes = append(routes, r.Route)
		}
		if len(r.Over) > 0 {
			w.plan.Findings = append(w.plan.Findings, w.todayDoesNotFit(r))
		}
	}
	if len(t.Lacking) > 0 {
		w.plan.Findings = append(w.plan.Findings, todayLacks(t.Lacking))
	}
	moved, stops := w.moves()
	if w.wishes.limited && moved > w.wishes.most {
		w.plan.Findings = append(w.plan.Findings, moreMoved(moved, w.wishes.most))
	}
	w.plan.Findings = append(w.plan.Findings, finding.Finding{
		Severity: finding.Note, Code: CodeTodayCompared,
		Summary: fmt.Sprintf("Today %s drive %.4g m an hour with %s; the plan has %s, %.4g m an hour and %s",
			count(len(routes), "route"), MetresPerHour(routes), count(t.Handlers, "handler"),
			count(len(w.plan.Routes), "route"), MetresPerHour(w.plan.Routes), count(w.plan.Bounds.Handlers, "handler")),
		Detail: fmt.Sprintf("Today's routes were driven with the plan's loads, intervals and times, whether they fit or not. Racks that they do not serve are left out of their metres. A route that keeps more than half of the stops of one of today's bears its name. Of the %s that today's routes serve the plan moves %d to another route.",
			count(stops, "stop"), moved),
		Remedy: "Nothing to do.",
	})
}

// moves counts the stops of the plan that another route serves today, and all that any
// route of today serves.
func (w *work) moves() (moved, stops int) {
	seen := map[plant.RackCode]bool{}
	for _, r := range w.plan.Routes {
		for _, s := range r.Stops {
			names := w.wishes.today[s.Rack]
			if len(names) == 0 || seen[s.Rack] {
				continue
			}
			seen[s.Rack] = true
			stops++
			if !slices.Contains(names, plant.TourCode(r.Route)) {
				moved++
			}
		}
	}
	return moved, stops
}

func moreMoved(moved, most int) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeMoreMoved,
		Summary: fmt.Sprintf("The plan moves %s to other routes than today's, and may move %d", count(moved, "stop"), most),
		Detail:  "Today's routes do not all fit, or they join racks of different intervals or shifts, so that more stops must leave them than route_move_limit allows.",
		Remedy:  "See the findings about today's routes, or allow more stops to move.",
		Measure: &finding.Measure{Value: float64(moved), Limit: float64(most), Unit: "stops"},
	}
}

func (w *work) todayDoesNotFit(r TodayRoute) finding.Finding {
	worst := r.Over[0]
	f := finding.Finding{
		Severity: finding.Warning, Code: CodeTodayDoesNotFit, Subject: finding.Subject{Route: r.Route.Route, Vehicle: string(r.Vehicle)},
		Summary: fmt.Sprintf("Today's route %s can not be kept: a round needs %.4g %s, vehicle type %s may plan %.4g every %s", r.Route.Route, worst.Value, worst.Unit, r.Vehicle, worst.Limit, minutes(r.Interval)),
		Detail:  "The round was reckoned as the plan's are: the racks' containers at the service level, within the load limit, and its time within the busy limit.",
		Remedy:  "Take a rack off the route, drive it more often, or use a larger vehicle. The plan's own routes do fit.",
		Measure: &finding.Measure{Value: worst.Value, Limit: worst.Limit, Unit: worst.Unit},
	}
	for _, s := range w.in.Index.Plant.CurrentRoutes {
		if string(s.Route) == r.Route.Route {
			f.Origin = s.Origin
			break
		}
	}
	return f
}

func todayLacks(racks []plant.RackCode) finding.Finding {
	var names []string
	for _, r := range racks {
		names = append(names, string(r))
	}
	return finding.Finding{
		Severity: finding.Note, Code: CodeTodayLacksRack, Subject: finding.Subject{Rack: names[0]},
		Summary: fmt.Sprintf("No route of today serves %s: %s", count(len(racks), "rack"), list(names)),
		Detail:  "Something is refilled on these racks in the plan, and the sheet Current routes does not name them, or its vehicle does not get there.",
		Remedy:  "Add them to the route that serves them today, if there is one.",
	}
}
