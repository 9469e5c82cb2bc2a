package simulation

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// script is a plan made ready to be played: everything that is the same in each
// replication.
type script struct {
	in       Input
	settings Settings
	seed     uint64
	start    time.Time
	zone     *time.Location
	// from and to are the moments between which is counted.
	from, to int64
	duties   map[plant.ShiftCode][]*duty
	loops    []loopPlan
	// place is where each loop stands in its team.
	place  []int
	routes []routePlan
	racks  []rackPlan
	rackAt map[plant.RackCode]int
	teams  []team
	stops  int
	// mixes are what the cells build, where products are played.
	mixes map[plant.CellCode]*demand.Mix
}

// routePlan is a route made ready.
type routePlan struct {
	*routing.Route
	index   int
	vehicle *plant.Vehicle
	// containers and mass are what the vehicle holds; mass is negative where it has
	// no limit.
	containers int
	mass       float64
	// fixed is the time of a round that does not depend on its load.
	fixed time.Duration
	stops []stopPlan
}

// stopPlan is a stop and the loops that it serves.
type stopPlan struct {
	index  int
	arrive time.Duration
	rack   int
	loops  []loopHome
}

// loopHome is a home of a loop, by their places in the script and the loop.
type loopHome struct{ loop, home int }

// newScript makes a plan ready; loops without a lane or a round are left out.
func newScript(in Input, s Settings, seed uint64) (*script, error) {
	sc := &script{in: in, settings: s, seed: seed}
	if err := sc.clock(); err != nil {
		return nil, err
	}
	sc.layRacks()
	sc.layLoops()
	sc.layRoutes()
	sc.layTeams()
	sc.layMixes()
	return sc, nil
}

// clock settles when the play starts and ends, and lists the workings of all
// shifts.
func (sc *script) clock() error {
	s := sc.settings
	sc.zone = time.UTC
	sc.start = time.Date(2001, time.January, 1, 0, 0, 0, 0, time.UTC) // a Monday
	if !s.From.IsZero() {
		zone, err := time.LoadLocation(sc.in.Plant.TimeZone)
		if err != nil {
			return fmt.Errorf("time zone of the plant: %w", err)
		}
		sc.zone = zone
		sc.start = time.Date(s.From.Year(), s.From.Month(), s.From.Day(), 0, 0, 0, 0, zone)
	}
	day := func(n int) int64 {
		return int64(time.Date(sc.start.Year(), sc.start.Month(), sc.start.Day()+n, 0, 0, 0, 0, sc.zone).Sub(sc.start))
	}
	sc.from, sc.to = day(7*s.WarmUp), day(sc.days())
	sc.duties = dutiesOf(sc.allShifts(), sc.start, sc.zone, sc.days())
	return nil
}

// days is how many days are played.
func (sc *script) days() int { return 7 * (sc.settings.WarmUp + sc.settings.Weeks) }

// shiftsOf returns the shifts of a cell; a plant that names none works one.
func (sc *script) shiftsOf(cell plant.CellCode) []plant.Shift {
	if s := sc.in.Index.CellShifts(cell); len(s) > 0 {
		return s
	}
	return sc.allShifts()
}

func (sc *script) allShifts() []plant.Shift {
	if s := sc.in.Index.AllShifts(); len(s) > 0 {
		return s
	}
	return []plant.Shift{plant.DefaultShift()}
}

// calendarOf returns the calendar of a cell; cells with the same shifts share it.
func (sc *script) calendarOf(cell plant.CellCode, known map[string]*calendar) *calendar {
	var names []string
	var duties []*duty
	for _, s := range sc.shiftsOf(cell) {
		names = append(names, string(s.Shift))
		duties = append(duties, sc.duties[s.Shift]...)
	}
	key := strings.Join(names, "\n")
	if known[key] == nil {
		known[key] = newCalendar(duties)
	}
	return known[key]
}

// layLoops makes a plan of every loop; its homes are the racks on which it has
// lanes, in the order of the lanes.
func (sc *script) layLoops() {
	at := make(map[demand.Key]int, len(sc.in.Loops))
	calendars := map[string]*calendar{}
	sc.loops = make([]loopPlan, len(sc.in.Loops))
	for i := range sc.in.Loops {
		l := &sc.in.Loops[i]
		at[l.Key] = i
		sc.loops[i] = loopPlan{
			Loop: l, index: i, pack: float64(l.Pack), interval: int64(l.Interval), response: int64(l.Response),
			calendar: sc.calendarOf(l.Cell, calendars), gross: l.Gross.KG(), ideal: len(sc.in.Routes) == 0,
		}
	}
	for _, lane := range sc.in.Lanes {
		if i, ok := at[lane.Loop]; ok && !lane.Empty() {
			l := &sc.loops[i]
			l.lay(sc.rack(lane.Rack), lane)
			if box := sc.in.Index.Containers[l.Container]; box != nil && box.Returnable && !l.returnable {
				l.returnable, l.empty = true, newEmpty(box, lane.Side)
			}
		}
	}
}

// lay adds a lane of a rack to a loop.
func (l *loopPlan) lay(rack int, lane placement.Lane) {
	i := slices.IndexFunc(l.homes, func(h homePlan) bool { return h.rack == rack })
	if i < 0 {
		i = len(l.homes)
		l.homes = append(l.homes, homePlan{rack: rack})
	}
	l.homes[i].containers += lane.Containers
	l.containers += lane.Containers
	l.room += lane.Capacity
}

// playable reports whether a loop has containers and every one of them a round.
func (l *loopPlan) playable() bool {
	served := !slices.ContainsFunc(l.homes, func(h homePlan) bool { return h.route == nil })
	return l.containers > 0 && (l.ideal || served)
}

// layRoutes makes every route ready and tells the loops which stop serves them.
func (sc *script) layRoutes() {
	at := make(map[demand.Key]int, len(sc.loops))
	for i := range sc.loops {
		at[sc.loops[i].Key] = i
	}
	sc.routes = make([]routePlan, len(sc.in.Routes))
	for i := range sc.in.Routes {
		r := &sc.routes[i]
		*r = routePlan{Route: &sc.in.Routes[i], index: i, vehicle: sc.in.Index.Vehicles[sc.in.Routes[i].Vehicle]}
		r.load()
		for _, stop := range r.Stops {
			plan := stopPlan{index: sc.stops, arrive: stop.Arrive, rack: sc.rack(stop.Rack)}
			sc.stops++
			for _, key := range stop.Loops {
				if l, ok := at[key]; ok {
					plan.add(&sc.loops[l], r, len(r.stops))
				}
			}
			r.stops = append(r.stops, plan)
		}
	}
}

// load works out what the vehicle holds and how long a round takes with nothing
// to load: the planned time less what its planned load takes.
func (r *routePlan) load() {
	r.mass = -1
	if r.vehicle == nil {
		r.vehicle = &plant.Vehicle{}
	}
	r.containers = r.vehicle.Containers
	if r.vehicle.MassLimit > 0 {
		r.mass = r.vehicle.MassLimit.KG()
	}
	empties := 0.0
	for _, s := range r.Stops {
		empties += s.Empties
	}
	r.fixed = max(0, r.Round-r.handling(r.LoadPlanned, empties))
}

// loading is the time for loading so many containers, before a round leaves.
func (r *routePlan) loading(containers float64) time.Duration {
	return time.Duration(max(containers, 0) * float64(r.vehicle.LoadTime))
}

// handling is the time for loading and unloading so many containers and taking
// back so many empties.
func (r *routePlan) handling(containers, empties float64) time.Duration {
	v := r.vehicle
	return time.Duration(containers*float64(v.LoadTime+v.UnloadTime) + empties*float64(v.EmptyTime))
}

func (s *stopPlan) add(l *loopPlan, r *routePlan, stop int) {
	for i := range l.homes {
		h := &l.homes[i]
		if h.rack == s.rack && h.route == nil {
			h.route, h.stop, h.exchange = r, stop, l.Response == r.Interval
			s.loops = append(s.loops, loopHome{l.index, i})
		}
	}
}

// departures returns when a route leaves in one working of a shift: by its
// timetable, and in a night that the clocks make longer or shorter every interval
// for as long as a round can end in it.
func (r *routePlan) departures(times routing.ShiftTimes, shift *plant.Shift, d *duty) []int64 {
	var list []int64
	add := func(net time.Duration) {
		if at, ok := d.at(net); ok {
			list = append(list, at)
		}
	}
	if len(times.Departures) == 0 {
		return nil
	}
	if d.net == shift.Net() {
		for _, t := range times.Departures {
			add(shift.Passed(t))
		}
		return list
	}
	for net := shift.Passed(times.Departures[0]); net+r.Round <= d.net && r.Interval > 0; net += r.Interval {
		add(net)
	}
	return list
}

// team is what has to be played together: handlers, their routes and the loops
// that these serve.
type team struct {
	name   string
	routes []int
	loops  []int
	chains []chain
}

// chain is the rounds of one handler in one working of a shift, in order.
type chain struct {
	duty   *duty
	rounds []departure
}

// departure is a round by the timetable.
type departure struct {
	at    int64
	route *routePlan
}

// layTeams joins routes that have a handler or a loop in common. A loop that no
// route serves, in a plan without any, is a team of its own.
func (sc *script) layTeams() {
	join := newUnion(len(sc.routes))
	handlers := map[string]int{}
	for i := range sc.routes {
		if first, ok := handlers[sc.routes[i].Handler]; ok {
			join.union(first, i)
		} else {
			handlers[sc.routes[i].Handler] = i
		}
	}
	for i := range sc.loops {
		l := &sc.loops[i]
		for h := 1; h < len(l.homes) && l.playable() && !l.ideal; h++ {
			join.union(l.homes[0].route.index, l.homes[h].route.index)
		}
	}
	sc.gather(join)
	sc.place = make([]int, len(sc.loops))
	for i := range sc.teams {
		sc.teams[i].chains = sc.chains(sc.teams[i].routes)
		for at, l := range sc.teams[i].loops {
			sc.place[l] = at
		}
	}
}

func (sc *script) gather(join union) {
	at := map[int]int{}
	for i := range sc.routes {
		root := join.find(i)
		if _, ok := at[root]; !ok {
			at[root] = len(sc.teams)
			sc.teams = append(sc.teams, team{name: "handler " + sc.routes[i].Handler})
		}
		t := &sc.teams[at[root]]
		t.routes = append(t.routes, i)
	}
	for i := range sc.loops {
		switch l := &sc.loops[i]; {
		case !l.playable():
		case l.ideal:
			sc.teams = append(sc.teams, team{name: fmt.Sprintf("loop %s/%s/%s", l.Cell, l.Station, l.Part), loops: []int{i}})
		default:
			t := &sc.teams[at[join.find(l.homes[0].route.index)]]
			t.loops = append(t.loops, i)
		}
	}
}

// chains lists the rounds of some routes by handler and working of a shift.
func (sc *script) chains(routes []int) []chain {
	type post struct {
		handler string
		duty    *duty
	}
	at := map[post]int{}
	var list []chain
	for _, i := range routes {
		r := &sc.routes[i]
		for _, times := range r.Timetable {
			shift := sc.shift(times.Shift)
			for _, d := range sc.duties[times.Shift] {
				key := post{r.Handler, d}
				if _, ok := at[key]; !ok {
					at[key] = len(list)
					list = append(list, chain{duty: d})
				}
				for _, t := range r.departures(times, shift, d) {
					c := &list[at[key]]
					c.rounds = append(c.rounds, departure{t, r})
				}
			}
		}
	}
	list = slices.DeleteFunc(list, func(c chain) bool { return len(c.rounds) == 0 })
	for i := range list {
		slices.SortStableFunc(list[i].rounds, func(a, b departure) int { return cmp.Compare(a.at, b.at) })
	}
	return list
}

func (sc *script) shift(code plant.ShiftCode) *plant.Shift {
	if s := sc.in.Index.Shifts[code]; s != nil {
		return s
	}
	s := plant.DefaultShift()
	return &s
}

// union keeps which of some things belong together.
type union []int

func newUnion(n int) union {
	u := make(union, n)
	for i := range u {
		u[i] = i
	}
	return u
}

func (u union) find(i int) int {
	for u[i] != i {
		u[i] = u[u[i]]
		i = u[i]
	}
	return i
}

// union joins two; the lower of their roots stays.
func (u union) union(a, b int) {
	a, b = u.find(a), u.find(b)
	u[max(a, b)] = min(a, b)
}
