package floor

import (
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Reach returns which points can be reached from a point, itself included, in
// the order of the sheet Aisle points. An unknown point reaches none.
func (n *Network) Reach(from plant.PointCode) []plant.PointCode { return n.list(n.mark(n.out, from)) }

// ReachedBy returns from which points a point can be reached, itself included,
// in the order of the sheet Aisle points.
func (n *Network) ReachedBy(to plant.PointCode) []plant.PointCode { return n.list(n.mark(n.in, to)) }

func (n *Network) list(marked []bool) []plant.PointCode {
	var points []plant.PointCode
	for i, m := range marked {
		if m {
			points = append(points, n.points[i])
		}
	}
	return points
}

// mark walks along e from a point and marks what it comes to.
func (n *Network) mark(e edges, from plant.PointCode) []bool {
	return n.marked(e, from, func(edge) bool { return true })
}

// marked walks along those edges of e that may be taken.
func (n *Network) marked(e edges, from plant.PointCode, may func(edge) bool) []bool {
	marked := make([]bool, len(n.points))
	start, ok := n.index[from]
	if !ok {
		return marked
	}
	marked[start] = true
	for open := []int32{start}; len(open) > 0; {
		at := open[len(open)-1]
		open = open[:len(open)-1]
		for _, x := range e.from(at) {
			if !marked[x.to] && may(x) {
				marked[x.to] = true
				open = append(open, x.to)
			}
		}
	}
	return marked
}

// check reports the points without racks that no round can reach and leave
// again (plant.Check reports those with racks). A plant without a market or
// without aisles is not checked: its rounds drive nowhere.
func (n *Network) check(p *plant.Plant) finding.List {
	markets := Markets(p)
	if len(markets) == 0 || n.Aisles() == 0 {
		return nil
	}
	there, back, both := make([]bool, len(n.points)), make([]bool, len(n.points)), make([]bool, len(n.points))
	for _, m := range markets {
		out, in := n.mark(n.out, m), n.mark(n.in, m)
		for i := range both {
			there[i] = there[i] || out[i]
			back[i] = back[i] || in[i]
			both[i] = both[i] || out[i] && in[i]
		}
	}
	reported := withRacks(p)
	var found finding.List
	for _, a := range p.AislePoints {
		i := n.index[a.Point]
		if !both[i] && !reported[a.Point] {
			found = append(found, unreachable(a, there[i], back[i]))
			reported[a.Point] = true
		}
	}
	return found
}

// Markets returns the points where rounds may start: those of kind market and
// those a vehicle names, each once, in the order of the sheets.
func Markets(p *plant.Plant) []plant.PointCode {
	var markets []plant.PointCode
	for _, a := range p.AislePoints {
		if a.Kind == plant.Market {
			markets = append(markets, a.Point)
		}
	}
	for _, v := range p.Vehicles {
		if v.From != "" && !slices.Contains(markets, v.From) {
			markets = append(markets, v.From)
		}
	}
	return markets
}

// withRacks returns the points where racks are served, or would be.
func withRacks(p *plant.Plant) map[plant.PointCode]bool {
	points := map[plant.PointCode]bool{}
	for _, r := range p.Racks {
		points[r.AislePoint] = true
	}
	for _, c := range p.Cells {
		points[c.NewRackPoint] = true
	}
	return points
}

func unreachable(a plant.AislePoint, there, back bool) finding.Finding {
	f := finding.Finding{
		Severity: finding.Note, Code: CodeUnreachable, Origin: a.Origin, Subject: finding.Subject{Point: string(a.Point)},
		Detail: "A round starts and ends at its market, so a point needs a way there and a way back along the aisles, with the one-way aisles in their direction. No rack is served here yet.",
		Remedy: "Add the missing aisle, or correct the direction of a one-way aisle near it.",
	}
	if a.Kind == plant.StopAt {
		f.Severity = finding.Warning
	}
	switch {
	case !there:
		f.Summary = fmt.Sprintf("No aisle leads from a market to aisle point %s", a.Point)
	case !back:
		f.Summary = fmt.Sprintf("No aisle leads from aisle point %s back to a market", a.Point)
	default:
		f.Summary = fmt.Sprintf("No round can reach aisle point %s and return to the market it left", a.Point)
	}
	return f
}
