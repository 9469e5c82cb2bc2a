package placement

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
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
// many as the largest lane that it could have in its cell asks for.
func (b *board) needed(x loopLanes) int {
	held := 0
	for _, lane := range x.lanes {
		held += lane.Containers
	}
	left := x.size.Containers - held
	if left <= 0 {
		return len(x.lanes)
	}
	most := b.largestLane(x.size)
	if most == 0 {
		return len(x.lanes) + 1
	}
	return len(x.lanes) + (left+most-1)/most
}

// largestLane is the most containers of a loop of that size that a lane of the levels
// takes on which it may lie, those of racks that may be added included; 0 without one.
func (b *board) largestLane(l *sizing.Loop) int {
	now := b.loops[l.Key]
	b.loops[l.Key] = l
	most := 0
	for _, r := range slices.Concat(b.tiers, b.addable(l.Cell)) {
		for _, side := range b.box(l.Key).Sides() {
			if y, ok := b.may(l.Key, r, side); ok {
				most = max(most, y.capacity)
			}
		}
	}
	b.loops[l.Key] = now
	return most
}

// may is how a loop would lie on a level on one of its sides; false where it may not
// lie there so, even alone.
func (b *board) may(k demand.Key, r *tier, side plant.FlowSide) (lain, bool) {
	y := b.lie(k, 1, r, side)
	if r.rack.Cell != k.Cell || y.side != side || y.width > r.usable || !b.pinAllows(k, r) {
		return y, false
	}
	gross := b.loops[k].Gross
	if limit := r.rack.Type.MassLimit; limit > 0 && gross > limit-r.rack.Type.OwnMass || r.level.MassLimit > 0 && gross > r.level.MassLimit {
		return y, false
	}
	return y, len(b.misfits(k, r, y)) == 0
}

// pinAllows reports whether the pins of a loop allow a level.
func (b *board) pinAllows(k demand.Key, r *tier) bool {
	return pinned(&loop{pins: b.pins[k]}, r.rack, r.level.Level.Level)
}

// addable are the supply levels of the racks that may be added to a cell within its
// frontage, one rack of each type.
func (b *board) addable(code plant.CellCode) []*tier {
	if list, known := b.more[code]; known {
		return list
	}
	c := &cell{index: b.in.Index, code: code, facts: b.in.Index.Cells[code], loops: make([]loop, 1)}
	for i := range b.in.Racks {
		if r := &b.in.Racks[i]; r.Cell == code {
			c.frontage += int64(r.Type.Width)
		}
	}
	var list []*tier
	var rack structure.Rack
	for i, t := range c.addable() {
		if i == 0 {
			rack = structure.Propose(c.index, code, t, "")
		}
		if c.facts != nil && c.facts.Frontage > 0 && c.frontage+int64(t.Width) > int64(c.facts.Frontage) {
			continue
		}
		r := rack.As(t)
		for _, v := range r.Levels {
			if v.Kind == plant.Supply {
				list = append(list, b.newTier(&r, v, true))
			}
		}
	}
	b.more[code] = list
	return list
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
