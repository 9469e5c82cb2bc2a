package placement

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// drawn is a tier as it comes out: its lanes, and the numbers of those closed.
type drawn struct {
	lanes  []Lane
	closed []int
}

// still is a board as drawn, kept until the next edits.
type still struct {
	drawn  map[*tier]drawn
	lanes  map[demand.Key]loopLanes
	places map[demand.Key][]berthAt
}

// hold draws the board; what is asked of it until the next edits is read off.
func (b *board) hold() {
	s := &still{map[*tier]drawn{}, map[demand.Key]loopLanes{}, map[demand.Key][]berthAt{}}
	for _, r := range b.tiers {
		for i, h := range r.berths {
			if !h.empty() {
				s.places[h.loop] = append(s.places[h.loop], berthAt{r, i})
			}
		}
	}
	b.still = s
	narrow := map[plant.CellCode]units.Length{}
	for code := range b.cells {
		narrow[code] = b.narrow(code)
	}
	for _, k := range b.order {
		s.lanes[k] = loopLanes{size: b.loops[k]}
	}
	for _, r := range b.tiers {
		d := b.draw(r, narrow[r.rack.Cell])
		s.drawn[r] = d
		for _, lane := range d.lanes {
			if !lane.Empty() {
				x := s.lanes[lane.Loop]
				x.lanes = append(x.lanes, lane)
				s.lanes[lane.Loop] = x
			}
		}
	}
}

// draw writes the lanes of a tier. One on which nothing changed keeps its own to
// the last nanometre; narrow is the width of the lanes that fill what is left over.
func (b *board) draw(r *tier, narrow units.Length) drawn {
	if r.fixed() {
		return b.drawFixed(r)
	}
	if b.untouched(r) {
		d := drawn{lanes: r.was}
		lane := 1
		for _, h := range r.berths {
			for _, i := range h.closed {
				d.closed = append(d.closed, lane+i)
			}
			lane += b.count(r, h)
		}
		return d
	}
	return b.drawFree(r, narrow)
}

// untouched reports whether the loops of a tier lie as they lay, empty lanes
// behind them apart.
func (b *board) untouched(r *tier) bool {
	alike := func(x, y berth) bool {
		return x.loop == y.loop && x.n == y.n && x.wish == y.wish && x.at == y.at && x.width == y.width && !b.resized[x.loop]
	}
	if r.fixed() || slices.EqualFunc(r.first, r.berths, alike) {
		return slices.EqualFunc(r.first, r.berths, alike)
	}
	return slices.EqualFunc(stripped(r.first), stripped(r.berths), alike)
}

// stripped is a row of berths without the empty lanes at its end.
func stripped(list []berth) []berth {
	end := len(list)
	for end > 0 && list[end-1].open() {
		end--
	}
	return list[:end]
}

// drawFree writes the lanes of a level whose guides are free: those in use close
// up from the left, and empty lanes of the narrowest width fill the rest.
func (b *board) drawFree(r *tier, narrow units.Length) drawn {
	d := drawn{}
	p := pen{lane: Lane{Rack: r.rack.Rack, Level: r.level.Level.Level, Kind: plant.Supply}, guide: b.in.Plant.GuideWidth}
	for _, h := range b.squeezed(r) {
		for _, i := range h.closed {
			d.closed = append(d.closed, len(p.lanes)+1+i)
		}
		if h.empty() {
			p.next(h.width)
			continue
		}
		y := b.of(r, h)
		left := h.n
		for range y.lanes(h.n) {
			left = y.fill(p.next(y.width), h.loop, left)
		}
	}
	if narrow <= 0 {
		narrow = r.usable
	}
	for narrow > 0 && p.lane.Offset+narrow <= r.usable {
		p.next(narrow)
	}
	d.lanes = p.lanes
	return d
}

// fill lays what is left of a loop into a lane and returns what is left then.
func (y lain) fill(l *Lane, k demand.Key, left int) int {
	l.Loop, l.Side, l.Capacity, l.Containers = k, y.side, y.capacity, min(left, y.capacity)
	return left - l.Containers
}

// squeezed is the berths of a tier without the empty lanes at its end and, where
// it is over-full, without those between, from the right as far as needed; they
// hold nothing. A lane that parts two loops which may not be neighbours stays.
func (b *board) squeezed(r *tier) []berth {
	list := slices.Clone(stripped(r.berths))
	over := b.widthOf(r, list) - r.usable
	for i := len(list) - 1; i >= 0 && over > 0; i-- {
		if !list[i].open() || b.parts(list, i) {
			continue
		}
		over -= list[i].width + b.in.Plant.GuideWidth
		list = slices.Delete(list, i, i+1)
	}
	return list
}

// parts reports whether the empty lane i stands alone between loops that must be
// kept apart.
func (b *board) parts(list []berth, i int) bool {
	if i == 0 || i == len(list)-1 || list[i-1].empty() || list[i+1].empty() {
		return false
	}
	x, y := b.in.Index.Parts[list[i-1].loop.Part], b.in.Index.Parts[list[i+1].loop.Part]
	return x != nil && y != nil && apart(*x, *y)
}

// widthOf is what berths side by side take, guides between them.
func (b *board) widthOf(r *tier, list []berth) units.Length {
	sum := -b.in.Plant.GuideWidth
	for _, h := range list {
		if h.empty() {
			sum += h.width + b.in.Plant.GuideWidth
			continue
		}
		sum += b.of(r, h).takes(h.n, b.in.Plant.GuideWidth)
	}
	return max(0, sum)
}

// narrow is the width of the lanes that fill what is left over: the least that a
// loop of the cell has, or without a lane would need; 0 without a loop.
func (b *board) narrow(cell plant.CellCode) units.Length {
	least := units.Length(0)
	across := func(k demand.Key, side plant.FlowSide) {
		_, w := b.box(k).Along(side)
		if w += 2 * b.in.Plant.SideClearance; least == 0 || w < least {
			least = w
		}
	}
	for _, k := range b.order {
		if k.Cell != cell {
			continue
		}
		if places := b.places(k); len(places) > 0 {
			across(k, b.of(places[0].tier, *places[0].berth()).side)
			continue
		}
		for _, side := range b.box(k).Sides() {
			across(k, side)
		}
	}
	return least
}

// drawFixed writes the lanes of a level whose guides can not be moved; what has no
// room stands beyond its last lane.
func (b *board) drawFixed(r *tier) drawn {
	p := pen{lane: Lane{Rack: r.rack.Rack, Level: r.level.Level.Level, Kind: plant.Supply}, guide: b.in.Plant.GuideWidth}
	taken, over := b.seatFixed(r)
	left := make([]int, len(r.berths))
	for i, h := range r.berths {
		left[i] = h.n
	}
	for i, width := range r.level.Fixed {
		l := p.next(width)
		if t := taken[i]; t >= 0 {
			left[t] = b.of(r, r.berths[t]).fill(l, r.berths[t].loop, left[t])
		}
	}
	for _, t := range over {
		y := b.of(r, r.berths[t])
		for range y.lanes(left[t]) {
			left[t] = y.fill(p.next(y.width), r.berths[t].loop, left[t])
		}
	}
	return drawn{p.lanes, slices.Clone(r.shut)}
}

// seatFixed tells which berth has each of the fixed lanes, -1 for none, and which
// berths find theirs taken. Those that no edit moved come first.
func (b *board) seatFixed(r *tier) (taken, over []int) {
	taken = make([]int, len(r.level.Fixed))
	for i := range taken {
		taken[i] = -1
	}
	for _, moved := range []bool{false, true} {
		for t, h := range r.berths {
			if h.moved != moved {
				continue
			}
			first, lanes := h.at-1, b.count(r, h)
			if first < 0 || first+lanes > len(taken) || slices.ContainsFunc(taken[first:first+lanes], func(o int) bool { return o >= 0 }) {
				over = append(over, t)
				continue
			}
			for i := range lanes {
				taken[first+i] = t
			}
		}
	}
	return taken, over
}
