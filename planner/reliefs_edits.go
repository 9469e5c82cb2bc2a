package planner

import (
	"cmp"
	"maps"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// mostRounds is how often every level is looked through for room.
const mostRounds = 3

// byHand completes the edits of reliefs: after the change itself, loops without a lane
// are moved to where they fit; where that is not enough, all loops to where the trial
// laid them. Edits that do not come to what the relief promises, or break a rule of the
// layout, are given up.
func (t *trial) byHand(desk *Desk, list []Relief) {
	before := desk.After(nil).Broken
	for i := range list {
		r := &list[i]
		if r.Edits == nil {
			continue
		}
		change := r.Edits
		r.Edits = nil
		for _, way := range []func() []placement.Edit{
			func() []placement.Edit { return t.intoRoom(desk, change) },
			func() []placement.Edit { return append(slices.Clone(change), t.asPlaced(desk, r.layout)...) },
		} {
			edits := way()
			l := desk.After(edits)
			if _, after := l.Tally(t.cell); after.Unplaced <= r.Unplaced && !slices.ContainsFunc(placement.Worse(before, l.Broken), OfLayout) {
				r.Edits = edits
				break
			}
		}
	}
}

// OfLayout reports whether a broken rule is one of the layout itself: not that routes have
// to be planned anew, nor that something has no lane.
func OfLayout(f finding.Finding) bool {
	switch f.Code {
	case CodeEditSeldom, CodeEditLoad, CodeEditLong, CodeEditOverlap, CodeEditUnserved, placement.CodeEditUnplaced:
		return false
	}
	return true
}

// asPlaced moves loops to where a layout of the cell has them; none where it lies on racks
// that the plan has not.
func (t *trial) asPlaced(desk *Desk, to placement.Layout) (edits []placement.Edit) {
	now, then := onLevels(desk.layout.Lanes, t.cell), onLevels(to.Lanes, t.cell)
	racks := racksIn(desk.layout.Racks)
	keys := slices.SortedFunc(maps.Keys(then), demand.Key.Compare)
	for _, k := range keys {
		if slices.Equal(now[k], then[k]) {
			continue
		}
		for i, berth := range then[k] {
			if !racks[berth.at.Rack] {
				return nil
			}
			m := placement.MoveLoop{Loop: k, To: berth.at, Side: berth.side}
			if i > 0 {
				m.From, m.Containers = then[k][0].at, berth.containers
			}
			edits = append(edits, m)
		}
	}
	return edits
}

// onLevel is what of a loop lies on one level.
type onLevel struct {
	at         placement.Spot
	side       plant.FlowSide
	containers int
}

// onLevels gathers where the loops of a cell lie, level by level.
func onLevels(lanes []placement.Lane, cell plant.CellCode) map[demand.Key][]onLevel {
	of := map[demand.Key][]onLevel{}
	for _, l := range lanes {
		if l.Empty() || l.Loop.Cell != cell {
			continue
		}
		at := placement.Spot{Rack: l.Rack, Level: l.Level}
		list := of[l.Loop]
		if n := len(list); n == 0 || list[n-1].at != at {
			list = append(list, onLevel{at: at, side: l.Side})
		}
		list[len(list)-1].containers += l.Containers
		of[l.Loop] = list
	}
	return of
}

// intoRoom moves what lacks a lane after edits to where it fits at least effort.
func (t *trial) intoRoom(desk *Desk, edits []placement.Edit) []placement.Edit {
	all := slices.Clone(edits)
	for range mostRounds {
		moved := false
		for _, k := range t.missing(desk.After(all)) {
			fits, _ := desk.After(all).Fits(placement.MoveLoop{Loop: k})
			fits = slices.DeleteFunc(fits, func(f placement.Fit) bool { return len(f.Broken) > 0 || f.Here })
			if len(fits) == 0 {
				continue
			}
			best := slices.MinFunc(fits, func(a, b placement.Fit) int {
				return cmp.Or(cmp.Compare(a.Effort, b.Effort), cmp.Compare(a.At.Rack, b.At.Rack), a.At.Level-b.At.Level)
			})
			all = append(all, placement.MoveLoop{Loop: k, To: best.At, Side: best.Side})
			moved = true
		}
		if !moved {
			break
		}
	}
	return all
}

// missing are the cell's loops that lack a lane.
func (t *trial) missing(l *Laid) []demand.Key {
	var keys []demand.Key
	for _, u := range l.Cell(t.cell).Unplaced {
		keys = append(keys, u.Loop)
	}
	return keys
}
