package planner

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
)

// Desk is a plan spread out for edits by hand: what many edits of one plan share.
// Several goroutines may use it at once.
type Desk struct {
	index  *plant.Index
	plan   *Plan
	in     placement.Input
	layout placement.Layout
	calls  map[plant.RackCode][]call
}

// NewDesk spreads out a plan of facts. Neither of them may change while it is used.
func NewDesk(facts *plant.Plant, p *Plan) *Desk {
	x := plant.NewIndex(facts)
	return &Desk{index: x, plan: p, in: laid(x, p), layout: layoutOf(p), calls: callsOf(p.Routes)}
}

// Laid is a plan as edits left it, against the plan as it was.
type Laid struct {
	EditedPlan
	desk *Desk
	// edits are those made, after those that the plan holds to.
	edits  []placement.Edit
	layout placement.Layout
	loops  []sizing.Loop
}

// After makes edits on the plan, one after the other, and says what changes against it
// and which rules break. What was pinned, unpinned or closed when the plan was edited
// before still counts.
func (d *Desk) After(edits []placement.Edit) *Laid {
	plain := &Laid{desk: d, edits: d.plan.Held, layout: d.layout, loops: d.in.Loops}
	l := &Laid{desk: d, edits: slices.Concat(d.plan.Held, edits)}
	l.EditedPlan = plain.Try(edits)
	l.layout = l.On(d.layout)
	l.loops = resized(d.in.Loops, l.Loops)
	return l
}

// Try makes further edits and says what changes against the plan as it is laid, and
// which rules are broken then. Nothing is kept of it.
func (l *Laid) Try(edits []placement.Edit) EditedPlan {
	d := l.desk
	e := EditedPlan{Edited: placement.Further(d.in, d.plan.Settings.Placement, d.layout, l.edits, edits)}
	t := tour{
		index: d.index, plan: d.plan, before: l.layout, after: e.On(l.layout),
		was: l.loops, now: resized(l.loops, e.Loops), changed: map[demand.Key]bool{}, calls: d.calls,
	}
	for _, c := range e.Changes {
		if !c.Slid() || c.Containers[0] != c.Containers[1] || len(c.Before) == 0 {
			t.changed[c.Loop] = true
		}
	}
	sizes := map[demand.Key]*sizing.Loop{}
	for i := range l.loops {
		sizes[l.loops[i].Key] = &l.loops[i]
	}
	for i := range e.Loops {
		if was := sizes[e.Loops[i].Key]; was == nil || !sameSize(was, &e.Loops[i]) {
			t.changed[e.Loops[i].Key] = true
		}
	}
	e.Routes = t.loads()
	e.Broken = append(e.Broken, t.stops()...)
	e.Broken = append(e.Broken, overloads(e.Routes)...)
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

// Fits says on which levels of its cell all of a loop would fit and what it would cost
// there, else why not; false where the plan has no such loop.
func (l *Laid) Fits(k demand.Key) ([]placement.Fit, bool) {
	d := l.desk
	return placement.Fits(d.in, d.plan.Settings.Placement, d.layout, l.edits, k)
}
