package drawing

import (
	"fmt"
	"strings"

	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/plant"
)

// SinceOf says what differs from an older plan, in some cells; none are all.
func (p Papers) SinceOf(name string, older *planner.Plan) *Since {
	_, before := planner.InCells(p.Facts, older, p.Cells...)
	_, after := planner.InCells(p.Facts, p.Plan, p.Cells...)
	c := planner.Compare(before, after, [2]*costing.Cost{})
	t := Table{Heading: []string{"", name, "now"}, Right: []bool{false, true, true}}
	number := func(x float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", x), ".0") }
	for _, x := range c.Totals {
		if x.Known && x.Before != x.After {
			what := x.Name
			if x.Unit != "" {
				what += ", " + x.Unit
			}
			t.add(what, number(x.Before), number(x.After))
		}
	}
	carried := 0
	for _, l := range c.Loops {
		carried += l.Carried
	}
	if len(c.Loops) > 0 {
		t.add("loops that differ", "", fmt.Sprint(len(c.Loops)))
		t.add("containers carried to another level", "", fmt.Sprint(carried))
	}
	for _, r := range c.Racks {
		switch {
		case r.Before == nil:
			t.add("rack "+string(r.Rack), "-", rackType(r.After.Type.RackType))
		case r.After == nil:
			t.add("rack "+string(r.Rack), rackType(r.Before.Type.RackType), "-")
		case r.Before.Type.RackType != r.After.Type.RackType:
			t.add("rack "+string(r.Rack), rackType(r.Before.Type.RackType), rackType(r.After.Type.RackType))
		}
	}
	if len(t.Rows) == 0 {
		t.add("Nothing differs.", "", "")
	}
	return &Since{Plan: name, Rows: t}
}

func rackType(code plant.RackTypeCode) string {
	if code == "" {
		return "-"
	}
	return string(code)
}
