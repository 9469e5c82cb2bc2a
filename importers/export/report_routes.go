package export

import (
	"fmt"
	"strings"
	"time"

	"lanewright/planner/routing"
	"lanewright/planner/units"
)

// routes is the sheet of refill routes: a strong row for each route, below it
// a row for each stop. Figures of a route stand in its row only, those of a
// stop in its own, so that a filtered column can be summed.
func (r *report) routes() grid {
	g := grid{name: "Routes and stops", frozen: 3, columns: []gridColumn{
		idColumn("Route", 9), wordColumn("Row", 8), figureColumn("Order", 7, wholeFormat),
		idColumn("Rack", 14), idColumn("Cell", 10), idColumn("Aisle point", 12),
		figureColumn("Arrive (min after departure)", 11, oneFormat),
		figureColumn("Containers at the stop", 11, twoFormat), figureColumn("Empties at the stop", 11, twoFormat),
		idColumn("Vehicle type", 14), idColumn("Handler", 9), idColumn("Market", 10),
		figureColumn("Interval (min)", 9, ""), figureColumn("Round (min)", 9, oneFormat), figureColumn("Busy", 8, percentFormat),
		figureColumn("Travel (m)", 10, oneFormat), figureColumn("Containers, mean", 11, twoFormat),
		figureColumn("Containers, planned", 11, twoFormat), figureColumn(r.massHead("Mass, planned"), 11, ""),
		wordColumn("Departures", 70),
	}}
	var containers, empties float64
	for _, route := range r.plan.Routes {
		g.rows = append(g.rows, r.routeRow(route))
		for i, stop := range route.Stops {
			g.rows = append(g.rows, r.stopRow(route, i+1, stop))
			containers += stop.Containers
			empties += stop.Empties
		}
	}
	g.total = g.sums(map[string]any{
		"Containers at the stop": containers, "Empties at the stop": empties,
		"Travel (m)": r.plan.RouteBounds.Travel.Metres(),
	})
	return g
}

func (r *report) routeRow(route routing.Route) []any {
	values := []any{
		route.Route, "route", nil, nil, nil, nil, nil, nil, nil,
		string(route.Vehicle), route.Handler, string(route.Market), units.Minutes(route.Interval).Float64(),
		route.Round.Minutes(), route.Busy(), route.Travel.Metres(), route.LoadMean, route.LoadPlanned,
		r.heavy(route.MassPlanned), text(departures(route.Timetable)),
	}
	formats := map[int]string{13: oneFormat, 14: percentFormat, 15: oneFormat, 16: twoFormat, 17: twoFormat}
	row := make([]any, len(values))
	for i, v := range values {
		_, word := v.(string)
		row[i] = styled{v, look{bold: true, paper: paleWater, format: formats[i], indent: word, wrap: i == len(values)-1}}
	}
	return row
}

func (r *report) stopRow(route routing.Route, order int, stop routing.Stop) []any {
	var cell any
	if rack := r.facts.Racks[stop.Rack]; rack != nil {
		cell = string(rack.Cell)
	} else if len(stop.Loops) > 0 {
		cell = string(stop.Loops[0].Cell)
	}
	return []any{
		route.Route, "stop", order, string(stop.Rack), cell, text(string(stop.Point)),
		stop.Arrive.Minutes(), stop.Containers, stop.Empties,
	}
}

// departures writes the timetable: "early: 06:00, 07:00; late: 14:00".
func departures(table []routing.ShiftTimes) string {
	var shifts []string
	for _, s := range table {
		var times []string
		for _, d := range s.Departures {
			times = append(times, clock(d.Round(time.Minute)))
		}
		shifts = append(shifts, fmt.Sprintf("%s: %s", s.Shift, strings.Join(times, ", ")))
	}
	return strings.Join(shifts, "; ")
}
