package routing

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// tour is a finished route before it has a name: everything about it computed
// from its stops in their order.
type tour struct {
	vehicle *vehicle
	group   *group
	// code is the route of today that it continues, or the one that its racks are
	// pinned to; empty where there is none.
	code   plant.TourCode
	stops  []stop
	need   need
	parked parking
	drive  floor.Leg
	// round is the time of a round. It begins with loading, after which it leaves.
	round, loading time.Duration
	// legs lead to each stop; the last one back to the market.
	legs []floor.Leg
}

func newTour(v *vehicle, g *group, stops []stop) tour {
	t := tour{vehicle: v, group: g, stops: stops, parked: v.parked}
	at := v.home
	for _, s := range stops {
		row, _ := v.table.Index(s.point)
		t.add(at, row)
		at = row
		t.need = t.need.plus(s.need)
	}
	t.add(at, v.home)
	planned := t.need.planned(v.bare.z)
	t.round = roundTime(v.Vehicle, t.drive.Time, len(stops), planned, t.need.empties)
	t.loading = loadingTime(v.Vehicle, planned)
	return t
}

// add drives from one row of the table to another.
func (t *tour) add(from, to int) {
	leg, _ := t.vehicle.table.Leg(from, to)
	t.legs = append(t.legs, leg)
	t.drive = t.drive.Plus(leg)
}

// turned is t in the other direction.
func (t *tour) turned() tour {
	stops := slices.Clone(t.stops)
	slices.Reverse(stops)
	return newTour(t.vehicle, t.group, stops)
}

// waiting adds up how long the way to each stop is: of two directions that take as
// long, the one that reaches its stops sooner is driven.
func (t *tour) waiting() (sum time.Duration) {
	at := time.Duration(0)
	for _, leg := range t.legs[:len(t.stops)] {
		at += leg.Time
		sum += at
	}
	return sum
}

// fits reports whether t keeps the limits of its vehicle.
func (t *tour) fits() bool {
	for _, s := range t.stops {
		if _, ok := t.vehicle.roundTrip(s.point); !ok {
			return false
		}
	}
	_, ok := t.vehicle.limit(t.group.interval).worst(t.need, t.round)
	return ok
}

// compare orders tours by interval, shifts, lowest rack, its first loop.
func (t tour) compare(o tour) int {
	a, b := t.lowest(), o.lowest()
	return cmp.Or(
		cmp.Compare(t.group.interval, o.group.interval), cmp.Compare(t.group.name, o.group.name),
		cmp.Compare(a.rack, b.rack), a.demands[0].Loop.Compare(b.demands[0].Loop),
	)
}

func (t tour) lowest() stop {
	return slices.MinFunc(t.stops, func(a, b stop) int {
		return cmp.Or(cmp.Compare(a.rack, b.rack), a.demands[0].Loop.Compare(b.demands[0].Loop))
	})
}

// route describes t for people; its name, handler and timetable come later.
func (t tour) route() Route {
	v := t.vehicle
	r := Route{
		Vehicle: v.code(), Market: v.market, Interval: t.group.interval,
		Round: t.round, Travel: t.drive.Length,
		LoadMean: t.need.mean, LoadPlanned: t.need.planned(v.bare.z),
		MassPlanned: units.Mass(whole(t.need.plannedMass(v.bare.z) * float64(units.Kilogram))),
	}
	var at float64
	var driven time.Duration
	for i, s := range t.stops {
		driven += t.legs[i].Time
		r.Stops = append(r.Stops, Stop{
			Rack: s.rack, Point: s.point, Loops: keys(s.demands),
			Arrive:     driven + time.Duration(i)*v.StopTime + whole(at),
			Containers: s.need.mean, Empties: s.need.empties,
		})
		at += s.need.mean*float64(v.UnloadTime) + s.need.empties*float64(v.EmptyTime)
	}
	return r
}
