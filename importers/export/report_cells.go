package export

import (
	"cmp"
	"maps"
	"slices"

	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// cellFigures are the key figures of one cell, as the Summary sheet shows
// them.
type cellFigures struct {
	cell                        plant.CellCode
	loops, placed               int
	containers, unplaced        int
	needed, used, free, room    int
	short                       int
	returnLanes                 int
	racks, proposed             int
	bound                       placement.Bound
	hasBound                    bool
	piecesPerHour, boxesPerHour float64
}

// figures counts the plan by cell.
func (r *report) figures() map[plant.CellCode]*cellFigures {
	cells := map[plant.CellCode]*cellFigures{}
	at := func(c plant.CellCode) *cellFigures {
		if cells[c] == nil {
			cells[c] = &cellFigures{cell: c}
		}
		return cells[c]
	}
	for _, c := range r.facts.Plant.Cells {
		at(c.Cell)
	}
	for _, l := range r.plan.Loops {
		f := at(l.Cell)
		f.loops++
		f.containers += l.Containers
		if _, left := r.left[l.Key]; !left {
			f.placed++
		}
		rate := l.Rate.Float64() * 60
		f.piecesPerHour += rate
		f.boxesPerHour += rate / float64(l.Pack)
	}
	r.countRacks(at)
	for _, u := range r.plan.Unplaced {
		at(u.Loop.Cell).unplaced += u.Containers
	}
	for _, b := range r.plan.Balance {
		f := at(b.Cell)
		f.needed += b.Needed
		f.short += max(0, b.Needed-b.Placed)
		f.room = max(f.room, b.Room)
	}
	for _, b := range r.plan.Cells {
		f := at(b.Cell)
		f.bound, f.hasBound = b, true
	}
	return cells
}

func (r *report) countRacks(at func(plant.CellCode) *cellFigures) {
	for _, rack := range r.plan.Racks {
		f := at(rack.Cell)
		f.racks++
		if rack.Proposed {
			f.proposed++
		}
		supply, empty, back := countLanes(r.byRack[rack.Rack])
		f.used += supply
		f.free += empty
		f.returnLanes += back
	}
}

// countLanes tells supply lanes with a part, supply lanes without, and return
// lanes.
func countLanes(lanes []placement.Lane) (used, free, returning int) {
	for _, l := range lanes {
		switch {
		case l.Kind == plant.Return:
			returning++
		case l.Empty():
			free++
		default:
			used++
		}
	}
	return used, free, returning
}

// inOrder lists the cells by code.
func (r *report) inOrder() []*cellFigures {
	return slices.SortedFunc(maps.Values(r.cells), func(a, b *cellFigures) int { return cmp.Compare(a.cell, b.cell) })
}
