package export

import (
	"math"

	"lanewright/planner"
	"lanewright/planner/ergonomics"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// lifting is the sheet of what people lift at each loop on each level, with the
// composite indices of the round and the station that it belongs to. Lifts below
// 3 kg have no index.
func (r *report) lifting() grid {
	g := grid{name: "Lifting", frozen: 2, columns: []gridColumn{
		idColumn("Cell", 10), idColumn("Station", 10), idColumn("Part", 16), wordColumn("Description", 36), idColumn("Rack", 14), figureColumn("Level", 7, wholeFormat),
		idColumn("Container", 14), figureColumn(r.massHead("Full container"), 11, ""), figureColumn(r.lengthHead("Load edge"), 10, ""), figureColumn("Index of refilling", 10, twoFormat),
		idColumn("Route", 9), figureColumn("Index of the round", 10, twoFormat),
		figureColumn(r.massHead("Piece"), 10, ""), figureColumn(r.lengthHead("Pick edge"), 10, ""), figureColumn("Index of picking", 10, twoFormat), figureColumn("Index of the station", 10, twoFormat),
	}}
	l := planner.Lifts(r.facts.Plant, r.plan)
	jobs := map[finding.Subject]float64{}
	for _, list := range [][]ergonomics.Job{l.Rounds, l.Stations} {
		for _, j := range list {
			jobs[j.Subject] = j.Index
		}
	}
	for _, one := range l.Lifts {
		s := one.Subject
		round, onRound := jobs[finding.Subject{Route: one.Route}]
		station, atStation := jobs[finding.Subject{Cell: s.Cell, Station: s.Station}]
		g.rows = append(g.rows, []any{
			s.Cell, s.Station, s.Part, r.description(plant.PartCode(s.Part)), s.Rack, s.Level, s.Container, r.heavy(one.Gross), r.long(one.LoadSurface), index(one.Refill, one.RefillOK),
			text(one.Route), index(round, onRound), r.heavy(one.Piece), r.long(one.PickSurface), index(one.Pick, one.PickOK), index(station, atStation),
		})
	}
	return g
}

// index is a lifting index; blank where nothing is judged.
func index(v float64, ok bool) any {
	switch {
	case !ok:
		return nil
	case math.IsInf(v, 1):
		return "no lift at all"
	default:
		return rounded(v, 2)
	}
}
