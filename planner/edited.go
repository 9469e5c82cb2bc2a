package planner

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lanewright/planner/demand"
	"lanewright/planner/ergonomics"
	"lanewright/planner/finding"
	"lanewright/planner/floor"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/search"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
)

// Edited is the whole plan that edits by hand make of a plan of facts: of the same
// revision, settings and seed. Lanes are as the edits say; routes keep their stops and
// ways and carry what lies there now; moves, balance, lifts and empties are worked out
// anew. What was proved of a cell or of the routes stays only as far as it holds for
// the edited plan too, and a play of the plan before proves nothing about it. Rules
// that it breaks are findings of it. Neither facts nor plan change.
func Edited(facts *plant.Plant, p *Plan, edits []placement.Edit) *Plan {
	return NewDesk(facts, p).After(edits).Plan()
}

// Plan is the whole plan as it is laid; see Edited.
func (l *Laid) Plan() *Plan {
	d, p := l.desk, l.desk.plan
	e := &Plan{
		Plant: p.Plant, Revision: p.Revision, Version: p.Version, Settings: p.Settings, Stopped: p.Stopped,
		Racks: p.Racks, Lanes: l.layout.Lanes, Unplaced: l.layout.Unplaced,
		Edits: slices.Clone(l.edits[len(p.Held):]), Held: l.held(),
	}
	e.Cells, e.Balance = l.bounds(), l.balance()
	in := d.in
	in.Loops = l.loops
	e.Moves, e.MoveSteps = placement.Moves(in, l.layout), placement.Steps(in, l.layout, p.Settings.Placement.Moving)
	r := l.routes()
	e.Routes, e.RouteBounds = r.Routes, r.Bounds
	e.Unserved = l.unserved(r.Routes)
	e.Loops = describe(l.loops, l.layout, r)
	e.Findings = l.kept(e)
	e.notice(l.Broken)
	e.notice(overlaps(d.index, r.Routes))
	e.notice(placement.Notes(in, l.layout))
	e.notice(placement.Empties(in, l.layout, visits(r)))
	e.notice(work(d.index, l.loops, l.layout, r, p.Settings.Ergonomics))
	e.speak(d.speech)
	return e
}

// held lists what still counts of pins and closed lanes, as edits that say it of the
// plan as it is laid.
func (l *Laid) held() []placement.Edit {
	pinned := map[demand.Key]bool{}
	var order []demand.Key
	home := map[plant.RackCode]plant.CellCode{}
	for i := range l.layout.Racks {
		home[l.layout.Racks[i].Rack] = l.layout.Racks[i].Cell
	}
	var list []placement.Edit
	closed := slices.Clone(l.Closed)
	for _, e := range l.edits {
		var k demand.Key
		switch e := e.(type) {
		case placement.PinLoop:
			k = e.Loop
		case placement.UnpinLoop:
			k = e.Loop
		case placement.CloseLane:
			if !l.touches(home[e.Lane.Rack]) {
				closed = append(closed, e.Lane)
			}
			continue
		default:
			continue
		}
		if !pinned[k] {
			order = append(order, k)
		}
		pinned[k] = true
	}
	for _, k := range order {
		list = append(list, l.pinOf(k))
	}
	slices.SortFunc(closed, func(a, b placement.Spot) int {
		return cmp.Or(cmp.Compare(a.Rack, b.Rack), cmp.Compare(a.Level, b.Level), cmp.Compare(a.Lane, b.Lane))
	})
	for _, at := range slices.Compact(closed) {
		list = append(list, placement.CloseLane{Lane: at})
	}
	return list
}

// pinOf says where a loop that was pinned or unpinned is pinned in the end.
func (l *Laid) pinOf(k demand.Key) placement.Edit {
	if !l.touches(k.Cell) {
		// Only an earlier plan's edits name it: the last of them stands.
		for _, e := range slices.Backward(l.edits) {
			switch x := e.(type) {
			case placement.PinLoop:
				if x.Loop == k {
					return x
				}
			case placement.UnpinLoop:
				if x.Loop == k {
					return x
				}
			}
		}
	}
	for _, pin := range l.Pins {
		if pin.Part == k.Part && pin.Station == k.Station && l.cellOf(pin.Rack) == k.Cell {
			return placement.PinLoop{Loop: k, To: placement.Spot{Rack: pin.Rack, Level: pin.Level, Lane: pin.Lane}}
		}
	}
	return placement.UnpinLoop{Loop: k}
}

func (l *Laid) cellOf(rack plant.RackCode) plant.CellCode {
	for i := range l.layout.Racks {
		if l.layout.Racks[i].Rack == rack {
			return l.layout.Racks[i].Cell
		}
	}
	return ""
}

// touches reports whether edits reach into a cell.
func (l *Laid) touches(cell plant.CellCode) bool {
	return slices.ContainsFunc(l.EditedPlan.Cells, func(c placement.CellChange) bool { return c.Cell == cell })
}

// bounds are what is still proved of each cell. In an edited one that is what holds for
// every layout that keeps the rules: no fewer containers without a lane and, where no
// more of them lack one than before, no less cost; where there are no more splits and
// no more cost either, no less effort. Where loops or pins changed, or rules are
// broken, it is a cell of another kind: nothing is proved.
func (l *Laid) bounds() []placement.Bound {
	list := slices.Clone(l.desk.plan.Cells)
	for i := range list {
		b := &list[i]
		at := slices.IndexFunc(l.EditedPlan.Cells, func(c placement.CellChange) bool { return c.Cell == b.Cell })
		if at < 0 || !l.changed(b.Cell) {
			continue
		}
		c := l.EditedPlan.Cells[at]
		proved := *b
		*b = placement.Bound{Cell: b.Cell, Unplaced: c.After.Unplaced, AddedCost: b.AddedCost, Effort: c.After.Effort, Stopped: search.ByHand}
		if l.other(b.Cell) {
			continue
		}
		b.UnplacedBound = min(proved.UnplacedBound, b.Unplaced)
		if b.Unplaced <= proved.Unplaced {
			b.AddedCostBound = proved.AddedCostBound
			if c.After.Splits <= c.Before.Splits {
				b.EffortBound = min(proved.EffortBound, b.Effort)
			}
		}
	}
	return list
}

// changed reports whether anything of a cell is not as it was.
func (l *Laid) changed(cell plant.CellCode) bool {
	return l.other(cell) || slices.ContainsFunc(l.Changes, func(c placement.LoopChange) bool { return c.Loop.Cell == cell })
}

// other reports whether edits made a cell one for which its proofs say nothing.
func (l *Laid) other(cell plant.CellCode) bool {
	for _, e := range l.edits {
		switch e := e.(type) {
		case placement.PinLoop:
			if e.Loop.Cell == cell {
				return true
			}
		case placement.UnpinLoop:
			if e.Loop.Cell == cell {
				return true
			}
		}
	}
	return slices.ContainsFunc(l.Loops, func(s sizing.Loop) bool { return s.Cell == cell }) ||
		slices.ContainsFunc(l.Broken, func(f finding.Finding) bool {
			return f.Severity == finding.Error && (plant.CellCode(f.Subject.Cell) == cell || l.cellOf(plant.RackCode(f.Subject.Rack)) == cell)
		})
}

// balance is that of the plan, of edited cells as they are laid, in its order of cells.
func (l *Laid) balance() []placement.Balance {
	var list []placement.Balance
	done := map[plant.CellCode]bool{}
	for _, b := range l.desk.plan.Balance {
		switch {
		case !l.changed(b.Cell) && !l.closes(b.Cell):
			list = append(list, b)
		case !done[b.Cell]:
			done[b.Cell] = true
			for _, x := range l.EditedPlan.Balance {
				if x.Cell == b.Cell {
					list = append(list, x)
				}
			}
		}
	}
	return list
}

// closes reports whether a lane of a cell is closed.
func (l *Laid) closes(cell plant.CellCode) bool {
	return slices.ContainsFunc(l.Closed, func(at placement.Spot) bool { return l.cellOf(at.Rack) == cell })
}

// tour is the look at rounds before any edit and as it is laid.
func (l *Laid) tour() tour {
	d := l.desk
	return tour{index: d.index, plan: d.plan, routes: d.plan.Routes, before: d.layout, after: l.layout, was: d.in.Loops, now: l.loops, calls: d.calls}
}

// routes are those of the plan with what lies at their stops now. Bounds hold for the
// demands that they were made for, and are no longer claimed where these changed.
func (l *Laid) routes() routing.Plan {
	t, d := l.tour(), l.desk
	plan := routing.Plan{Routes: slices.Clone(d.plan.Routes), Bounds: d.plan.RouteBounds}
	was, now := t.stopping(t.was, t.before), t.stopping(t.now, t.after)
	network, _ := floor.New(d.index.Plant)
	loading := &routing.Reloading{Plant: d.plan.Settings.Plant, Index: d.index, Network: network}
	for i := range plan.Routes {
		r := &plan.Routes[i]
		var a, b [][]routing.Demand
		same := true
		for n := range r.Stops {
			at := stopAt{r.Route, n}
			a, b = append(a, was[at]), append(b, now[at])
			same = same && slices.Equal(was[at], now[at])
		}
		if same {
			continue
		}
		*r = loading.Reload(*r, a, b)
		plan.Bounds.RoutesBound, plan.Bounds.TravelBound, plan.Bounds.HandlersBound = 0, 0, 0
	}
	return plan
}

// stopAt is a stop of a route, by its number from 0.
type stopAt struct {
	route string
	stop  int
}

// stopping is what each stop of each route refills, by loop.
func (t tour) stopping(loops []sizing.Loop, l placement.Layout) map[stopAt][]routing.Demand {
	stops := map[stopAt][]routing.Demand{}
	for _, d := range demands(t.index, loops, l) {
		r := t.serving(d.Loop, d.Rack)
		if r == nil {
			continue
		}
		n := slices.IndexFunc(r.Stops, func(s routing.Stop) bool { return s.Rack == d.Rack })
		at := stopAt{r.Route, n}
		stops[at] = append(stops[at], d)
	}
	for _, list := range stops {
		slices.SortFunc(list, func(a, b routing.Demand) int { return a.Loop.Compare(b.Loop) })
	}
	return stops
}

// unserved lists the loops on racks at which no route refills them: with the reason of
// the plan where it knew one of the rack, else that no round stops there.
func (l *Laid) unserved(routes []routing.Route) []routing.Unserved {
	refilled := map[served]bool{}
	for _, r := range routes {
		for _, s := range r.Stops {
			for _, k := range s.Loops {
				refilled[served{k, s.Rack}] = true
			}
		}
	}
	left := map[served]bool{}
	var order []served
	for _, lane := range l.layout.Lanes {
		at := served{lane.Loop, lane.Rack}
		if !lane.Empty() && !refilled[at] && !left[at] {
			left[at] = true
			order = append(order, at)
		}
	}
	list := slices.Clone(l.desk.plan.Unserved)
	for i := range list {
		list[i].Loops = slices.DeleteFunc(slices.Clone(list[i].Loops), func(k demand.Key) bool {
			at := served{k, list[i].Rack}
			known := left[at]
			delete(left, at)
			return !known
		})
	}
	list = slices.DeleteFunc(list, func(u routing.Unserved) bool { return len(u.Loops) == 0 })
	for _, at := range order {
		if left[at] {
			list = l.leave(list, at)
		}
	}
	return list
}

// leave adds a loop that nobody refills to those of its rack.
func (l *Laid) leave(list []routing.Unserved, at served) []routing.Unserved {
	for i := range list {
		if list[i].Rack == at.rack && (list[i].Reason == CodeEditUnserved || len(l.desk.plan.Routes) == 0) {
			list[i].Loops = append(list[i].Loops, at.loop)
			slices.SortFunc(list[i].Loops, demand.Key.Compare)
			return list
		}
	}
	u := routing.Unserved{Rack: at.rack, Loops: []demand.Key{at.loop}}
	if len(l.desk.plan.Routes) == 0 && len(l.desk.plan.Unserved) > 0 {
		u.Reason, u.Detail = l.desk.plan.Unserved[0].Reason, l.desk.plan.Unserved[0].Detail
	} else {
		f := unvisited(routing.Demand{Loop: at.loop, Rack: at.rack})
		u.Reason, u.Detail = f.Code, f.Summary
	}
	return append(list, u)
}

// kept lists the findings of the plan that still hold of e: those about its facts, and
// those about loops and racks that are as they were. What is worked out anew is left
// out here.
func (l *Laid) kept(e *Plan) finding.List {
	anew := map[string]bool{placement.CodeRollerPitch: true, placement.CodeUneven: true, placement.CodeReturnShort: true, placement.CodeNoReturn: true}
	for _, pages := range [][]finding.Page{ergonomics.Pages(), simulation.Pages()} {
		for _, page := range pages {
			anew[page.Code] = true
		}
	}
	reasons := map[demand.Key]string{}
	for _, u := range l.desk.plan.Unplaced {
		reasons[u.Loop] = u.Reason
	}
	for _, u := range e.Unplaced {
		if reasons[u.Loop] == u.Reason {
			delete(reasons, u.Loop)
		}
	}
	several := splits(e.Lanes)
	touched := map[string]bool{}
	for _, r := range l.EditedPlan.Racks {
		touched[string(r)] = true
	}
	var list finding.List
	for _, f := range l.desk.plan.Findings {
		k := demand.Key{Part: plant.PartCode(f.Subject.Part), Cell: plant.CellCode(f.Subject.Cell), Station: plant.StationCode(f.Subject.Station)}
		switch {
		case anew[f.Code], reasons[k] == f.Code, ByHand(f) && !l.stillBroken(f, k, e):
		case f.Code == placement.CodeSplit && !several[k]:
		case touched[f.Subject.Rack] && (f.Code == routing.CodeIntervalsDiffer || f.Code == routing.CodeRackSplit || f.Code == routing.CodeNothingToRefill):
		default:
			list = append(list, f)
		}
	}
	return list
}

// ByHand reports whether a finding says that a plan breaks a rule because somebody
// changed it by hand.
func ByHand(f finding.Finding) bool { return strings.HasPrefix(f.Code, "edit.") }

// BrokenByHand lists the rules that a plan breaks because somebody changed it by hand.
func (p *Plan) BrokenByHand() finding.List {
	var list finding.List
	for _, f := range p.Findings {
		if ByHand(f) {
			list = append(list, f)
		}
	}
	return list
}

// stillBroken reports whether a rule that the plan broke before these edits, because it
// was edited before, is broken still and is not found broken anew.
func (l *Laid) stillBroken(f finding.Finding, k demand.Key, e *Plan) bool {
	same := func(o finding.Finding) bool { return o.Code == f.Code && o.Subject == f.Subject }
	if slices.ContainsFunc(l.Broken, same) {
		return false
	}
	lies := func(o placement.Lane) bool { return o.Loop == k && string(o.Rack) == f.Subject.Rack }
	load := slices.IndexFunc(l.EditedPlan.Routes, func(r RouteLoad) bool { return r.Route == f.Subject.Route })
	switch f.Code {
	case placement.CodeEditRefused, CodeEditOverlap:
		return false
	case CodeEditLoad, CodeEditLong:
		if load < 0 {
			return true
		}
		r := l.EditedPlan.Routes[load]
		if f.Code == CodeEditLong {
			return r.After.Round > r.Most.Round
		}
		return r.After.Planned > r.Most.Planned || r.Most.Mass > 0 && r.After.Mass > r.Most.Mass
	case CodeEditUnserved:
		return slices.ContainsFunc(e.Unserved, func(u routing.Unserved) bool {
			return u.Reason == f.Code && string(u.Rack) == f.Subject.Rack && slices.Contains(u.Loops, k)
		})
	case CodeEditSeldom:
		return slices.ContainsFunc(e.Lanes, lies) && !slices.ContainsFunc(l.Loops, func(s sizing.Loop) bool { return s.Key == k })
	case placement.CodeEditUnplaced:
		return slices.ContainsFunc(e.Unplaced, func(u placement.Unplaced) bool { return u.Loop == k && u.Reason == f.Code })
	case placement.CodeEditGrossLimit:
		return !slices.ContainsFunc(l.Loops, func(s sizing.Loop) bool { return s.Key == k })
	}
	cell := plant.CellCode(f.Subject.Cell)
	if cell == "" {
		cell = l.cellOf(plant.RackCode(f.Subject.Rack))
	}
	return !l.touches(cell)
}

// splits are the loops that lie on several levels.
func splits(lanes []placement.Lane) map[demand.Key]bool {
	first, several := map[demand.Key]surface{}, map[demand.Key]bool{}
	for _, lane := range lanes {
		at := surface{lane.Rack, lane.Level}
		if was, known := first[lane.Loop]; known && was != at {
			several[lane.Loop] = true
		}
		first[lane.Loop] = at
	}
	return several
}

// overlaps reports the handlers two of whose rounds overlap: those of a plan that the
// stages made never do.
func overlaps(x *plant.Index, routes []routing.Route) finding.List {
	var list finding.List
	for _, o := range routing.Overlaps(x, routes) {
		list = append(list, finding.Finding{
			Severity: finding.Warning, Code: CodeEditOverlap, Subject: finding.Subject{Route: o.First},
			Measure: &finding.Measure{Value: o.By.Minutes(), Limit: 0, Unit: "min"},
			Summary: fmt.Sprintf("Handler %s has to begin to load for route %s %s before the round of route %s ends", o.Handler, o.Second, wait(o.By), o.First),
			Detail:  fmt.Sprintf("In shift %s, at the planned loads. Handlers and departures are those of the plan.", o.Shift),
			Remedy:  "Let another handler drive one of the two, take load off the first, or plan anew.",
		})
	}
	return list
}

// Cell is one cell of the plan as it is laid, without its moves: racks, lanes, loops,
// what lacks a lane, balance, bound, routes that stop there and findings about it.
func (l *Laid) Cell(cell plant.CellCode) *Plan {
	p := l.desk.plan
	mine := map[plant.RackCode]bool{}
	e := &Plan{Plant: p.Plant, Revision: p.Revision, Version: p.Version, Settings: p.Settings}
	for _, r := range l.layout.Racks {
		if r.Cell == cell {
			mine[r.Rack] = true
			e.Racks = append(e.Racks, r)
		}
	}
	in := placement.Layout{Racks: e.Racks}
	some := map[demand.Key]bool{}
	for _, lane := range l.layout.Lanes {
		if mine[lane.Rack] {
			in.Lanes = append(in.Lanes, lane)
		}
	}
	var loops []sizing.Loop
	for _, s := range l.loops {
		if s.Cell == cell {
			loops, some[s.Key] = append(loops, s), true
		}
	}
	e.Lanes = in.Lanes
	foreign := func(lane placement.Lane) bool { return !lane.Empty() && !some[lane.Loop] }
	in.Lanes = slices.DeleteFunc(slices.Clone(in.Lanes), foreign)
	for _, r := range p.Routes {
		if slices.ContainsFunc(r.Stops, func(s routing.Stop) bool { return mine[s.Rack] }) {
			e.Routes = append(e.Routes, r)
		}
	}
	t := l.tour()
	e.Loops = describe(loops, in, routing.Plan{})
	on := map[demand.Key]bool{}
	for _, lane := range in.Lanes {
		if lane.Empty() || on[lane.Loop] {
			continue
		}
		on[lane.Loop] = true
		if r := t.serving(lane.Loop, lane.Rack); r != nil {
			at := slices.IndexFunc(e.Loops, func(x Loop) bool { return x.Key == lane.Loop })
			e.Loops[at].Route = r.Route
		}
	}
	for _, u := range l.layout.Unplaced {
		if u.Loop.Cell == cell {
			u.Detail = l.desk.speech.Local(u.Detail)
			e.Unplaced = append(e.Unplaced, u)
		}
	}
	for _, b := range l.bounds() {
		if b.Cell == cell {
			e.Cells = append(e.Cells, b)
		}
	}
	for _, b := range l.balance() {
		if b.Cell == cell {
			e.Balance = append(e.Balance, b)
		}
	}
	about := func(list finding.List) {
		for _, f := range list {
			if plant.CellCode(f.Subject.Cell) == cell || mine[plant.RackCode(f.Subject.Rack)] {
				e.Findings = append(e.Findings, f)
			}
		}
	}
	about(l.kept(e))
	about(l.Broken)
	return e
}
