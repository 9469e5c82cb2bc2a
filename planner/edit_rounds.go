package planner

import (
	"fmt"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
)

// Codes of what edits of a layout mean for the rounds; the routes stay as they are.
const (
	CodeEditUnserved = "edit.rack-not-on-a-round"
	CodeEditSeldom   = "edit.rounds-too-seldom"
	CodeEditLoad     = "edit.round-overloaded"
	CodeEditLong     = "edit.round-too-long"
	CodeEditOverlap  = "edit.rounds-overlap"
)

// RouteLoad is what edits make of a route's round: its stops and its way stay as
// they are.
type RouteLoad struct {
	Route string
	routing.Checked
}

// call is a stop of a route at a rack.
type call struct {
	route *routing.Route
	loops []demand.Key
}

func callsOf(routes []routing.Route) map[plant.RackCode][]call {
	calls := map[plant.RackCode][]call{}
	for i := range routes {
		for _, s := range routes[i].Stops {
			calls[s.Rack] = append(calls[s.Rack], call{&routes[i], s.Loops})
		}
	}
	return calls
}

// serving is the route that stops at a rack for a loop: the one that refills it
// there, else the one with the shortest interval; nil where none stops there.
func (t tour) serving(loop demand.Key, rack plant.RackCode) *routing.Route {
	var best *routing.Route
	for _, c := range t.calls[rack] {
		if len(t.calls[rack]) > 1 && slices.Contains(c.loops, loop) {
			return c.route
		}
		if best == nil || c.route.Interval < best.Interval {
			best = c.route
		}
	}
	return best
}

// loads checks the routes that refill a changed loop, before or after.
func (t tour) loads() []RouteLoad {
	touched := map[string]bool{}
	racks := map[plant.RackCode]bool{}
	for _, l := range []placement.Layout{t.before, t.after} {
		for _, lane := range l.Lanes {
			if !t.changed[lane.Loop] {
				continue
			}
			if r := t.serving(lane.Loop, lane.Rack); r != nil && !touched[r.Route] {
				touched[r.Route] = true
				for _, s := range r.Stops {
					racks[s.Rack] = true
				}
			}
		}
	}
	was, now := t.asked(t.was, t.before, racks), t.asked(t.now, t.after, racks)
	var list []RouteLoad
	for _, r := range t.routes {
		if !touched[r.Route] {
			continue
		}
		c, ok := routing.Check(t.index, t.plan.Settings.Plant, r, was[r.Route], now[r.Route])
		if ok && c.Before != c.After {
			list = append(list, RouteLoad{r.Route, c})
		}
	}
	return list
}

// asked is what the loops on some racks ask of each route.
func (t tour) asked(loops []sizing.Loop, l placement.Layout, racks map[plant.RackCode]bool) map[string][]routing.Demand {
	some := map[demand.Key]bool{}
	for _, lane := range l.Lanes {
		if racks[lane.Rack] && !lane.Empty() {
			some[lane.Loop] = true
		}
	}
	loops, l = cutDown(loops, l, some)
	by := map[string][]routing.Demand{}
	for _, d := range demands(t.index, loops, l) {
		if r := t.serving(d.Loop, d.Rack); r != nil {
			by[r.Route] = append(by[r.Route], d)
		}
	}
	return by
}

// stops finds changed loops on racks where no round stops or too seldom.
func (t tour) stops() finding.List {
	if len(t.plan.Routes) == 0 {
		return nil
	}
	var list finding.List
	loops, l := t.only(t.now, t.after)
	for _, d := range demands(t.index, loops, l) {
		switch r := t.serving(d.Loop, d.Rack); {
		case r == nil:
			list = append(list, unvisited(d))
		case r.Interval > d.Interval:
			list = append(list, seldom(d, r))
		}
	}
	return list
}

func subjectOf(d routing.Demand) finding.Subject {
	return finding.Subject{Part: string(d.Loop.Part), Cell: string(d.Loop.Cell), Station: string(d.Loop.Station), Rack: string(d.Rack)}
}

func unvisited(d routing.Demand) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeEditUnserved, Subject: subjectOf(d),
		Summary: fmt.Sprintf("No round stops at rack %s, where part %s lies now", d.Rack, d.Loop.Part),
		Detail:  "The routes are those of the plan. A rack that held nothing has no stop.",
		Remedy:  "Add the stop to a route, or plan anew.",
	}
}

func seldom(d routing.Demand, r *routing.Route) finding.Finding {
	subject := subjectOf(d)
	subject.Route = r.Route
	return finding.Finding{
		Severity: finding.Warning, Code: CodeEditSeldom, Subject: subject,
		Measure: &finding.Measure{Value: r.Interval.Minutes(), Limit: d.Interval.Minutes(), Unit: "min"},
		Summary: fmt.Sprintf("Route %s comes to rack %s every %s, part %s is sized for %s", r.Route, d.Rack, wait(r.Interval), d.Loop.Part, wait(d.Interval)),
		Detail:  "With rounds further apart than its loop was sized for it may run dry.",
		Remedy:  "Choose a rack that is visited as often, give the loop the longer interval, or plan anew.",
	}
}

// overloads finds routes whose rounds would carry or take more than may be planned.
func overloads(loads []RouteLoad) finding.List {
	var list finding.List
	for _, r := range loads {
		if r.Overfull() {
			list = append(list, r.over(CodeEditLoad, "carry", r.Before.Planned, r.After.Planned, r.Most.Planned, "containers"))
		}
		if r.TooHeavy() {
			list = append(list, r.over(CodeEditLoad, "carry", r.Before.Mass.KG(), r.After.Mass.KG(), r.Most.Mass.KG(), "kg"))
		}
		if r.TooLong() {
			list = append(list, r.over(CodeEditLong, "take", r.Before.Round.Minutes(), r.After.Round.Minutes(), r.Most.Round.Minutes(), "min"))
		}
	}
	return list
}

func (r RouteLoad) over(code, does string, before, after, most float64, unit string) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: code, Subject: finding.Subject{Route: r.Route},
		Measure: &finding.Measure{Value: after, Limit: most, Unit: unit},
		Summary: fmt.Sprintf("A round of route %s would %s %.1f %s, %.1f may be planned", r.Route, does, after, unit, most),
		Detail:  fmt.Sprintf("Before it was %.1f %s. The load that is planned for is the mean and a margin for its variation; stops and way stay as they are.", before, unit),
		Remedy:  "Give the stops to more routes by planning anew, or choose racks of another route.",
	}
}
