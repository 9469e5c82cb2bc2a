package planner

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// Codes of what edits of a layout mean for the rounds; the routes stay as they are.
const (
	CodeEditUnserved = "edit.rack-not-on-a-round"
	CodeEditSeldom   = "edit.rounds-too-seldom"
	CodeEditLoad     = "edit.round-overloaded"
)

// EditedPlan is what edits made by hand make of a plan.
type EditedPlan struct {
	placement.Edited
	// Routes are those whose load changes, by name; Returns the racks on which loops
	// came, went or changed and that take back empties, by code.
	Routes  []RouteLoad
	Returns []ReturnChange
	// Lifting is what screening says of the edited loops where they lie now and did
	// not say before; Eased what it said before and does not now.
	Lifting, Eased finding.List
}

// RouteLoad is a route's mean load before and after edits, in containers per round;
// Limit is what its vehicle may be planned to carry.
type RouteLoad struct {
	Route         string
	Before, After float64
	Limit         float64
}

// ReturnChange is the length of return lane that the empties of a rack need before
// and after edits, and what its lanes take.
type ReturnChange struct {
	Rack          plant.RackCode
	Before, After placement.ReturnLength
}

// EditPlan makes edits on a plan of facts one after the other and says what changes
// and which rules break. Routes are not made anew: what they would carry is said.
// Neither facts nor plan change.
func EditPlan(facts *plant.Plant, p *Plan, edits []placement.Edit) EditedPlan {
	x := plant.NewIndex(facts)
	in, before := laid(x, p), layoutOf(p)
	e := EditedPlan{Edited: placement.Apply(in, p.Settings.Placement, before, edits)}
	t := tour{index: x, plan: p, before: before, after: e.On(before), was: in.Loops, now: resized(in.Loops, e.Loops), changed: map[demand.Key]bool{}}
	for _, c := range e.Changes {
		if !c.Slid() || c.Containers[0] != c.Containers[1] || len(c.Before) == 0 {
			t.changed[c.Loop] = true
		}
	}
	for i := range e.Loops {
		t.changed[e.Loops[i].Key] = true
	}
	e.Routes = t.loads()
	e.Broken = append(e.Broken, t.rounds(e.Routes)...)
	e.Broken.Sort()
	e.Returns = t.returns(in)
	e.Lifting, e.Eased = t.lifting()
	return e
}

// resized returns the loops with some of them replaced.
func resized(loops, other []sizing.Loop) []sizing.Loop {
	list := slices.Clone(loops)
	for _, o := range other {
		list[slices.IndexFunc(list, func(l sizing.Loop) bool { return l.Key == o.Key })] = o
	}
	return list
}

// tour looks at rounds, return lanes and lifts before and after edits.
type tour struct {
	index         *plant.Index
	plan          *Plan
	before, after placement.Layout
	was, now      []sizing.Loop
	changed       map[demand.Key]bool
}

// only is a layout and loops cut down to those that changed.
func (t tour) only(loops []sizing.Loop, l placement.Layout) ([]sizing.Loop, placement.Layout) {
	cut := placement.Layout{Racks: l.Racks}
	for _, lane := range l.Lanes {
		if t.changed[lane.Loop] {
			cut.Lanes = append(cut.Lanes, lane)
		}
	}
	return slices.DeleteFunc(slices.Clone(loops), func(s sizing.Loop) bool { return !t.changed[s.Key] }), cut
}

// serving is the route that stops at a rack for a loop: the one that refills it
// there, else the one with the shortest interval; nil where none stops there.
func (t tour) serving(loop demand.Key, rack plant.RackCode) *routing.Route {
	var best *routing.Route
	for i := range t.plan.Routes {
		r := &t.plan.Routes[i]
		for _, s := range r.Stops {
			if s.Rack != rack {
				continue
			}
			if slices.Contains(s.Loops, loop) {
				return r
			}
			if best == nil || r.Interval < best.Interval {
				best = r
			}
		}
	}
	return best
}

// loads adds up what the changed loops take from routes and bring to them.
func (t tour) loads() []RouteLoad {
	more := map[string]float64{}
	add := func(loops []sizing.Loop, l placement.Layout, sign float64) {
		loops, l = t.only(loops, l)
		for _, d := range demands(t.index, loops, l) {
			if r := t.serving(d.Loop, d.Rack); r != nil {
				more[r.Route] += sign * d.Share.Float64() * d.Rate * r.Interval.Minutes()
			}
		}
	}
	add(t.was, t.before, -1)
	add(t.now, t.after, 1)
	var list []RouteLoad
	for _, r := range t.plan.Routes {
		if d := more[r.Route]; math.Abs(d) > 1e-9 {
			limit := 0.0
			if v := t.index.Vehicles[r.Vehicle]; v != nil {
				limit = t.plan.Settings.Plant.LoadLimit.Mul(units.Int(int64(v.Containers))).Float64()
			}
			list = append(list, RouteLoad{r.Route, r.LoadMean, r.LoadMean + d, limit})
		}
	}
	return list
}

// rounds finds changed loops on racks where no round stops or too seldom, and
// routes that would carry more than may be planned in the mean.
func (t tour) rounds(loads []RouteLoad) finding.List {
	if len(t.plan.Routes) == 0 {
		return nil
	}
	var list finding.List
	loops, l := t.only(t.now, t.after)
	for _, d := range demands(t.index, loops, l) {
		subject := finding.Subject{Part: string(d.Loop.Part), Cell: string(d.Loop.Cell), Station: string(d.Loop.Station), Rack: string(d.Rack)}
		r := t.serving(d.Loop, d.Rack)
		switch {
		case r == nil:
			list = append(list, finding.Finding{
				Severity: finding.Warning, Code: CodeEditUnserved, Subject: subject,
				Summary: fmt.Sprintf("No round stops at rack %s, where part %s lies now", d.Rack, d.Loop.Part),
				Detail:  "The routes are those of the plan. A rack that held nothing has no stop.",
				Remedy:  "Add the stop to a route, or plan anew.",
			})
		case r.Interval > d.Interval:
			subject.Route = r.Route
			list = append(list, finding.Finding{
				Severity: finding.Warning, Code: CodeEditSeldom, Subject: subject,
				Measure: &finding.Measure{Value: r.Interval.Minutes(), Limit: d.Interval.Minutes(), Unit: "min"},
				Summary: fmt.Sprintf("Route %s comes to rack %s every %s, part %s is sized for %s", r.Route, d.Rack, wait(r.Interval), d.Loop.Part, wait(d.Interval)),
				Detail:  "With rounds further apart than its loop was sized for it may run dry.",
				Remedy:  "Choose a rack that is visited as often, give the loop the longer interval, or plan anew.",
			})
		}
	}
	for _, r := range loads {
		if r.Limit > 0 && r.After > r.Limit && r.After > r.Before {
			list = append(list, finding.Finding{
				Severity: finding.Warning, Code: CodeEditLoad, Subject: finding.Subject{Route: r.Route},
				Measure: &finding.Measure{Value: r.After, Limit: r.Limit, Unit: "containers"},
				Summary: fmt.Sprintf("Route %s would carry %.1f containers a round in the mean, its vehicle may be planned for %.1f", r.Route, r.After, r.Limit),
				Detail:  fmt.Sprintf("Before it was %.1f. Already the mean is more than the load limit allows.", r.Before),
				Remedy:  "Give the stops to more routes by planning anew, or choose racks of another route.",
			})
		}
	}
	return list
}

// returns compares the return lanes of the racks on which something changed.
func (t tour) returns(in placement.Input) []ReturnChange {
	racks := map[plant.RackCode]bool{}
	for _, l := range []placement.Layout{t.before, t.after} {
		for _, lane := range l.Lanes {
			racks[lane.Rack] = racks[lane.Rack] || t.changed[lane.Loop]
		}
	}
	every := visits(routing.Plan{Routes: t.plan.Routes})
	after := in
	after.Loops = t.now
	was := placement.ReturnLengths(in, t.before, every, racks)
	now := placement.ReturnLengths(after, t.after, every, racks)
	var list []ReturnChange
	for rack, on := range racks {
		if on && was[rack] != now[rack] {
			list = append(list, ReturnChange{rack, was[rack], now[rack]})
		}
	}
	slices.SortFunc(list, func(a, b ReturnChange) int { return cmp.Compare(a.Rack, b.Rack) })
	return list
}

// lifting judges the changed loops before and after, and returns what is new and
// what is gone.
func (t tour) lifting() (more, less finding.List) {
	judge := func(loops []sizing.Loop, l placement.Layout) finding.List {
		loops, l = t.only(loops, l)
		return lifts(tasks(t.index, loops, l, routing.Plan{Routes: t.plan.Routes}), t.plan.Settings.Ergonomics)
	}
	was, now := judge(t.was, t.before), judge(t.now, t.after)
	less, more = missing(was, now), missing(now, was)
	return more, less
}

// missing lists the findings of a that b does not have, by code, part, place and
// number.
func missing(a, b finding.List) finding.List {
	key := func(f finding.Finding) string { return fmt.Sprint(f.Code, f.Subject, f.Summary) }
	var list finding.List
	for _, f := range a {
		if !slices.ContainsFunc(b, func(o finding.Finding) bool { return key(o) == key(f) }) {
			list = append(list, f)
		}
	}
	list.Sort()
	return list
}
