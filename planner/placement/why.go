package placement

import (
	"cmp"
	"maps"
	"math"
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
	for _, e := range edits {
		e.do(b)
	}
	b.hold()
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
	for _, lane := range e.On(a.layout).Lanes {
		if lane.Loop == a.loop && lane.Rack == p.At.Rack && lane.Level == p.At.Level {
			if p.Lanes++; p.Lanes == 1 {
				p.At.Lane = lane.Lane
			}
		}
	}
}

// books are the widths and masses on each tier while loops are shifted about on
// paper.
type books struct {
	b    *board
	used map[*tier]units.Length
	mass map[*tier]units.Mass
	rack map[plant.RackCode]units.Mass
	// gone are loops that were lifted, full the fixed tiers on which one was laid.
	gone map[demand.Key]bool
	full map[*tier]bool
}

func newBooks(b *board) *books {
	k := &books{b, map[*tier]units.Length{}, map[*tier]units.Mass{}, map[plant.RackCode]units.Mass{}, map[demand.Key]bool{}, map[*tier]bool{}}
	for _, r := range b.tiers {
		for _, h := range r.berths {
			if !h.empty() {
				k.book(r, h, 1)
			} else if len(h.closed) > 0 {
				k.used[r] += h.width + b.in.Plant.GuideWidth
			}
		}
	}
	return k
}

func (k *books) clone() *books {
	return &books{k.b, maps.Clone(k.used), maps.Clone(k.mass), maps.Clone(k.rack), maps.Clone(k.gone), maps.Clone(k.full)}
}

// book adds what a berth takes so many times.
func (k *books) book(r *tier, h berth, times int) {
	k.used[r] += units.Length(times) * k.b.of(r, h).takes(h.n, k.b.in.Plant.GuideWidth)
	mass := units.Mass(times*h.n) * k.b.loops[h.loop].Gross
	k.mass[r] += mass
	k.rack[r.rack.Rack] += mass
}

// lift takes a loop off all its tiers.
func (k *books) lift(loop demand.Key) {
	for _, p := range k.b.places(loop) {
		k.book(p.tier, *p.berth(), -1)
	}
	k.gone[loop] = true
}

// lay puts a berth on a tier.
func (k *books) lay(r *tier, h berth) {
	k.book(r, h, 1)
	k.full[r] = k.full[r] || r.fixed()
}

// left is the width and the mass that stay when h lies on r too; without a mass
// limit the mass is below 0.
func (k *books) left(r *tier, h berth) (units.Length, units.Mass) {
	width := r.usable + k.b.in.Plant.GuideWidth - k.used[r] - k.b.of(r, h).takes(h.n, k.b.in.Plant.GuideWidth)
	more := units.Mass(h.n) * k.b.loops[h.loop].Gross
	mass := units.Mass(math.MaxInt64)
	if r.level.MassLimit > 0 {
		mass = r.level.MassLimit - k.mass[r] - more
	}
	if t := r.rack.Type; t.MassLimit > 0 {
		mass = min(mass, t.MassLimit-t.OwnMass-k.rack[r.rack.Rack]-more)
	}
	return width, mass
}

// room reports whether h fits on r beside what is booked there.
func (k *books) room(r *tier, h berth) bool {
	width, mass := k.left(r, h)
	if mass < 0 {
		return false
	}
	if !r.fixed() {
		return width >= 0
	}
	return !k.full[r] && k.run(r, h)
}

// run reports whether fixed lanes side by side, free and wide enough, hold h.
func (k *books) run(r *tier, h berth) bool {
	y := k.b.of(r, h)
	taken, _ := k.b.seatFixed(r)
	run, right := 0, units.Length(0)
	for i, width := range r.level.Fixed {
		right += width
		free := taken[i] < 0 || k.gone[r.berths[taken[i]].loop]
		if run++; !free || slices.Contains(r.shut, i+1) || width < y.width || right > r.usable {
			run = 0
		}
		if run == y.lanes(h.n) {
			return true
		}
		right += k.b.in.Plant.GuideWidth
	}
	return false
}
