package planner

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
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
	return NewDesk(facts, p).After(edits).EditedPlan
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
	index *plant.Index
	plan  *Plan
	// routes are those that refill anything of the two layouts.
	routes        []routing.Route
	before, after placement.Layout
	was, now      []sizing.Loop
	changed       map[demand.Key]bool
	// calls are the routes that stop at each rack.
	calls map[plant.RackCode][]call
}

// only is a layout and loops cut down to those that changed.
func (t tour) only(loops []sizing.Loop, l placement.Layout) ([]sizing.Loop, placement.Layout) {
	return cutDown(loops, l, t.changed)
}

// cutDown is a layout and loops cut down to some of these.
func cutDown(loops []sizing.Loop, l placement.Layout, some map[demand.Key]bool) ([]sizing.Loop, placement.Layout) {
	cut := placement.Layout{Racks: l.Racks}
	for _, lane := range l.Lanes {
		if some[lane.Loop] {
			cut.Lanes = append(cut.Lanes, lane)
		}
	}
	return slices.DeleteFunc(slices.Clone(loops), func(s sizing.Loop) bool { return !some[s.Key] }), cut
}

// returns compares the return lanes of the racks on which something changed.
func (t tour) returns(in placement.Input) []ReturnChange {
	racks := map[plant.RackCode]bool{}
	for _, l := range []placement.Layout{t.before, t.after} {
		for _, lane := range l.Lanes {
			racks[lane.Rack] = racks[lane.Rack] || t.changed[lane.Loop]
		}
	}
	every := visits(routing.Plan{Routes: t.routes})
	after := in
	in.Loops, after.Loops = t.was, t.now
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
		return lifts(tasks(t.index, loops, l, routing.Plan{Routes: t.routes}), t.plan.Settings.Ergonomics)
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
