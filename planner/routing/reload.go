package routing

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
)

// Reloading makes routes of a plan carry other demands. Their stops and their way stay
// as they are; loads, times and departures follow.
type Reloading struct {
	Plant   plant.Settings
	Index   *plant.Index
	Network *floor.Network
	fleet   []*vehicle
	made    bool
}

// Reload returns a route with what it carries now, stop by stop in their order, in the
// place of what it carried before: load, mass and round by Check, arrivals by the mean
// loads of the stops before, and the departures whose rounds end within their shift.
// A stop at which nothing is left stays on the way. A route whose vehicle is not known
// is returned as it is.
func (l *Reloading) Reload(r Route, was, now [][]Demand) Route {
	c, ok := Check(l.Index, l.Plant, r, slices.Concat(was...), slices.Concat(now...))
	if !ok {
		return r
	}
	v := l.Index.Vehicles[r.Vehicle]
	r.LoadMean, r.LoadPlanned, r.MassPlanned, r.Round = c.After.Mean, c.After.Planned, c.After.Mass, c.After.Round
	r.Stops = slices.Clone(r.Stops)
	var before, after float64
	for i := range r.Stops {
		s := &r.Stops[i]
		s.Arrive += whole(after) - whole(before)
		before += s.handling(v)
		n := total(now[i], r.Interval)
		s.Loops, s.Containers, s.Empties = keys(now[i]), n.mean, n.empties
		after += s.handling(v)
	}
	l.depart(&r, v)
	return r
}

// handling is the time at a stop in nanoseconds, beside the stopping itself.
func (s Stop) handling(v *plant.Vehicle) float64 {
	return s.Containers*float64(v.UnloadTime) + s.Empties*float64(v.EmptyTime)
}

// depart writes the timetable anew from the route's first departure in a shift. One
// that never leaves has no first departure to go by, and stays so.
func (l *Reloading) depart(r *Route, v *plant.Vehicle) {
	var shifts []plant.Shift
	parked, offset, leaves := l.parked(v), time.Duration(0), false
	for _, t := range r.Timetable {
		s := plant.DefaultShift()
		if x := l.Index.Shifts[t.Shift]; x != nil {
			s = *x
		}
		shifts = append(shifts, s)
		if len(t.Departures) > 0 && !leaves {
			offset, leaves = s.Passed(t.Departures[0])-slot(parked.out), true
		}
	}
	if leaves {
		r.Timetable = timetable(shifts, parked, offset, r.Interval, r.Round)
	}
}

func (l *Reloading) parked(v *plant.Vehicle) parking {
	if v.Parking == "" {
		return parking{}
	}
	if !l.made {
		l.fleet, l.made = fleet(Input{Plant: l.Plant, Index: l.Index, Network: l.Network}, nil, 1), true
	}
	for _, x := range l.fleet {
		if x.code() == v.Vehicle {
			return x.parking()
		}
	}
	return parking{}
}

// Overlap is a shift in which two rounds of one handler would overlap.
type Overlap struct {
	Handler       string
	First, Second string
	Shift         plant.ShiftCode
	// By is how much of the second round, which begins with loading, has passed when the
	// first ends.
	By time.Duration
}

// Overlaps finds the handlers whose rounds would overlap by their timetables, each
// pair of routes once with the shift in which they do so most.
func Overlaps(x *plant.Index, routes []Route) []Overlap {
	type leaving struct {
		route string
		from  time.Duration
		to    time.Duration
	}
	type post struct {
		handler string
		shift   plant.ShiftCode
	}
	posts := map[post][]leaving{}
	for _, r := range routes {
		for _, t := range r.Timetable {
			s := plant.DefaultShift()
			if y := x.Shifts[t.Shift]; y != nil {
				s = *y
			}
			var loading time.Duration
			if v := x.Vehicles[r.Vehicle]; v != nil {
				loading = loadingTime(v, r.LoadPlanned)
			}
			for _, d := range t.Departures {
				from := s.Passed(d) - loading
				p := post{r.Handler, t.Shift}
				posts[p] = append(posts[p], leaving{r.Route, from, from + r.Round})
			}
		}
	}
	worst := map[[3]string]Overlap{}
	for p, list := range posts {
		slices.SortFunc(list, func(a, b leaving) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.route, b.route)) })
		for i := 1; i < len(list); i++ {
			a, b := list[i-1], list[i]
			o := Overlap{p.handler, a.route, b.route, p.shift, a.to - b.from}
			pair := [3]string{p.handler, min(a.route, b.route), max(a.route, b.route)}
			if was := worst[pair]; o.By > 0 && (o.By > was.By || o.By == was.By && o.Shift < was.Shift) {
				worst[pair] = o
			}
		}
	}
	var all []Overlap
	for _, o := range worst {
		all = append(all, o)
	}
	slices.SortFunc(all, func(a, b Overlap) int {
		return cmp.Or(cmp.Compare(a.Handler, b.Handler), cmp.Compare(a.First, b.First), cmp.Compare(a.Second, b.Second))
	})
	return all
}
