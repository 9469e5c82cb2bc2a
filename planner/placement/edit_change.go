package placement

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// change compares the lanes of a loop.
func (b *board) change(k demand.Key, was, now loopLanes) (LoopChange, bool) {
	c := LoopChange{
		Loop: k, Before: was.lanes, After: now.lanes,
		Containers: [2]int{was.size.Containers, now.size.Containers},
		Needed:     [2]int{b.needed(was), b.needed(now)},
		Effort:     [2]float64{b.effort(was), b.effort(now)},
	}
	if slices.Equal(was.lanes, now.lanes) && was.size == now.size {
		return c, false
	}
	left := map[Spot]int{}
	for _, lane := range was.lanes {
		left[Spot{Rack: lane.Rack, Level: lane.Level}] += lane.Containers
	}
	for _, lane := range now.lanes {
		at := Spot{Rack: lane.Rack, Level: lane.Level}
		stay := min(left[at], lane.Containers)
		left[at] -= stay
		c.Moved += lane.Containers - stay
	}
	if len(was.lanes) == 0 {
		c.Moved = 0
	}
	return c, true
}

// needed is the lanes that a loop needs: those it has and, for what has none, as
// many as the largest lane that it has, or could have in its cell, asks for.
func (b *board) needed(x loopLanes) int {
	held, most := 0, 0
	for _, lane := range x.lanes {
		held += lane.Containers
		most = max(most, lane.Capacity)
	}
	left := x.size.Containers - held
	if left <= 0 {
		return len(x.lanes)
	}
	if most == 0 {
		most = b.largestLane(x.size)
	}
	return len(x.lanes) + (left+most-1)/most
}

// largestLane is the most containers of a loop that a lane of its cell takes, at
// least 1.
func (b *board) largestLane(l *sizing.Loop) int {
	most := 1
	box := b.in.Index.Containers[l.Container]
	for _, r := range b.tiers {
		if box == nil || r.rack.Cell != l.Cell {
			continue
		}
		for _, side := range box.Sides() {
			if y, ok := sizing.LaneOn(*box, l.Containers, r.level.Level, b.in.Plant, side); ok {
				most = max(most, y.Capacity)
			}
		}
	}
	return most
}

// effort is a loop's effort in kg per net hour; a loop on several levels counts by
// its containers.
func (b *board) effort(x loopLanes) float64 {
	seen := b.seen(x.size.Key)
	seen.Loop = x.size
	if c := b.in.Index.Containers[x.size.Container]; c != nil {
		seen.box = *c
	}
	f := newForces(seen, b.walk)
	sum := 0.0
	for _, lane := range x.lanes {
		r := b.tier(Spot{Rack: lane.Rack, Level: lane.Level})
		sum += f.at(r.level.Level, distance(seen.station, r.rack)) * float64(lane.Containers) / float64(max(1, x.size.Containers))
	}
	return sum
}

// tallies counts each cell.
func (b *board) tallies() map[plant.CellCode]Tally {
	m := map[plant.CellCode]Tally{}
	layout := Layout{Racks: b.racks}
	in := b.in
	in.Loops = nil
	for code := range b.cells {
		m[code] = Tally{AddedCost: b.addedCost(code)}
	}
	for _, k := range b.order {
		t, x := m[k.Cell], b.still.lanes[k]
		held := 0
		levels := map[Spot]bool{}
		for _, lane := range x.lanes {
			held += lane.Containers
			levels[Spot{Rack: lane.Rack, Level: lane.Level}] = true
		}
		t.Effort += b.effort(x)
		t.Unplaced += max(0, x.size.Containers-held)
		t.Needed += b.needed(x)
		t.Used += len(x.lanes)
		if len(levels) > 1 {
			t.Splits++
		}
		m[k.Cell] = t
		layout.Lanes = append(layout.Lanes, x.lanes...)
		in.Loops = append(in.Loops, *x.size)
	}
	slices.SortFunc(layout.Lanes, compareLanes)
	for _, move := range Moves(in, layout) {
		t := m[move.Cell]
		t.Moved += move.Containers
		m[move.Cell] = t
	}
	return m
}

// addedCost is the cost of a cell's added racks on which something lies.
func (b *board) addedCost(cell plant.CellCode) float64 {
	used := map[plant.RackCode]bool{}
	for _, r := range b.tiers {
		used[r.rack.Rack] = used[r.rack.Rack] || slices.ContainsFunc(r.berths, func(h berth) bool { return !h.empty() })
	}
	cost, width := units.Money(0), units.Length(0)
	for i := range b.racks {
		if r := &b.racks[i]; r.Cell == cell && r.Proposed && used[r.Rack] {
			cost += costOf(b.in.Index, r.Type)
			width += r.Type.Width
		}
	}
	if cost == 0 {
		return width.MM()
	}
	return cost.Float64()
}
