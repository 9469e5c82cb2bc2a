package planner

import (
	"cmp"
	"maps"
	"slices"
	"sync"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Desk is a plan spread out for edits by hand: what many edits of one plan share.
// Several goroutines may use it at once.
type Desk struct {
	index  *plant.Index
	plan   *Plan
	in     placement.Input
	layout placement.Layout
	calls  map[plant.RackCode][]call
	speech units.Speech
	// near are the cells that share a route with a cell, it among them.
	near map[plant.CellCode]map[plant.CellCode]bool
	// plain is the plan before any edit, asIs what no edits make of it.
	plain, asIs func() *Laid
}

// NewDesk spreads out a plan of facts. Neither of them may change while it is used.
func NewDesk(facts *plant.Plant, p *Plan) *Desk {
	x := plant.NewIndex(facts)
	d := &Desk{index: x, plan: p, in: laid(x, p), layout: layoutOf(p), calls: callsOf(p.Routes), speech: Speech(facts, p), near: map[plant.CellCode]map[plant.CellCode]bool{}}
	home := map[plant.RackCode]plant.CellCode{}
	for _, r := range p.Racks {
		home[r.Rack] = r.Cell
		d.near[r.Cell] = map[plant.CellCode]bool{r.Cell: true}
	}
	for _, r := range p.Routes {
		cells := map[plant.CellCode]bool{}
		for _, s := range r.Stops {
			if cell, known := home[s.Rack]; known {
				cells[cell] = true
			}
		}
		for cell := range cells {
			maps.Copy(d.near[cell], cells)
		}
	}
	d.plain = sync.OnceValue(func() *Laid {
		l := &Laid{desk: d, edits: p.Held, layout: d.layout, loops: d.in.Loops}
		l.sort()
		return l
	})
	d.asIs = sync.OnceValue(func() *Laid { return d.After(nil) })
	return d
}

// Laid is a plan as edits left it, against the plan as it was.
type Laid struct {
	EditedPlan
	desk *Desk
	// edits are those made, after those that the plan holds to.
	edits  []placement.Edit
	layout placement.Layout
	loops  []sizing.Loop
	// by are the layout and the loops cell by cell.
	by map[plant.CellCode]cellLaid
}

// cellLaid is one cell as it is laid.
type cellLaid struct {
	racks []structure.Rack
	lanes []placement.Lane
	loops []sizing.Loop
}

// sort sorts the layout and the loops by cell.
func (l *Laid) sort() {
	l.by = map[plant.CellCode]cellLaid{}
	home := map[plant.RackCode]plant.CellCode{}
	for _, r := range l.layout.Racks {
		home[r.Rack] = r.Cell
		c := l.by[r.Cell]
		c.racks = append(c.racks, r)
		l.by[r.Cell] = c
	}
	for _, lane := range l.layout.Lanes {
		c := l.by[home[lane.Rack]]
		c.lanes = append(c.lanes, lane)
		l.by[home[lane.Rack]] = c
	}
	for i := range l.loops {
		c := l.by[l.loops[i].Cell]
		c.loops = append(c.loops, l.loops[i])
		l.by[l.loops[i].Cell] = c
	}
}

// around is the part of the plan that changes in some cells have to do with: they, and
// the cells that share a route with one of them.
func (l *Laid) around(changed []placement.CellChange) (part placement.Layout, loops []sizing.Loop, routes []routing.Route) {
	cells := map[plant.CellCode]bool{}
	for _, c := range changed {
		cells[c.Cell] = true
		maps.Copy(cells, l.desk.near[c.Cell])
	}
	for _, code := range slices.Sorted(maps.Keys(cells)) {
		c := l.by[code]
		part.Racks, part.Lanes, loops = append(part.Racks, c.racks...), append(part.Lanes, c.lanes...), append(loops, c.loops...)
	}
	slices.SortFunc(part.Racks, func(a, b structure.Rack) int { return cmp.Compare(a.Rack, b.Rack) })
	slices.SortFunc(part.Lanes, func(a, b placement.Lane) int {
		return cmp.Or(cmp.Compare(a.Rack, b.Rack), cmp.Compare(a.Level, b.Level), cmp.Compare(a.Lane, b.Lane))
	})
	here := racksIn(part.Racks)
	for _, r := range l.desk.plan.Routes {
		if slices.ContainsFunc(r.Stops, func(s routing.Stop) bool { return here[s.Rack] }) {
			routes = append(routes, r)
		}
	}
	return part, loops, routes
}

func racksIn(racks []structure.Rack) map[plant.RackCode]bool {
	m := make(map[plant.RackCode]bool, len(racks))
	for _, r := range racks {
		m[r.Rack] = true
	}
	return m
}

// AsIs is the plan without any edit.
func (d *Desk) AsIs() *Laid { return d.asIs() }

// After makes edits on the plan, one after the other, and says what changes against it
// and which rules break. What was pinned, unpinned or closed when the plan was edited
// before still counts.
func (d *Desk) After(edits []placement.Edit) *Laid {
	plain := d.plain()
	l := &Laid{desk: d, edits: slices.Concat(d.plan.Held, edits)}
	l.EditedPlan = plain.Try(edits)
	l.layout = l.On(d.layout)
	l.loops = resized(d.in.Loops, l.Loops)
	l.sort()
	return l
}

// Try makes further edits and says what changes against the plan as it is laid, and
// which rules are broken then. Nothing is kept of it.
func (l *Laid) Try(edits []placement.Edit) EditedPlan {
	d := l.desk
	e := EditedPlan{Edited: placement.Further(d.in, d.plan.Settings.Placement, d.layout, l.edits, edits)}
	before, loops, routes := l.around(e.Cells)
	t := tour{
		index: d.index, plan: d.plan, routes: routes, before: before, after: e.On(before),
		was: loops, now: resized(loops, e.Loops), changed: map[demand.Key]bool{}, calls: d.calls,
	}
	for _, c := range e.Changes {
		if !c.Slid() || c.Containers[0] != c.Containers[1] || len(c.Before) == 0 {
			t.changed[c.Loop] = true
		}
	}
	sizes := map[demand.Key]*sizing.Loop{}
	for i := range loops {
		sizes[loops[i].Key] = &loops[i]
	}
	for i := range e.Loops {
		if was := sizes[e.Loops[i].Key]; was == nil || !sameSize(was, &e.Loops[i]) {
			t.changed[e.Loops[i].Key] = true
		}
	}
	e.Routes = t.loads()
	e.Broken = append(e.Broken, t.stops()...)
	e.Broken = append(e.Broken, overloads(e.Routes)...)
	e.Broken = e.Broken.In(d.speech)
	e.Broken.Sort()
	e.Returns = t.returns(d.in)
	e.Lifting, e.Eased = t.lifting()
	return e
}

// sameSize reports whether two loops of one name ask the same of lanes and rounds.
func sameSize(a, b *sizing.Loop) bool {
	return a.Container == b.Container && a.Pack == b.Pack && a.Interval == b.Interval && a.Containers == b.Containers
}

// Tally counts a cell as the plan has it and as it is laid.
func (l *Laid) Tally(cell plant.CellCode) (before, after placement.Tally) {
	for _, c := range l.EditedPlan.Cells {
		if c.Cell == cell {
			return c.Before, c.After
		}
	}
	// No edit reaches into the cell; one that names no loop of it changes nothing.
	none := []placement.Edit{placement.UnpinLoop{Loop: demand.Key{Cell: cell}}}
	for _, c := range placement.Apply(l.desk.in, l.desk.plan.Settings.Placement, l.desk.layout, none).Cells {
		if c.Cell == cell {
			return c.Before, c.After
		}
	}
	return before, after
}

// Fits says on which levels of its cell what a move means would fit, wherever it goes
// to, and what it would cost there, else why not; false where the plan has no such loop.
func (l *Laid) Fits(move placement.MoveLoop) ([]placement.Fit, bool) {
	d := l.desk
	return placement.Fits(d.in, d.plan.Settings.Placement, d.layout, l.edits, move)
}
