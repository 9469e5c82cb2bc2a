package placement

import (
	"cmp"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Whys says why a loop lies where it lies, or has no lane: where else it could
// lie, and what would give it one.
type Whys struct {
	Loop demand.Key
	// Here are its lanes, empty where it has none. Pinned is true where a pin keeps
	// it there; other places then count as if it were taken off.
	Here   []Lane
	Pinned bool
	// Places are the best other places for all its containers, three at most: those
	// that could be had first, by effort; only for a loop that has a lane.
	Places []OtherPlace
	// Missing are its containers without a lane and the true obstacle; zero where
	// all have one.
	Missing Unplaced
	// Changes would each give all its containers a lane, which was tried; what is
	// least to do comes first. Where none does, they are those that help most. Only
	// for a loop that lacks a lane.
	Changes []Change
}

// OtherPlace is a level where a loop could lie, and what it would cost.
type OtherPlace struct {
	At    Spot
	Side  plant.FlowSide
	Lanes int
	// Possible is true where Edits bring it there, the loops in the way elsewhere,
	// and break no rule.
	Possible bool
	// Effort is what the cell would have more, in kg per net hour, less being below
	// 0; where it is not possible, what the loop alone would have more.
	Effort float64
	// WidthLeft is what stays free on the level, MassLeft what it and its rack would
	// still carry, below 0 without a limit. Both are of the level as edited or, where
	// it is not possible, with the loop added to what lies there, and so may be below 0.
	WidthLeft units.Length
	MassLeft  units.Mass
	// InTheWay are the loops that would have to leave, by cell, station and part.
	InTheWay []demand.Key
	// Moved are the containers that would lie elsewhere than now.
	Moved int
	Edits []Edit
}

// mostPlaces is how many other places are named.
const mostPlaces = 3

// mostProofs bounds the places that are tried.
const mostProofs = 12

// Why says why a loop lies where the layout puts it; false where it has no such
// loop.
func Why(in Input, s Settings, l Layout, k demand.Key) (Whys, bool) {
	a := asker{in: in, settings: s, layout: l, loop: k}
	b := a.board(nil)
	if b.loops[k] == nil {
		return Whys{}, false
	}
	w := Whys{Loop: k, Here: b.still.lanes[k].lanes, Pinned: len(b.pins[k]) > 0, Missing: b.unplaced[k]}
	a.whole, a.missing = b.loops[k].Containers, w.Missing.Containers
	if len(w.Here) > 0 {
		w.Places = a.places(b)
	}
	if w.Missing.Containers > 0 {
		w.Changes = a.changes(b)
	}
	return w, true
}

// asker is what Why tries things on.
type asker struct {
	in       Input
	settings Settings
	layout   Layout
	loop     demand.Key
	// Of whole containers of the loop missing have no lane.
	whole, missing int
}

// board is the loop's cell after some edits.
func (a asker) board(edits []Edit) *board {
	b := newBoard(a.in, a.settings, a.layout, map[plant.CellCode]bool{a.loop.Cell: true})
	b.make(edits)
	return b
}

// places lists the best other places of a loop, one on each level.
func (a asker) places(b *board) []OtherPlace {
	var list []OtherPlace
	for _, r := range b.tiers {
		if r.find(a.loop) < 0 || len(b.places(a.loop)) > 1 {
			list = append(list, a.on(b, r)...)
		}
	}
	slices.SortStableFunc(list, comparePlaces)
	var proved, blocked []OtherPlace
	proofs := 0
	for _, p := range list {
		known := slices.ContainsFunc(slices.Concat(proved, blocked), func(o OtherPlace) bool { return o.At.Rack == p.At.Rack && o.At.Level == p.At.Level })
		switch {
		case known || len(proved) == mostPlaces:
		case !p.Possible:
			blocked = append(blocked, p)
		case proofs < mostProofs:
			proofs++
			if a.prove(b, &p) {
				proved = append(proved, p)
			}
		}
	}
	slices.SortStableFunc(proved, comparePlaces)
	return append(proved, blocked[:min(len(blocked), mostPlaces-len(proved))]...)
}

func comparePlaces(a, b OtherPlace) int {
	possible := func(p OtherPlace) int {
		if p.Possible {
			return 0
		}
		return 1
	}
	return cmp.Or(cmp.Compare(possible(a), possible(b)), cmp.Compare(a.Effort, b.Effort))
}

// on is the whole loop on a tier, on each flow side on which no rule keeps it from
// there whatever else lies there.
func (a asker) on(b *board, r *tier) []OtherPlace {
	var list []OtherPlace
	for _, side := range b.box(a.loop).Sides() {
		h := berth{loop: a.loop, n: b.loops[a.loop].Containers, wish: side}
		if !b.suits(r, h) {
			continue
		}
		p := newBooks(b).settle(r, h)
		if len(b.pins[a.loop]) > 0 && p.Possible {
			p.Edits = slices.Insert(p.Edits, 0, Edit(UnpinLoop{a.loop}))
		}
		list = append(list, p)
	}
	slices.SortStableFunc(list, func(x, y OtherPlace) int { return cmp.Compare(x.Lanes, y.Lanes) })
	return list
}

// prove makes the edits of a place: they must break no rule. Where parts have to be
// kept apart or a lane number to be kept, each lane of the level is tried.
func (a asker) prove(b *board, p *OtherPlace) bool {
	e := Apply(a.in, a.settings, a.layout, p.Edits)
	for lane := 1; lane <= len(b.tier(p.At).was)+1 && orderOnly(e.Broken); lane++ {
		last := len(p.Edits) - 1
		move, _ := p.Edits[last].(MoveLoop)
		move.To.Lane = lane
		p.Edits = append(slices.Clone(p.Edits[:last]), move)
		e = Apply(a.in, a.settings, a.layout, p.Edits)
	}
	if len(e.Broken) > 0 {
		return false
	}
	p.tell(e, a)
	return true
}

// orderOnly reports whether another order of lanes could mend what is broken.
func orderOnly(broken finding.List) bool {
	return len(broken) > 0 && !slices.ContainsFunc(broken, func(f finding.Finding) bool { return f.Code != CodeEditApart && f.Code != CodeEditPin })
}

// tell fills in what came of the edits of a place.
func (p *OtherPlace) tell(e Edited, a asker) {
	p.Effort, p.Moved, p.Lanes = 0, 0, 0
	for _, c := range e.Cells {
		p.Effort += c.After.Effort - c.Before.Effort
	}
	for _, c := range e.Changes {
		p.Moved += c.Moved
	}
	lanes := e.Lanes
	if _, touched := slices.BinarySearch(e.Racks, p.At.Rack); !touched {
		lanes = a.layout.Lanes
	}
	for _, lane := range lanes {
		if lane.Loop == a.loop && lane.Rack == p.At.Rack && lane.Level == p.At.Level {
			if p.Lanes++; p.Lanes == 1 {
				p.At.Lane = lane.Lane
			}
		}
	}
}
