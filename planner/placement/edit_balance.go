package placement

import (
	"cmp"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// widthClass is a width class of a cell.
type widthClass struct {
	cell  plant.CellCode
	width units.Length
}

// balance counts the lanes of the board's cells by width class, as the search does
// for its layout. A closed lane is no room.
func (b *board) balance() []Balance {
	classes := map[widthClass]*Balance{}
	loops := map[widthClass][]demand.Key{}
	for _, k := range b.order {
		class := widthClass{k.Cell, b.class(k)}
		if classes[class] == nil {
			classes[class] = &Balance{Cell: class.cell, Width: class.width}
		}
		loops[class] = append(loops[class], k)
		classes[class].Needed += b.needed(b.still.lanes[k])
		classes[class].Placed += len(b.still.lanes[k].lanes)
	}
	list := make([]Balance, 0, len(classes))
	for class, t := range classes {
		for _, r := range b.tiers {
			if r.rack.Cell == class.cell && slices.ContainsFunc(loops[class], func(k demand.Key) bool { return b.mayLie(k, r) }) {
				t.Room += b.room(r, class.width)
			}
		}
		list = append(list, *t)
	}
	slices.SortFunc(list, func(x, y Balance) int {
		return cmp.Or(cmp.Compare(x.Cell, y.Cell), cmp.Compare(x.Width, y.Width))
	})
	return list
}

// class is the width that a lane of a loop needs on the flow side of its first lane
// or, without one, on its narrowest.
func (b *board) class(k demand.Key) units.Length {
	box := b.box(k)
	across := func(side plant.FlowSide) units.Length {
		_, w := box.Along(side)
		return w + 2*b.in.Plant.SideClearance
	}
	if lanes := b.still.lanes[k].lanes; len(lanes) > 0 {
		return across(lanes[0].Side)
	}
	least := units.Length(0)
	for _, side := range box.Sides() {
		if w := across(side); least == 0 || w < least {
			least = w
		}
	}
	return least
}

// mayLie reports whether a loop may lie on a level at all, on one of its sides.
func (b *board) mayLie(k demand.Key, r *tier) bool {
	return slices.ContainsFunc(b.box(k).Sides(), func(side plant.FlowSide) bool {
		_, ok := b.may(k, r, side)
		return ok
	})
}

// room is how many more lanes of a width a level takes as it is drawn: one in each
// empty lane between others or of fixed width, and as many as fit behind the last
// that is in use or closed.
func (b *board) room(r *tier, width units.Length) int {
	d, guide := b.still.drawn[r], b.in.Plant.GuideWidth
	free := func(l Lane) bool { return l.Empty() && !slices.Contains(d.closed, l.Lane) }
	end := len(d.lanes)
	for !r.fixed() && end > 0 && free(d.lanes[end-1]) {
		end--
	}
	n, used := 0, units.Length(0)
	for _, l := range d.lanes[:end] {
		used = l.Offset + l.Width + guide
		if free(l) && l.Width >= width && l.Offset+l.Width <= r.usable {
			n++
		}
	}
	if left := r.usable + guide - used; !r.fixed() && left > 0 {
		n += int(left / (width + guide))
	}
	return n
}
