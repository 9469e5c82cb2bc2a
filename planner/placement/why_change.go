package placement

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// ChangeKind says what kind of change would give a loop its lanes.
type ChangeKind string

// Kinds of change in the order in which they are named: from what a handler does
// in a minute to what has to be bought.
const (
	ByMoves       ChangeKind = "moves"
	ByUnpinning   ChangeKind = "unpin"
	ByFlowSide    ChangeKind = "flow-side"
	ByInterval    ChangeKind = "interval"
	ByContainer   ChangeKind = "container"
	ByClearHeight ChangeKind = "clear-height"
	ByLaneLength  ChangeKind = "lane-length"
	ByRack        ChangeKind = "rack"
)

// Change is a change that would give a loop its lanes; it was tried.
type Change struct {
	Kind ChangeKind
	// And is the kind of a second change made with it; mostly empty.
	And ChangeKind
	// Left is the containers that stay without a lane: 0 but where no change that was
	// tried places all.
	Left int
	// At are the levels on which the loop then lies, with its first lane there;
	// Containers is what it then has.
	At         []Spot
	Containers int
	// Moved are the loops that must leave their lanes, MovedContainers theirs.
	Moved           []demand.Key
	MovedContainers int
	// Effort is what the cell has more then, in kg per net hour, the loop's own
	// effort included.
	Effort float64
	// Interval, Container with Pack, and Side are what the loop gets by a change of
	// that kind.
	Interval  time.Duration
	Container plant.ContainerCode
	Pack      int64
	Side      plant.FlowSide
	// Level must be higher, or its lanes longer, by By.
	Level Spot
	By    units.Length
	// RackType is that of the rack added, Cost its cost, 0 where the plant gives
	// none, Width its width and Beyond what the cell's frontage lacks for it.
	RackType      plant.RackTypeCode
	Cost          units.Money
	Width, Beyond units.Length
	Edits         []Edit
}

// mostLevels bounds the levels that are tried higher or longer.
const mostLevels = 6

// candidate is a change to be tried: what it is, the facts and layout it is tried
// on, and the edits that come before the loop is laid.
type candidate struct {
	change Change
	on     asker
	edits  []Edit
	// light leaves out what would move other loops.
	light bool
}

// kinds are the kinds of change in the order in which they are named.
var kinds = []ChangeKind{ByMoves, ByUnpinning, ByFlowSide, ByInterval, ByContainer, ByClearHeight, ByLaneLength, ByRack}

// changes tries what would give the loop its lanes: of each kind the smallest, and
// one rack of each type. Where no change alone does, pairs of them are tried. Where
// these do not do either, the changes are told that help most.
func (a asker) changes(b *board) []Change {
	var whole, partial []Change
	for _, kind := range kinds {
		full, some := tried(kind, a.candidates(b, kind))
		whole, partial = append(whole, full...), append(partial, some...)
	}
	if len(whole) > 0 {
		return whole
	}
	for _, pair := range a.pairs(b) {
		if pair.Left > 0 {
			partial = append(partial, pair)
			continue
		}
		whole = append(whole, pair)
	}
	if len(whole) > 0 {
		return whole
	}
	slices.SortStableFunc(partial, compareLeft)
	return partial[:min(len(partial), mostPartial)]
}

// mostPartial is how many changes are named that help but not enough.
const mostPartial = 3

// compareLeft orders changes by the share of the loop's containers that is left.
func compareLeft(x, y Change) int { return cmp.Compare(x.Left*y.Containers, y.Left*x.Containers) }

// tried tries candidates of one kind. It returns those worth naming that give all
// containers a lane and, where none does, the one that helps most.
func tried(kind ChangeKind, list []candidate) (whole, partial []Change) {
	for _, c := range list {
		done, ok := c.try()
		switch {
		case !ok:
			continue
		case done.Left > 0:
			partial = append(partial, done)
			continue
		}
		whole = append(whole, done)
		if kind != ByContainer && kind != ByRack {
			break
		}
	}
	slices.SortStableFunc(partial, compareLeft)
	if kind == ByContainer {
		slices.SortStableFunc(whole, compareChanges)
		whole = whole[:min(len(whole), 1)]
	}
	if len(whole) > 0 {
		return whole, nil
	}
	return nil, partial[:min(len(partial), 1)]
}

// compareChanges orders changes of one kind: fewer loops moved, then less effort.
func compareChanges(x, y Change) int {
	return cmp.Or(cmp.Compare(len(x.Moved), len(y.Moved)), cmp.Compare(x.Effort, y.Effort), cmp.Compare(x.Container, y.Container))
}

// candidates lists what may be tried of one kind, the smallest first.
func (a asker) candidates(b *board, kind ChangeKind) []candidate {
	switch kind {
	case ByUnpinning:
		if len(b.pins[a.loop]) == 0 {
			return nil
		}
		return []candidate{{change: Change{Kind: kind}, on: a, edits: []Edit{UnpinLoop{a.loop}}}}
	case ByFlowSide:
		return a.turned(b)
	case ByInterval:
		return a.oftener(b)
	case ByContainer:
		return a.repacked(b)
	case ByClearHeight, ByLaneLength:
		return a.raised(b, kind, "")
	case ByRack:
		return a.oneMore()
	}
	return []candidate{{change: Change{Kind: ByMoves}, on: a}}
}

// pairs tries another container with a shorter interval and with one rack more, and
// one rack more with a level higher or lanes longer, and names the best of each.
func (a asker) pairs(b *board) []Change {
	var list []Change
	for _, second := range []ChangeKind{ByInterval, ByRack} {
		var found []Change
		for _, x := range a.candidates(b, ByContainer) {
			for _, y := range a.candidates(b, second) {
				done, ok := joined(x, y).try()
				if ok {
					found = append(found, done)
				}
				if ok && done.Left == 0 {
					break
				}
			}
		}
		list = append(list, bestPair(found)...)
	}
	var found []Change
	for _, x := range a.oneMore() {
		trial := x.on.board(nil)
		for _, kind := range []ChangeKind{ByClearHeight, ByLaneLength} {
			for _, y := range x.on.raised(trial, kind, x.on.layout.Racks[len(x.on.layout.Racks)-1].Rack) {
				c := joined(x, y)
				c.change.RackType, c.change.Cost, c.change.Width, c.change.Beyond = x.change.RackType, x.change.Cost, x.change.Width, x.change.Beyond
				if done, ok := c.try(); ok {
					found = append(found, done)
				}
			}
		}
	}
	return append(list, bestPair(found)...)
}

// bestPair is the pair that leaves least, asks for least frontage and money and the
// longest interval.
func bestPair(found []Change) []Change {
	slices.SortStableFunc(found, func(x, y Change) int {
		return cmp.Or(compareLeft(x, y), cmp.Compare(x.Beyond, y.Beyond), cmp.Compare(x.Cost, y.Cost), cmp.Compare(y.Interval, x.Interval), compareChanges(x, y))
	})
	return found[:min(len(found), 1)]
}

// joined is two changes at once; the facts and layout are those of the second.
func joined(x, y candidate) candidate {
	c := candidate{change: y.change, on: y.on, edits: slices.Concat(x.edits, y.edits), light: true}
	c.change.Kind, c.change.And = x.change.Kind, y.change.Kind
	if x.change.Kind == ByContainer {
		c.change.Container, c.change.Pack = x.change.Container, x.change.Pack
	}
	return c
}

// try makes the candidate's edits and then lays what has no lane: where there is
// room, else shared out over several levels, else where other loops leave room. The
// result must break no rule but, where not all find a lane, that all have one; false
// where none does that had none.
func (c candidate) try() (Change, bool) {
	b := c.on.board(c.edits)
	if len(b.refused) > 0 {
		return c.change, false
	}
	best, found := Change{}, false
	for _, more := range c.on.ways(b, c.light) {
		done, ok := c.made(b, more)
		if ok && (!found || done.Left < best.Left) {
			best, found = done, true
		}
		if ok && done.Left == 0 {
			break
		}
	}
	return best, found
}

// made applies the candidate's edits and those that lay the loop.
func (c candidate) made(b *board, more []Edit) (Change, bool) {
	done, loop := c.change, c.on.loop
	if done.Edits = slices.Concat(c.edits, more); len(done.Edits) == 0 {
		return done, false
	}
	e := Apply(c.on.in, c.on.settings, c.on.layout, done.Edits)
	for _, f := range e.Broken {
		if f.Code != CodeEditUnplaced || f.Subject.Part != string(loop.Part) || f.Subject.Station != string(loop.Station) {
			return done, false
		}
	}
	for _, u := range e.Unplaced {
		if u.Loop == loop {
			done.Left = u.Containers
		}
	}
	c.on.told(&done, e)
	return done, done.Left*c.on.whole < b.loops[loop].Containers*c.on.missing
}

// mostWays bounds the ways that are tried for one change.
const mostWays = 8

// ways lists edits that lay the loop's missing containers, the best first.
func (a asker) ways(b *board, light bool) [][]Edit {
	n := b.missing(a.loop)
	if n <= 0 {
		return [][]Edit{nil}
	}
	places := a.roomFor(b, n, light)
	slices.SortStableFunc(places, func(x, y OtherPlace) int {
		return cmp.Or(cmp.Compare(len(x.InTheWay), len(y.InTheWay)), cmp.Compare(x.Effort, y.Effort))
	})
	free := slices.IndexFunc(places, func(p OtherPlace) bool { return len(p.InTheWay) > 0 })
	if free < 0 {
		free = len(places)
	}
	var list [][]Edit
	for i, p := range places[:min(len(places), mostWays)] {
		if i == free {
			list = append(list, a.spread(b, n))
		}
		list = append(list, p.Edits)
	}
	if free >= len(list) {
		list = append(list, a.spread(b, n))
	}
	return list
}

// roomFor lists the levels that hold all n missing containers, beside those of the
// loop that lie there, when the loops in the way leave.
func (a asker) roomFor(b *board, n int, light bool) []OtherPlace {
	var places []OtherPlace
	for _, r := range b.tiers {
		for _, side := range b.box(a.loop).Sides() {
			h := berth{loop: a.loop, n: n, wish: side}
			if here := r.find(a.loop); here >= 0 {
				h.n, h.wish = n+r.berths[here].n, r.berths[here].wish
			}
			if !b.suits(r, h) || light && !newBooks(b).room(r, h) {
				continue
			}
			p := newBooks(b).settle(r, h)
			if len(b.places(a.loop)) > 0 && p.Possible {
				// The lanes it has elsewhere stay: only what is missing moves.
				p.Edits[len(p.Edits)-1] = MoveLoop{Loop: a.loop, To: p.At, Side: h.wish, Containers: n}
			}
			if p.Possible {
				places = append(places, p)
			}
		}
	}
	return places
}

// suits reports whether a level may hold a berth when nothing else lies there.
func (b *board) suits(r *tier, h berth) bool {
	y := b.of(r, h)
	if y.side != h.wish || len(b.misfits(h.loop, r, y)) > 0 {
		return false
	}
	empty := &books{b, map[*tier]units.Length{}, map[*tier]units.Mass{}, map[plant.RackCode]units.Mass{}, map[demand.Key]bool{}, map[*tier]bool{}}
	for _, o := range r.berths {
		empty.gone[o.loop] = true
	}
	return empty.room(r, h)
}

// spread shares n containers out over levels with room, those of least effort
// first, as far as they find a lane.
func (a asker) spread(b *board, n int) []Edit {
	k := newBooks(b)
	tiers := slices.Clone(b.tiers)
	one := func(r *tier) float64 { return b.effortOn(berth{loop: a.loop, n: 1}, r) }
	slices.SortStableFunc(tiers, func(x, y *tier) int { return cmp.Compare(one(x), one(y)) })
	var edits []Edit
	for _, r := range tiers {
		h, ok := a.most(k, r, n)
		if !ok {
			continue
		}
		k.lay(r, h)
		n -= h.n
		edits = append(edits, MoveLoop{Loop: a.loop, To: Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}, Containers: h.n, Side: h.wish})
		if n == 0 {
			break
		}
	}
	return edits
}

// most is as many of n containers as a tier has room for, where none of the loop
// lies there yet.
func (a asker) most(k *books, r *tier, n int) (berth, bool) {
	best := berth{}
	if r.find(a.loop) >= 0 {
		return best, false
	}
	for _, side := range k.b.box(a.loop).Sides() {
		h := berth{loop: a.loop, n: 1, wish: side}
		y := k.b.of(r, h)
		if y.side != side || len(k.b.misfits(a.loop, r, y)) > 0 {
			continue
		}
		most := min(n, y.capacity*(1+int(r.level.UsableWidth/(y.width+1))))
		for h.n = most; h.n > best.n; h.n-- {
			if k.room(r, h) {
				best = h
			}
		}
	}
	return best, best.n > 0
}

// told fills in what came of a change.
func (a asker) told(c *Change, e Edited) {
	for _, x := range e.Cells {
		c.Effort += x.After.Effort - x.Before.Effort
	}
	for _, x := range e.Changes {
		if x.Loop == a.loop {
			c.Containers = x.Containers[1]
			for _, lane := range x.After {
				at := Spot{lane.Rack, lane.Level, lane.Lane}
				if last := len(c.At) - 1; last < 0 || c.At[last].Rack != at.Rack || c.At[last].Level != at.Level {
					c.At = append(c.At, at)
				}
			}
		} else if x.Moved > 0 {
			c.Moved = append(c.Moved, x.Loop)
			c.MovedContainers += x.Moved
		}
	}
}

// turned allows both flow sides of a container that allows one.
func (a asker) turned(b *board) []candidate {
	box := b.box(a.loop)
	c := Change{Kind: ByFlowSide}
	switch box.FlowSide {
	case plant.LengthAlong:
		c.Side = plant.WidthAlong
	case plant.WidthAlong:
		c.Side = plant.LengthAlong
	default:
		return nil
	}
	box.FlowSide = plant.EitherAlong
	x := *a.in.Index
	x.Containers = maps.Clone(a.in.Index.Containers)
	x.Containers[box.Container] = &box
	a.in.Index = &x
	return []candidate{{change: c, on: a}}
}

// oftener lists the plant's intervals shorter than the loop's, the longest first.
func (a asker) oftener(b *board) []candidate {
	var list []candidate
	for _, d := range slices.Backward(slices.Sorted(slices.Values(a.in.Plant.IntervalChoices))) {
		if d > 0 && d < b.loops[a.loop].Interval {
			list = append(list, candidate{change: Change{Kind: ByInterval, Interval: d}, on: a, edits: []Edit{ChangeInterval{a.loop, d}}})
		}
	}
	return list
}

// repacked lists the plant's other containers, by code, that hold a piece by their
// outside volume and are, full, no heavier than may be moved by hand or than the
// loop's is.
func (a asker) repacked(b *board) []candidate {
	var list []candidate
	l := b.loops[a.loop]
	if a.in.Index.Parts[l.Part] == nil {
		return nil
	}
	heaviest := max(l.Gross, sizing.DefaultLimits(plant.Level{}).HandMass)
	for code, box := range a.in.Index.Containers {
		part := *a.in.Index.Parts[l.Part]
		part.Pack = packIn(part, b.box(a.loop), *box, l.Pack)
		if code == l.Container || byVolume(b.box(a.loop), *box, l.Pack) < 1 || box.Gross(part) > heaviest || box.GrossLimit > 0 && box.Gross(part) > box.GrossLimit {
			continue
		}
		c := Change{Kind: ByContainer, Container: code, Pack: part.Pack}
		list = append(list, candidate{change: c, on: a, edits: []Edit{ChangeContainer{a.loop, code, part.Pack}}})
	}
	slices.SortFunc(list, func(x, y candidate) int { return cmp.Compare(x.change.Container, y.change.Container) })
	return list
}

// raised lists levels of a rack, or of all the cell's where it names none, that are
// too low, or whose lanes are too short, by what the loop lacks there.
func (a asker) raised(b *board, kind ChangeKind, rack plant.RackCode) []candidate {
	var list []candidate
	for _, r := range b.tiers {
		by := a.lacks(b, r, kind)
		if by <= 0 || rack != "" && rack != r.rack.Rack {
			continue
		}
		c := candidate{change: Change{Kind: kind, Level: Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}, By: by}, on: a}
		c.on.layout.Racks = raise(a.layout.Racks, c.change)
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(x, y candidate) int { return cmp.Compare(x.change.By, y.change.By) })
	return list[:min(len(list), mostLevels)]
}

// lacks is by how much a level is too low, or its lanes too short, for the loop; 0
// where it is not, or where it is not that alone.
func (a asker) lacks(b *board, r *tier, kind ChangeKind) units.Length {
	least := units.Length(0)
	for _, side := range b.box(a.loop).Sides() {
		y := b.lie(a.loop, 1, r, side)
		along, _ := b.box(a.loop).Along(side)
		if y.side != side {
			y.side, y.along = side, along
		}
		found := b.misfits(a.loop, r, y)
		if len(found) != 1 {
			continue
		}
		by := units.Length(0)
		switch {
		case kind == ByClearHeight && found[0].Code == CodeEditTooTall:
			by = b.box(a.loop).Height + b.in.Plant.HandClearance - r.level.ClearHeight
		case kind == ByLaneLength && found[0].Code == CodeEditTooLong:
			by = along - r.level.LaneLength
		}
		if by > 0 && (least == 0 || by < least) {
			least = by
		}
	}
	return least
}

// raise returns the racks with one level changed as c says.
func raise(racks []structure.Rack, c Change) []structure.Rack {
	racks = slices.Clone(racks)
	for i := range racks {
		if racks[i].Rack != c.Level.Rack {
			continue
		}
		racks[i].Levels = slices.Clone(racks[i].Levels)
		for n := range racks[i].Levels {
			l := &racks[i].Levels[n]
			switch {
			case l.Level.Level != c.Level.Level:
			case c.Kind == ByClearHeight:
				l.ClearHeight += c.By
			default:
				l.LaneLength += c.By
			}
		}
	}
	return racks
}

// oneMore lists one rack more of each type that the cell allows, the cheapest first.
func (a asker) oneMore() []candidate {
	var list []candidate
	cell := a.in.Index.Cells[a.loop.Cell]
	for i := range a.in.Index.Plant.RackTypes {
		t := &a.in.Index.Plant.RackTypes[i]
		if a.in.Index.RackTypes[t.RackType] != t || cell != nil && len(cell.RackTypes) > 0 && !slices.Contains(cell.RackTypes, t.RackType) {
			continue
		}
		c := candidate{change: Change{Kind: ByRack, RackType: t.RackType, Width: t.Width, Beyond: a.beyond(t.Width), Cost: costOf(a.in.Index, t)}, on: a, light: true}
		c.on.layout.Racks = append(slices.Clone(a.layout.Racks), structure.Propose(a.in.Index, a.loop.Cell, t, a.newCode()))
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(x, y candidate) int {
		return cmp.Or(cmp.Compare(x.change.Beyond, y.change.Beyond), cmp.Compare(x.change.Cost, y.change.Cost), cmp.Compare(x.change.Width, y.change.Width), cmp.Compare(x.change.RackType, y.change.RackType))
	})
	return list
}

// newCode is a rack code that nothing has.
func (a asker) newCode() plant.RackCode {
	names := taken(a.layout.Racks)
	for n := 1; ; n++ {
		if code := fmt.Sprintf("%s-N%d", a.loop.Cell, n); !names[strings.ToLower(code)] {
			return plant.RackCode(code)
		}
	}
}

// beyond is what the cell's frontage lacks for one more rack of that width.
func (a asker) beyond(width units.Length) units.Length {
	cell := a.in.Index.Cells[a.loop.Cell]
	if cell == nil || cell.Frontage <= 0 {
		return 0
	}
	sum := width
	for i := range a.layout.Racks {
		if a.layout.Racks[i].Cell == a.loop.Cell {
			sum += a.layout.Racks[i].Type.Width
		}
	}
	return max(0, sum-cell.Frontage)
}
