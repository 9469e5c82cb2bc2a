package planner

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// Rounds lists the rounds of a route that leave on so many days from the day of from,
// by the clock of the plant's zone; ok is false where the plan has no such route. Where
// the facts lack its vehicle type nothing is loaded before it leaves.
func Rounds(facts *plant.Plant, p *Plan, route string, from time.Time, days int) (rounds []routing.Round, ok bool) {
	at := slices.IndexFunc(p.Routes, func(r routing.Route) bool { return r.Route == route })
	if at < 0 {
		return nil, false
	}
	return newClock(facts, p, from, days).rounds(p.Routes[at]), true
}

// DayRound is one round of one of the routes.
type DayRound struct {
	Route *routing.Route
	routing.Round
	// Working counts the workings of the plant's shifts that begin on the day, from 1,
	// by their start: two of them may overlap, and have rounds that leave at one moment.
	Working int
}

// DayRounds lists the rounds of all routes in the workings of shifts that begin on the
// day of day, ordered by departure, then route, then working.
func DayRounds(facts *plant.Plant, p *Plan, day time.Time) []DayRound {
	c := newClock(facts, p, day, 1)
	var list []DayRound
	for i := range p.Routes {
		r := &p.Routes[i]
		for _, round := range c.rounds(*r) {
			working := slices.IndexFunc(c.workings, func(o demand.Occurrence) bool { return o.Shift == round.Shift })
			list = append(list, DayRound{r, round, working + 1})
		}
	}
	slices.SortStableFunc(list, func(a, b DayRound) int {
		return cmp.Or(a.Leaves.Compare(b.Leaves), cmp.Compare(a.Route.Route, b.Route.Route), cmp.Compare(a.Working, b.Working))
	})
	return list
}

// Zone is the plant's time zone; where this machine does not know it, UTC.
func Zone(p *Plan) *time.Location {
	zone, err := time.LoadLocation(p.Settings.Plant.TimeZone)
	if err != nil {
		return time.UTC
	}
	return zone
}

// clock has what the rounds of all routes need.
type clock struct {
	vehicles map[plant.VehicleCode]*plant.Vehicle
	shifts   []plant.Shift
	workings []demand.Occurrence
}

func newClock(facts *plant.Plant, p *Plan, from time.Time, days int) clock {
	x := plant.NewIndex(facts)
	shifts := x.AllShifts()
	if len(shifts) == 0 {
		shifts = []plant.Shift{plant.DefaultShift()}
	}
	return clock{x.Vehicles, shifts, demand.Occurrences(shifts, from, Zone(p), days)}
}

func (c clock) rounds(r routing.Route) []routing.Round {
	return r.Rounds(cmp.Or(c.vehicles[r.Vehicle], &plant.Vehicle{}), c.shifts, c.workings)
}
