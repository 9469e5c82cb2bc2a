package placement

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
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
