package planner

import (
	"cmp"
	"math"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// RoundSheet is what a handler needs on each round of a route. How many containers a
// round really brings is what its signals say; the plan knows the mean. Expected is the
// mean of a part rounded to the nearest whole number, halves up, and shared among its
// lanes so that they add up: each has its mean rounded down, and what is then left goes
// one by one to the largest fractions, the earlier stop first.
type RoundSheet struct {
	Route *routing.Route
	Takes []SheetTake
	Stops []SheetStop
}

// SheetTake is a part to take from the market.
type SheetTake struct {
	Pick
	Description string
	// Pack is pieces per container; Expected is in containers.
	Pack     int64
	Expected int
}

// SheetStop is one rack on the round.
type SheetStop struct {
	*routing.Stop
	// Empties is the mean to take back, rounded to the nearest whole number.
	Empties int
	Lanes   []SheetLane
}

// SheetLane is a lane to fill, in the order of level and lane.
type SheetLane struct {
	Drop
	Address     string
	Part        plant.PartCode
	Description string
	Container   plant.ContainerCode
	Pack        int64
	Expected    int
}

// RoundSheets returns the sheet of every route of a plan, by the route's name.
func RoundSheets(facts *plant.Plant, p *Plan) map[string]*RoundSheet {
	t := NewTaker(facts, p)
	sheets := make(map[string]*RoundSheet, len(p.Routes))
	for i := range p.Routes {
		sheets[p.Routes[i].Route] = t.sheet(&p.Routes[i])
	}
	return sheets
}

func (t *Taker) sheet(r *routing.Route) *RoundSheet {
	sheet := &RoundSheet{Route: r, Stops: make([]SheetStop, len(r.Stops))}
	for i := range r.Stops {
		s := &r.Stops[i]
		sheet.Stops[i] = SheetStop{Stop: s, Empties: nearest(s.Empties)}
	}
	for _, pick := range t.picks(r) {
		take := SheetTake{Pick: pick, Expected: nearest(pick.Containers)}
		if part := t.index.Parts[pick.Part]; part != nil {
			take.Description = part.Description
		}
		shares := apportion(take.Expected, pick.Drops)
		for i, d := range pick.Drops {
			l := t.loops[demand.Key{Part: pick.Part, Cell: d.Cell, Station: d.Station}]
			take.Pack = l.Pack
			stop := &sheet.Stops[d.Stop-1]
			stop.Lanes = append(stop.Lanes, SheetLane{
				Drop: d, Address: placement.Spot{Rack: d.Rack, Level: d.Level, Lane: d.Lane}.Address(),
				Part: pick.Part, Description: take.Description, Container: l.Container, Pack: l.Pack, Expected: shares[i],
			})
		}
		sheet.Takes = append(sheet.Takes, take)
	}
	for _, s := range sheet.Stops {
		slices.SortFunc(s.Lanes, func(a, b SheetLane) int { return cmp.Or(a.Level-b.Level, a.Lane-b.Lane) })
	}
	return sheet
}

// slack is how far below a half or a whole number a sum of float64 may lie that is one.
const slack = 1e-9

// nearest rounds to the nearest whole number, halves up.
func nearest(n float64) int { return int(math.Floor(n + 0.5 + slack)) }

// apportion shares n containers among drops, as RoundSheet says.
func apportion(n int, drops []Drop) []int {
	shares, order := make([]int, len(drops)), make([]int, len(drops))
	rest := make([]float64, len(drops))
	for i, d := range drops {
		shares[i], order[i] = int(math.Floor(d.Containers+slack)), i
		rest[i] = d.Containers - float64(shares[i])
		n -= shares[i]
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest[b], rest[a]) })
	for _, i := range order[:max(0, min(n, len(order)))] {
		shares[i]++
	}
	return shares
}
