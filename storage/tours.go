package storage

import "lanewright/planner/plant"

func turnColumns(t *plant.Turn) []column {
	return append([]column{
		{"from_point", &t.From}, {"at_point", &t.At}, {"to_point", &t.To}, {"allowed", &t.Allowed},
	}, origin(&t.Origin)...)
}

func currentStopColumns(s *plant.CurrentStop) []column {
	return append([]column{
		{"route", &s.Route}, {"stop", &s.Order}, {"rack", &s.Rack}, {"vehicle", &s.Vehicle}, {"interval_ns", &s.Interval},
	}, origin(&s.Origin)...)
}

func routeRuleColumns(r *plant.RouteRule) []column {
	return append([]column{
		{"kind", &r.Kind}, {"rack", &r.Rack}, {"other_rack", &r.Other}, {"route", &r.Route},
		{"from_point", &r.From}, {"to_point", &r.To}, {"reason", &r.Reason},
	}, origin(&r.Origin)...)
}
