package storage

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/routing"
)

func routeColumns(r *routing.Route) []column {
	return []column{
		{"route", &r.Route}, {"vehicle", &r.Vehicle}, {"handler", &r.Handler}, {"market", &r.Market},
		{"interval_ns", &r.Interval}, {"round_ns", &r.Round}, {"travel_nm", &r.Travel},
		{"load_mean", &r.LoadMean}, {"load_planned", &r.LoadPlanned}, {"mass_planned_ug", &r.MassPlanned},
	}
}

func stopColumns(s *routing.Stop) []column {
	return []column{
		{"rack", &s.Rack}, {"aisle_point", &s.Point}, {"arrive_ns", &s.Arrive},
		{"containers", &s.Containers}, {"empties", &s.Empties},
	}
}

func shiftTimesColumns(t *routing.ShiftTimes) []column {
	return []column{{"shift", &t.Shift}, {"departures_ns", array(&t.Departures)}}
}

func unservedColumns(u *routing.Unserved) []column {
	return []column{{"rack", &u.Rack}, {"reason", &u.Reason}, {"detail", &u.Detail}}
}

func stopsOf(r *routing.Route) *[]routing.Stop           { return &r.Stops }
func stopLoopsOf(s *child[routing.Stop]) *[]demand.Key   { return &s.Row.Loops }
func timetableOf(r *routing.Route) *[]routing.ShiftTimes { return &r.Timetable }
func unservedLoopsOf(u *routing.Unserved) *[]demand.Key  { return &u.Loops }

func writeRoutes(w *writer, routes []routing.Route) {
	stops := slices.Collect(children(routes, stopsOf))
	writeAll(w, "routes", routeColumns, routes)
	writeAll(w, "stops", childOf(stopColumns), stops)
	write(w, "stop_loops", childOf(keyColumns), children(stops, stopLoopsOf))
	write(w, "timetable", childOf(shiftTimesColumns), children(routes, timetableOf))
}

func readRoutes(r *reader) []routing.Route {
	routes := read(r, "routes", routeColumns)
	stops := read(r, "stops", childOf(stopColumns))
	adopt(stops, read(r, "stop_loops", childOf(keyColumns)), stopLoopsOf)
	adopt(routes, stops, stopsOf)
	adopt(routes, read(r, "timetable", childOf(shiftTimesColumns)), timetableOf)
	return routes
}

func writeUnserved(w *writer, unserved []routing.Unserved) {
	writeAll(w, "unserved", unservedColumns, unserved)
	write(w, "unserved_loops", childOf(keyColumns), children(unserved, unservedLoopsOf))
}

func readUnserved(r *reader) []routing.Unserved {
	unserved := read(r, "unserved", unservedColumns)
	adopt(unserved, read(r, "unserved_loops", childOf(keyColumns)), unservedLoopsOf)
	return unserved
}
