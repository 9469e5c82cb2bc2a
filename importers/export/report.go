package export

import (
	"io"
	"time"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/units"
)

// Report writes the plant rack report of a plan of p as an xlsx workbook with
// the sheets Summary, Charts, Rack fronts, Racks, Lanes, Loops, Routes and stops, Moves,
// Move list (where something moves), Lifting, Build list and Cut list (of the racks that
// it proposes), Played (of a plan that was proved) and Findings. Lengths and masses are
// in the units of the plant's settings; at is the time that the report names as its own,
// where it is not zero. With cells it holds what planner.InCells leaves of the plan. The
// same plan and time give the same bytes. It fails only when w does.
func Report(w io.Writer, p *plant.Plant, plan *planner.Plan, at time.Time, since *Since, cells ...plant.CellCode) error {
	whole := plan
	p, plan = planner.InCells(p, plan, cells...)
	r := newReport(p, plan)
	r.whole, r.chosen = whole, cells
	made := at
	if at.IsZero() {
		made = epoch
	}
	b := newBook("Plant rack report", made)
	r.summarySheet(b, at)
	r.chartsSheet(b)
	r.frontsSheet(b)
	sheets := []grid{r.racks(), r.lanes(), r.loops(), r.routes(), r.moves()}
	if since != nil {
		sheets = append([]grid{r.changes(since.in(p, cells))}, sheets...)
	}
	if len(plan.MoveSteps) > 0 {
		sheets = append(sheets, r.moveList())
	}
	built, err := r.built()
	b.note(err)
	sheets = append(sheets, built...)
	if plan.Proof != nil {
		sheets = append(sheets, r.played())
	}
	for _, g := range append(sheets, r.findings()) {
		b.grid(g, plan.Plant)
	}
	return b.save(w)
}

// report is a plan with what its sheets look up.
type report struct {
	measures
	facts  *plant.Index
	plan   *planner.Plan
	totals planner.Summary
	// whole is the plan of all cells, chosen are those it is about; none are all.
	whole  *planner.Plan
	chosen []plant.CellCode
	// byLoop are the loop's lanes in order; byRack a rack's lanes.
	byLoop map[demand.Key][]placement.Lane
	byRack map[plant.RackCode][]placement.Lane
	loopOf map[demand.Key]*planner.Loop
	left   map[demand.Key]placement.Unplaced
	// routeOf lists the routes that stop at a rack.
	routeOf map[plant.RackCode][]string
	cells   map[plant.CellCode]*cellFigures
}

func newReport(p *plant.Plant, plan *planner.Plan) *report {
	r := &report{
		measures: newMeasures(plan.Settings.Plant.LengthUnit, plan.Settings.Plant.MassUnit),
		facts:    plant.NewIndex(p), plan: plan, totals: plan.Summary(),
		byLoop: map[demand.Key][]placement.Lane{}, byRack: map[plant.RackCode][]placement.Lane{},
		loopOf: map[demand.Key]*planner.Loop{}, left: map[demand.Key]placement.Unplaced{},
		routeOf: map[plant.RackCode][]string{},
	}
	for _, lane := range plan.Lanes {
		r.byRack[lane.Rack] = append(r.byRack[lane.Rack], lane)
		if !lane.Empty() {
			r.byLoop[lane.Loop] = append(r.byLoop[lane.Loop], lane)
		}
	}
	for i := range plan.Loops {
		r.loopOf[plan.Loops[i].Key] = &plan.Loops[i]
	}
	for _, u := range plan.Unplaced {
		r.left[u.Loop] = u
	}
	for _, route := range plan.Routes {
		r.noteStops(route)
	}
	r.cells = r.figures()
	return r
}

func (r *report) noteStops(route routing.Route) {
	for _, stop := range route.Stops {
		names := r.routeOf[stop.Rack]
		if len(names) == 0 || names[len(names)-1] != route.Route {
			r.routeOf[stop.Rack] = append(names, route.Route)
		}
	}
}

// description is the part's text, blank where the facts have none.
func (r *report) description(part plant.PartCode) any {
	if p := r.facts.Parts[part]; p != nil {
		return text(p.Description)
	}
	return nil
}

// load is the mass of full containers in lanes.
func (r *report) load(lanes []placement.Lane) units.Mass {
	var sum units.Mass
	for _, lane := range lanes {
		if loop := r.loopOf[lane.Loop]; loop != nil {
			sum += units.Mass(lane.Containers) * loop.Gross
		}
	}
	return sum
}
