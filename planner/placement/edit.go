package placement

import (
	"maps"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// Edit is one change that somebody makes to a layout by hand: one of MoveLoop,
// SwapLoops, PinLoop, UnpinLoop, CloseLane, OpenLane, ChangeContainer and
// ChangeInterval.
type Edit interface{ do(b *board) }

// MoveLoop lays a loop elsewhere, or a loop that has no lane somewhere. All its
// lanes there lie side by side; empty lanes at that place make way for them.
type MoveLoop struct {
	Loop demand.Key
	// To is the rack and level, and the number of its first lane there; lane 0 is
	// where the level has room, else behind its last lane in use.
	To Spot
	// From is the rack and level whose containers are meant; no rack means all of
	// them, those without a lane too.
	From Spot
	// Containers is how many are meant, those without a lane first; 0 is all.
	Containers int
	// Side is the flow side. Empty keeps the loop's, where its lanes fit the
	// length; a loop without a lane then takes the side that needs least width.
	Side plant.FlowSide
}

// SwapLoops lets two loops change places. Each must lie on one level or have no
// lane at all.
type SwapLoops struct{ A, B demand.Key }

// PinLoop says that a loop must lie on a rack, and on a level and lane where To
// has them; without a rack it is pinned to the rack and level where it lies. It
// moves nothing and takes the place of the pins that the loop has.
type PinLoop struct {
	Loop demand.Key
	To   Spot
}

// UnpinLoop takes the pins off a loop.
type UnpinLoop struct{ Loop demand.Key }

// CloseLane forbids a lane to every loop. A loop that lies there is not moved.
type CloseLane struct{ Lane Spot }

// OpenLane lets loops use a closed lane again.
type OpenLane struct{ Lane Spot }

// ChangeContainer puts a loop into another container of the plant.
type ChangeContainer struct {
	Loop      demand.Key
	Container plant.ContainerCode
	// Pack is the pieces that it holds, above 0; 0 takes as many per outside volume
	// as the container before held, rounded down, at least 1 and no more than the
	// gross limit allows.
	Pack int64
}

// ChangeInterval gives a loop another refill interval, above 0.
type ChangeInterval struct {
	Loop     demand.Key
	Interval time.Duration
}

// Apply makes edits one after the other and says what changes and which rules
// the result breaks. Nothing is repaired: a loop lies where the edits say, on a
// level too narrow for it if they say so, and every other loop stays on its level
// and in its order. On levels that an edit touches lanes close up from the left.
//
// It is a function of its arguments only: edits are undone by leaving them out.
func Apply(in Input, s Settings, l Layout, edits []Edit) Edited {
	return Further(in, s, l, nil, edits)
}

// Further makes edits on a layout on which others were made before, and says what
// changes against that; rules are said to be broken whoever broke them. Of the edits
// made before only those count that reach into the cells of the others.
func Further(in Input, s Settings, l Layout, done, edits []Edit) Edited {
	done, cells := reaching(in, l, done, edits)
	b := newBoard(in, s, l, cells)
	b.make(done)
	before, first := b.tallies(), b.still
	b.make(edits)
	return b.edited(before, first)
}

// make makes edits and draws what comes of them.
func (b *board) make(edits []Edit) {
	b.still = nil
	for _, e := range edits {
		e.do(b)
	}
	b.hold()
}

// reaching returns those of the edits made before that reach into the cells of
// others, directly or by one another, and all these cells; and those that name
// nothing that is there, for they are refused wherever one looks.
func reaching(in Input, l Layout, done, edits []Edit) ([]Edit, map[plant.CellCode]bool) {
	home := map[plant.RackCode]plant.CellCode{}
	for i := range l.Racks {
		home[l.Racks[i].Rack] = l.Racks[i].Cell
	}
	cells := cellsOf(home, edits)
	of := make([]map[plant.CellCode]bool, len(done))
	for i := range done {
		of[i] = cellsOf(home, done[i:i+1])
	}
	meet := func(some map[plant.CellCode]bool) bool {
		for c := range some {
			if cells[c] {
				return true
			}
		}
		return false
	}
	for size := -1; size < len(cells); {
		size = len(cells)
		for _, some := range of {
			if meet(some) {
				maps.Copy(cells, some)
			}
		}
	}
	var list []Edit
	for i, e := range done {
		if meet(of[i]) || len(of[i]) == 0 {
			list = append(list, e)
		}
	}
	return list, cells
}

// cellsOf lists the cells that edits touch: those of their loops and of the racks
// they name.
func cellsOf(home map[plant.RackCode]plant.CellCode, edits []Edit) map[plant.CellCode]bool {
	cells := map[plant.CellCode]bool{}
	for _, e := range edits {
		loops, spots := namedBy(e)
		for _, k := range loops {
			cells[k.Cell] = true
		}
		for _, s := range spots {
			if cell, ok := home[s.Rack]; ok {
				cells[cell] = true
			}
		}
	}
	return cells
}

// namedBy lists the loops and places that an edit names.
func namedBy(e Edit) ([]demand.Key, []Spot) {
	switch e := e.(type) {
	case MoveLoop:
		return []demand.Key{e.Loop}, []Spot{e.To, e.From}
	case SwapLoops:
		return []demand.Key{e.A, e.B}, nil
	case PinLoop:
		return []demand.Key{e.Loop}, []Spot{e.To}
	case UnpinLoop:
		return []demand.Key{e.Loop}, nil
	case CloseLane:
		return nil, []Spot{e.Lane}
	case OpenLane:
		return nil, []Spot{e.Lane}
	case ChangeContainer:
		return []demand.Key{e.Loop}, nil
	case ChangeInterval:
		return []demand.Key{e.Loop}, nil
	}
	return nil, nil
}
