package storage

import (
	"lanewright/planner"
	"lanewright/planner/demand"
)

// keyColumns binds the name of a loop.
func keyColumns(k *demand.Key) []column {
	return []column{{"part", &k.Part}, {"cell", &k.Cell}, {"station", &k.Station}}
}

func loopColumns(l *planner.Loop) []column {
	columns := append(keyColumns(&l.Key), []column{
		{"container", &l.Container}, {"pack", &l.Pack}, {"rate", ratio(&l.Rate)},
		{"variance", ratio(&l.Variance)}, {"day_minutes", ratio(&l.Day)},
		{"interval_ns", &l.Interval}, {"response_ns", &l.Response}, {"wait_ns", &l.Wait},
		{"service_level", ratio(&l.ServiceLevel)}, {"measure", &l.Measure}, {"safety", ratio(&l.Safety)},
		{"model", &l.Model}, {"fixed", &l.Fixed}, {"days", ratios(&l.Days)},
		{"mean", ratio(&l.Mean)}, {"covered", ratio(&l.Covered)}, {"cards", &l.Cards}, {"rule", &l.Rule},
		{"containers", &l.Containers}, {"sized", &l.Sized}, {"gross_ug", &l.Gross},
		{"lane_capacity", &l.Capacity}, {"lanes", &l.Lanes}, {"flow_side", &l.Side}, {"route", &l.Route},
	}...)
	return append(columns, origin(&l.Origin)...)
}

func sourceColumns(s *demand.Source) []column {
	return append([]column{{"product", &s.Product}, {"rate", ratio(&s.Rate)}}, origin(&s.Origin)...)
}

func sourcesOf(l *planner.Loop) *[]demand.Source { return &l.Sources }

func writeLoops(w *writer, loops []planner.Loop) {
	writeAll(w, "loops", loopColumns, loops)
	write(w, "sources", childOf(sourceColumns), children(loops, sourcesOf))
}

func readLoops(r *reader) []planner.Loop {
	loops := read(r, "loops", loopColumns)
	adopt(loops, read(r, "sources", childOf(sourceColumns)), sourcesOf)
	return loops
}
