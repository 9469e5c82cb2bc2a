package placement

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// report turns a layout into the result of the cell.
func (c *cell) report(st *state, r *relaxed, stop func() bool, names map[string]bool) result {
	st, bound := c.bound(st, r, stop)
	return c.written(st, bound, names)
}

// written is the result of the cell for a layout and what was proved about it.
func (c *cell) written(st *state, bound Bound, names map[string]bool) result {
	res := result{bound: bound}
	w := writer{c: c, st: st, narrow: c.narrowest(st)}
	number := 0
	for k := range st.racks {
		rack := c.bases[st.racks[k].base].rack
		if rack.Proposed {
			rack.Rack, number = c.name(names, number)
		}
		res.racks = append(res.racks, rack)
		w.rack(k, rack)
	}
	res.lanes = w.lanes
	res.balance = w.balance()
	res.unplaced, res.findings = c.explain(st)
	res.findings = append(res.findings, c.notes(st, res.racks)...)
	return res
}

// name returns the next code for an added rack that no standing rack has.
func (c *cell) name(names map[string]bool, number int) (plant.RackCode, int) {
	for {
		number++
		code := fmt.Sprintf("%s-N%d", c.code, number)
		if !names[strings.ToLower(code)] {
			return plant.RackCode(code), number
		}
	}
}

// narrowest is the least lane width among the loops of the cell, on the flow
// side each was given or, without a lane, on its narrowest.
func (c *cell) narrowest(st *state) int64 {
	least := boundless
	for i := range c.loops {
		if w := st.class(i); w > 0 {
			least = min(least, w)
		}
	}
	return least
}

// class is the width class of loop i: the least lane width of its first lane's
// flow side or, where it has no lane, of its narrowest side. It is 0 for a loop
// without a container.
func (st *state) class(i int) int64 {
	across := func(side plant.FlowSide) int64 {
		_, w := st.c.loops[i].box.Along(side)
		return int64(w + 2*st.c.set.SideClearance)
	}
	first := -1
	for id := st.head[i]; id >= 0; id = st.items[id].next {
		if first < 0 || st.items[id].shelf < st.items[first].shelf {
			first = id
		}
	}
	if first >= 0 {
		if w := st.wayOf(first); w.capacity > 0 {
			return across(w.side)
		}
	}
	least := int64(0)
	for _, side := range st.c.loops[i].box.Sides() {
		if w := across(side); least == 0 || w < least {
			least = w
		}
	}
	return least
}

// wayOf returns how an item lies.
func (st *state) wayOf(id int) way {
	it := &st.items[id]
	s := it.shelf
	col := &st.c.cols[st.shelves[s].col]
	if col.fixed == nil {
		_, by := st.c.lays[st.c.lay[it.loop*len(st.c.cols)+st.shelves[s].col]].narrowest(it.n)
		return by
	}
	st.seats.invite(st, s)
	if !st.seats.arrange(col) {
		panic("placement: a level that was seated can not be seated again")
	}
	for _, t := range st.seats.seats {
		if t.guest >= 0 && st.seats.guests[t.guest].loop == it.loop {
			return st.seats.guests[t.guest].ways[t.way]
		}
	}
	return way{}
}

// writer writes the lanes of a cell.
type writer struct {
	c  *cell
	st *state
	// narrow is the width of the lanes that fill what is left over.
	narrow int64
	lanes  []Lane
	// room collects the free stretches of supply levels for the balance.
	room []stretchOf
}

// stretchOf is free width on a column: one stretch of a free level, guide
// included, or one lane of a fixed one.
type stretchOf struct {
	col   int
	width int64
	fixed bool
}

func (w *writer) rack(k int, rack structure.Rack) {
	at := w.st.racks[k].first
	for _, l := range rack.Levels {
		if l.Kind == plant.Supply {
			w.supply(rack, at)
			at++
		} else {
			w.back(k, rack, l)
		}
	}
}

// supply writes the lanes of a supply level from the left: those in use, then
// as many empty lanes of the cell's narrowest width class as still fit.
func (w *writer) supply(rack structure.Rack, s int) {
	sh := &w.st.shelves[s]
	col := &w.c.cols[sh.col]
	g := &w.st.seats
	g.invite(w.st, s)
	if !g.arrange(col) {
		panic("placement: a level that was seated can not be seated again")
	}
	p := pen{lane: Lane{Rack: rack.Rack, Level: col.level.Level.Level, Kind: plant.Supply}, guide: w.c.set.GuideWidth}
	for _, t := range g.seats {
		p.seat(w, g, sh.col, t)
	}
	w.rest(&p, sh.col)
	w.lanes = append(w.lanes, p.lanes...)
}

// pen writes the lanes of one level.
type pen struct {
	lane  Lane
	guide units.Length
	lanes []Lane
}

// next writes a lane of that width and moves on.
func (p *pen) next(width units.Length) *Lane {
	p.lane.Lane++
	p.lanes = append(p.lanes, p.lane)
	l := &p.lanes[len(p.lanes)-1]
	l.Width = width
	p.lane.Offset += width + p.guide
	return l
}

// seat writes the lanes of one seat; the containers fill them from the left.
func (p *pen) seat(w *writer, g *seating, at int, t seat) {
	col := &w.c.cols[at]
	if t.guest < 0 {
		width := col.spacer - w.c.guide
		if col.fixed != nil {
			width = col.fixed[len(p.lanes)]
		}
		w.room = append(w.room, stretchOf{at, width + w.c.guide, true})
		p.next(units.Length(width))
		return
	}
	guest := &g.guests[t.guest]
	by := guest.ways[t.way]
	left := guest.n
	for range t.lanes {
		width := by.width - w.c.guide
		if col.fixed != nil {
			width = col.fixed[len(p.lanes)]
		}
		l := p.next(units.Length(width))
		l.Loop, l.Side, l.Capacity = w.c.key(guest.loop), by.side, int(by.capacity)
		l.Containers = int(min(left, by.capacity))
		left -= int64(l.Containers)
	}
}

// rest writes the empty lanes to the right of those in use.
func (w *writer) rest(p *pen, at int) {
	col := &w.c.cols[at]
	if col.level.Fixed != nil {
		for k := len(p.lanes); k < len(col.level.Fixed); k++ {
			if k < len(col.fixed) {
				w.room = append(w.room, stretchOf{at, col.fixed[k] + w.c.guide, true})
			}
			p.next(col.level.Fixed[k])
		}
		return
	}
	left := col.width - int64(p.lane.Offset)
	w.room = append(w.room, stretchOf{at, left, false})
	width := w.narrow
	if width >= boundless {
		width = col.width - w.c.guide
	}
	for width > 0 && left >= width+w.c.guide {
		p.next(units.Length(width))
		left -= width + w.c.guide
	}
}

// back writes the lanes of a return level: as they are where guides are fixed,
// else as many as fit of the widest returnable container whose empties the
// rack takes back, and one of the whole usable width where that is none.
func (w *writer) back(k int, rack structure.Rack, l structure.Level) {
	p := pen{lane: Lane{Rack: rack.Rack, Level: l.Level.Level, Kind: plant.Return}, guide: w.c.set.GuideWidth}
	defer func() { w.lanes = append(w.lanes, p.lanes...) }()
	if len(l.Fixed) > 0 {
		for _, width := range l.Fixed {
			p.next(width)
		}
		return
	}
	width := w.widestReturn(k)
	if width <= 0 || width > l.UsableWidth {
		p.next(l.UsableWidth)
		return
	}
	for p.lane.Offset+width <= l.UsableWidth {
		p.next(width)
	}
}

// widestReturn is the width of the lane that the widest returnable container
// of rack k needs, on the flow side it lies on there; 0 where there is none.
func (w *writer) widestReturn(k int) units.Length {
	b := &w.c.bases[w.st.racks[k].base]
	widest := units.Length(0)
	for s := w.st.racks[k].first; s < w.st.racks[k].first+b.end-b.first; s++ {
		for _, id := range w.st.shelves[s].items {
			l := &w.c.loops[w.st.items[id].loop]
			if l.box.Returnable {
				_, across := l.box.Along(w.st.wayOf(id).side)
				widest = max(widest, across+2*w.c.set.SideClearance)
			}
		}
	}
	return widest
}

// balance counts lanes by width class.
func (w *writer) balance() []Balance {
	classes := map[int64]*Balance{}
	may := map[int64][]bool{}
	for i := range w.c.loops {
		class := w.st.class(i)
		b := classes[class]
		if b == nil {
			b = &Balance{Cell: w.c.code, Width: units.Length(class)}
			classes[class], may[class] = b, make([]bool, len(w.c.cols))
		}
		b.Needed += w.st.lanesNeeded(i)
		for col := range w.c.cols {
			may[class][col] = may[class][col] || w.c.lay[i*len(w.c.cols)+col] >= 0
		}
	}
	for _, l := range w.lanes {
		if !l.Empty() {
			classes[w.st.class(w.c.find(l))].Placed++
		}
	}
	list := make([]Balance, 0, len(classes))
	for class, b := range classes {
		for _, r := range w.room {
			switch {
			case !may[class][r.col] || r.width < class+w.c.guide:
			case r.fixed:
				b.Room++
			default:
				b.Room += int(r.width / (class + w.c.guide))
			}
		}
		list = append(list, *b)
	}
	slices.SortFunc(list, func(a, b Balance) int { return cmp.Compare(a.Width, b.Width) })
	return list
}

// find returns the loop that lies in a lane.
func (c *cell) find(l Lane) int {
	i, _ := slices.BinarySearchFunc(c.loops, l, func(a loop, l Lane) int { return a.Compare(l.Loop) })
	return i
}

// lanesNeeded is the lanes of loop i, those it has and those its missing
// containers would need where they need least.
func (st *state) lanesNeeded(i int) int {
	n := 0
	for id := st.head[i]; id >= 0; id = st.items[id].next {
		it := &st.items[id]
		n += int(lanes(it.n, st.wayOf(id).capacity))
	}
	if st.missing[i] > 0 {
		n += st.c.lanesFor(i, st.missing[i])
	}
	return n
}

// lanesFor is the least number of lanes that n containers of loop i need on any
// level it may lie on, 1 where it may lie on none.
func (c *cell) lanesFor(i int, n int64) int {
	most := int64(0)
	for col := range c.cols {
		if id := c.lay[i*len(c.cols)+col]; id >= 0 {
			for _, w := range c.lays[id].ways[:c.lays[id].n] {
				most = max(most, w.capacity)
			}
		}
	}
	if most == 0 {
		return 1
	}
	return int(lanes(n, most))
}
