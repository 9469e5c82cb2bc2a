package export

import (
	"fmt"
	"strings"

	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// Since is an older plan that a report compares with.
type Since struct {
	// Name says which one: "plan 6".
	Name string
	Plan *planner.Plan
}

// in is the part of the older plan that is about some cells; none are all.
func (s Since) in(p *plant.Plant, cells []plant.CellCode) Since {
	_, part := planner.InCells(p, s.Plan, cells...)
	return Since{s.Name, part}
}

// changes is the sheet of what differs from an older plan.
func (r *report) changes(s Since) grid {
	g := grid{name: "Changes", frozen: 3, columns: []gridColumn{
		wordColumn("Of", 10), idColumn("Cell", 12), idColumn("Which", 20), wordColumn("What", 30),
		wordColumn("In "+s.Name, 34), wordColumn("Now", 34),
	}}
	c := planner.Compare(s.Plan, r.plan, [2]*costing.Cost{})
	add := func(of string, cell plant.CellCode, which, what, before, now string) {
		g.rows = append(g.rows, []any{of, string(cell), which, what, before, now})
	}
	for _, t := range c.Totals {
		if t.Known && t.Before != t.After {
			add("plan", "", "", strings.TrimSpace(t.Name+" "+bracketed(t.Unit)), short(t.Before), short(t.After))
		}
	}
	for _, d := range c.Cells {
		for _, x := range counted(d) {
			if x.before != x.after {
				add("cell", d.Cell, "", x.what, short(x.before), short(x.after))
			}
		}
	}
	for _, d := range c.Racks {
		before, now := "-", "-"
		if d.Before != nil {
			before = string(d.Before.Type.RackType)
		}
		if d.After != nil {
			now = string(d.After.Type.RackType)
		}
		add("rack", d.Cell, string(d.Rack), fmt.Sprintf("%d lanes in use differ", d.Changed), before, now)
	}
	for _, d := range c.Loops {
		add("loop", d.Loop.Cell, string(d.Loop.Part)+" at "+string(d.Loop.Station), fmt.Sprintf("%d containers carried", d.Carried), side(d.Before, d.Lanes[0]), side(d.After, d.Lanes[1]))
	}
	for _, d := range c.Routes {
		var before, now string
		if d.Before != nil {
			before = d.Before.Route
		}
		if d.After != nil {
			now = d.After.Route
		}
		add("route", "", "", routeDiffers(d), before, now)
	}
	if len(g.rows) == 0 {
		add("", "", "", "Nothing differs.", "", "")
	}
	return g
}

// pair is one number of a cell in both plans.
type pair struct {
	what          string
	before, after float64
}

func counted(d planner.CellDifference) []pair {
	a, b := d.Before, d.After
	n := func(what string, x, y int) pair { return pair{what, float64(x), float64(y)} }
	return []pair{
		n("loops", a.Loops, b.Loops), n("containers", a.Containers, b.Containers), n("containers without a lane", a.Unplaced, b.Unplaced),
		n("lanes used", a.LanesUsed, b.LanesUsed), n("lanes free", a.LanesFree, b.LanesFree), n("racks", a.Racks, b.Racks),
		n("racks proposed", a.Proposed, b.Proposed), {"effort (kg/h)", a.Effort, b.Effort},
	}
}

// side says what a loop has and where it lies.
func side(l *planner.Loop, lanes []placement.Lane) string {
	if l == nil {
		return "-"
	}
	var at []string
	for _, lane := range lanes {
		at = append(at, placement.Spot{Rack: lane.Rack, Level: lane.Level, Lane: lane.Lane}.Address())
	}
	where := strings.Join(at, ", ")
	if where == "" {
		where = "no lane"
	}
	return fmt.Sprintf("%d x %s: %s", l.Containers, l.Container, where)
}

func routeDiffers(d planner.RouteDifference) string {
	var parts []string
	if len(d.Came) > 0 {
		parts = append(parts, "stops at "+joinedCodes(d.Came)+" now")
	}
	if len(d.Gone) > 0 {
		parts = append(parts, "no more at "+joinedCodes(d.Gone))
	}
	if len(parts) == 0 {
		return "its rounds differ"
	}
	return strings.Join(parts, "; ")
}

func joinedCodes(codes []plant.RackCode) string {
	texts := make([]string, len(codes))
	for i, c := range codes {
		texts[i] = string(c)
	}
	return strings.Join(texts, ", ")
}

func bracketed(unit string) string {
	if unit == "" {
		return ""
	}
	return "(" + unit + ")"
}

// short writes a number with at most one decimal.
func short(x float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", x), ".0") }
