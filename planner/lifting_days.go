package planner

import (
	"fmt"

	"lanewright/planner/ergonomics"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// handlings is how often a handler lifts a container on a round: at the market
// and at the rack.
const handlings = 2

// post is a person's place in a shift.
type post struct {
	name  string
	shift plant.ShiftCode
}

// dayBook adds up what the people of posts lift, in the order in which they came.
type dayBook struct {
	at   map[post]int
	list []ergonomics.Day
}

// add gives a post so many kg more.
func (d *dayBook) add(name string, subject finding.Subject, shift plant.Shift, mass float64) {
	p := post{name, shift.Shift}
	i, ok := d.at[p]
	if !ok {
		i = len(d.list)
		d.at[p] = i
		d.list = append(d.list, ergonomics.Day{Subject: subject, Who: name, Shift: string(shift.Shift), Net: shift.Net()})
	}
	d.list[i].Mass += mass
}

// handlerDays is what each handler lifts in each shift on all his rounds.
func handlerDays(x *plant.Index, tasks []ergonomics.Task, r routing.Plan) []ergonomics.Day {
	round := map[string]float64{}
	for _, t := range tasks {
		round[t.Route] += handlings * t.RefillMass()
	}
	shifts := map[plant.ShiftCode]plant.Shift{}
	for _, s := range x.AllShifts() {
		shifts[s.Shift] = s
	}
	d := dayBook{at: map[post]int{}}
	for _, route := range r.Routes {
		for _, times := range route.Timetable {
			mass := round[route.Route] * float64(len(times.Departures))
			d.add("Handler "+route.Handler, finding.Subject{Vehicle: string(route.Vehicle)}, shifts[times.Shift], mass)
		}
	}
	return d.list
}

// stationDays is what one person at each station lifts in each shift of its
// cell.
func stationDays(x *plant.Index, tasks []ergonomics.Task) []ergonomics.Day {
	d := dayBook{at: map[post]int{}}
	for _, t := range tasks {
		s := t.Subject
		for _, shift := range x.CellShifts(plant.CellCode(s.Cell)) {
			who := fmt.Sprintf("One person at station %s of cell %s", s.Station, s.Cell)
			d.add(who, finding.Subject{Cell: s.Cell, Station: s.Station}, shift, t.PickMass()*shift.Net().Minutes())
		}
	}
	return d.list
}
