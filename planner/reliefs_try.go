package planner

import (
	"context"
	"errors"
	"slices"
	"time"

	"lanewright/planner/costing"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// ErrUnknownCell says that a plant has no such cell.
var ErrUnknownCell = errors.New("unknown cell")

// trial places one cell of a plan again and again, each time with one change.
type trial struct {
	facts *plant.Plant
	plan  *Plan
	cell  plant.CellCode
	loops map[demand.Key]Loop
	base  outcome
}

// outcome is the cell as it came out.
type outcome struct {
	loops    []sizing.Loop
	layout   placement.Layout
	cost     costing.Cost
	unplaced int
	needed   int
	effort   float64
}

// idea is a change that might make room.
type idea struct {
	kind       ReliefKind
	text, note string
	loops      []demand.Key
	// rack is the standing rack that it changes, adds the frontage that it takes
	// beyond what stands.
	rack plant.RackCode
	adds units.Length
	// change makes it to a copy of the facts of the cell.
	change func(*plant.Plant)
	// edits are the same by hand; nil where no edit can make it.
	edits []placement.Edit
	// bought are the racks that have to be bought; a cost of 0 is not known.
	bought []units.Money
}

func newTrial(ctx context.Context, facts *plant.Plant, plan *Plan, cell plant.CellCode) (*trial, error) {
	t := &trial{facts: only(facts, cell), plan: plan, cell: cell, loops: map[demand.Key]Loop{}}
	if len(t.facts.Cells) == 0 {
		return nil, ErrUnknownCell
	}
	for _, l := range plan.Loops {
		t.loops[l.Key] = l
	}
	t.base = t.outcome(ctx, func(*plant.Plant) {})
	return t, ctx.Err()
}

// only copies the facts that belong to one cell. What is not of a cell stays
// shared and is not changed; lists that a change may touch are copies.
func only(facts *plant.Plant, cell plant.CellCode) *plant.Plant {
	p := *facts
	p.Cells = picked(facts.Cells, func(c plant.Cell) bool { return c.Cell == cell })
	p.Stations = picked(facts.Stations, func(s plant.Station) bool { return s.Cell == cell })
	p.Usage = picked(facts.Usage, func(u plant.Usage) bool { return u.Cell == cell })
	p.Racks = picked(facts.Racks, func(r plant.Rack) bool { return r.Cell == cell })
	here := map[plant.RackCode]bool{}
	for _, r := range p.Racks {
		here[r.Rack] = true
	}
	p.Current = picked(facts.Current, func(l plant.CurrentLane) bool { return here[l.Rack] })
	p.Pins = picked(facts.Pins, func(x plant.Pin) bool { return here[x.Rack] })
	return &p
}

// picked copies the elements of a list that are meant.
func picked[T any](list []T, meant func(T) bool) []T {
	var out []T
	for _, x := range list {
		if meant(x) {
			out = append(out, x)
		}
	}
	return out
}

// trialProof bounds the proof of each change that is tried: there are many, and what
// counts is the layout.
const trialProof = 30_000

// outcome sizes and places the cell with a change.
func (t *trial) outcome(ctx context.Context, change func(*plant.Plant)) outcome {
	p := *t.facts
	p.Cells, p.Usage, p.Racks = slices.Clone(p.Cells), slices.Clone(p.Usage), slices.Clone(p.Racks)
	p.Parts, p.RackTypes, p.Pins = slices.Clone(p.Parts), slices.Clone(p.RackTypes), slices.Clone(p.Pins)
	change(&p)
	x, s := plant.NewIndex(&p), t.plan.Settings
	used, _ := demand.Loops(x, s.Plant)
	for i := range used {
		used[i] = t.asPlanned(used[i])
	}
	var o outcome
	o.loops, _ = sizing.Size(x, used)
	s.Placement.ProofSteps = min(s.Placement.ProofSteps, trialProof)
	o.layout = placement.Place(ctx, placement.Input{Index: x, Loops: o.loops, Racks: structure.Racks(x), Plant: s.Plant}, s.Placement, s.Plant.Seed, 1, nil)
	o.cost = costing.Year(costing.Input{Plant: s.Plant, Index: x, Loops: o.loops, Racks: o.layout.Racks})
	for _, b := range o.layout.Bounds {
		o.unplaced, o.effort = o.unplaced+b.Unplaced, o.effort+b.Effort
	}
	for _, b := range o.layout.Balance {
		o.needed += b.Needed
	}
	return o
}

// asPlanned gives a loop the use that it has in the plan, for a history may be
// shared with other cells. A wait at the end of a shift that the plan covers
// stays as long as the interval does.
func (t *trial) asPlanned(now demand.Loop) demand.Loop {
	was, known := t.loops[now.Key]
	if !known {
		return now
	}
	l := was.Loop.Loop
	if l.Interval != now.Interval {
		l.Wait = 0
	}
	l.Interval, l.Response, l.ServiceLevel, l.Container, l.Pack = now.Interval, now.Response, now.ServiceLevel, now.Container, now.Pack
	return l
}

// judge tries an idea and compares it with the cell as it is.
func (t *trial) judge(ctx context.Context, i idea) Relief {
	o := t.outcome(ctx, i.change)
	r := Relief{
		Kind: i.kind, Text: i.text, Note: joined(t.frontageNote(i.adds), i.note), Loops: i.loops,
		UnplacedBefore: t.base.unplaced, Unplaced: o.unplaced, LanesFreed: t.base.needed - o.needed,
		Effort: o.effort - t.base.effort, PriceKnown: true,
		Yearly: o.cost.Total - t.base.cost.Total, YearlyPartial: o.cost.Partial(),
		Visits: visitsPerHour(o).Sub(visitsPerHour(t.base)), Refills: refillsPerHour(o).Sub(refillsPerHour(t.base)),
	}
	r.hollow, r.layout = !t.helps(o), o.layout
	for _, cost := range append(i.bought, proposedMore(t.base, o)...) {
		r.Price += cost
		r.PriceKnown = r.PriceKnown && cost != 0
	}
	return r
}

// helps reports whether a loop without a lane gets one for some of its
// containers. That it misses fewer only because it has fewer is no help.
func (t *trial) helps(o outcome) bool {
	missing, has := map[demand.Key]int{}, map[demand.Key]int{}
	for _, u := range o.layout.Unplaced {
		missing[u.Loop] = u.Containers
	}
	for _, l := range o.loops {
		has[l.Key] = l.Containers
	}
	for _, u := range t.base.layout.Unplaced {
		if missing[u.Loop] < u.Containers && missing[u.Loop] < has[u.Loop] {
			return true
		}
	}
	return len(t.base.layout.Unplaced) == 0
}

// proposedMore are the costs of the racks that a layout adds beyond those of
// another, by type; racks that it adds no more count as saved.
func proposedMore(before, after outcome) []units.Money {
	count := map[plant.RackTypeCode]int{}
	cost := map[plant.RackTypeCode]units.Money{}
	for sign, o := range map[int]outcome{-1: before, 1: after} {
		for _, r := range o.layout.Racks {
			if r.Proposed {
				count[r.Type.RackType] += sign
				cost[r.Type.RackType] = r.Type.Cost
			}
		}
	}
	var list []units.Money
	for code, n := range count {
		if n != 0 {
			list = append(list, units.Money(n)*cost[code])
		}
	}
	return list
}

// visitsPerHour counts how often the racks of an outcome are served in a net
// hour, each at the shortest interval of the loops on it.
func visitsPerHour(o outcome) units.Ratio {
	every := map[plant.RackCode]time.Duration{}
	intervals := map[demand.Key]time.Duration{}
	for _, l := range o.loops {
		intervals[l.Key] = l.Interval
	}
	for _, lane := range o.layout.Lanes {
		if lane.Empty() {
			continue
		}
		if d, known := every[lane.Rack]; !known || intervals[lane.Loop] < d {
			every[lane.Rack] = intervals[lane.Loop]
		}
	}
	var sum units.Ratio
	for _, d := range every {
		sum = sum.Add(units.Int(60).Div(units.Minutes(d)))
	}
	return sum
}

// refillsPerHour counts the full containers that an hour uses.
func refillsPerHour(o outcome) units.Ratio {
	var sum units.Ratio
	for _, l := range o.loops {
		sum = sum.Add(l.Rate.Mul(units.Int(60)).Div(units.Int(l.Pack)))
	}
	return sum
}
