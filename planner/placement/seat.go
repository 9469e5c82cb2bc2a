package placement

import (
	"cmp"
	"slices"
)

// seating finds an order of lanes on one level such that foes are not
// neighbours, pinned lanes have their number and fixed lanes are wide enough.
// Its search is bounded; where it gives up, the loops count as not fitting
// together.
type seating struct {
	c      *cell
	guests []guest
	// fixed are the lanes of a level whose guides can not be moved.
	fixed  []int64
	spacer int64
	// room is the width left for empty lanes on a free level.
	room  int64
	nodes int
	seats []seat
}

// guest is a loop that wants neighbouring lanes.
type guest struct {
	loop   int
	n      int64
	ways   [2]way
	lanes  [2]int
	count  int
	seated bool
	// pinned are the lane numbers it must have.
	pinned []int
}

// seat is a stretch of lanes: of a guest, or empty (guest -1, one lane).
type seat struct {
	guest, way, lanes int
}

// seatNodes bounds the search for one level.
const seatNodes = 600

// seated reports whether the items of shelf s and n containers of loop i can
// lie side by side.
func (st *state) seated(s, i int, n int64) bool {
	st.seats.invite(st, s)
	st.seats.add(i, n, st.c.lay[i*len(st.c.cols)+st.shelves[s].col], st.adrift(i))
	return st.seats.arrange(&st.c.cols[st.shelves[s].col])
}

// invite makes guests of the items on shelf s.
func (g *seating) invite(st *state, s int) {
	g.c, g.guests = st.c, g.guests[:0]
	for _, id := range st.shelves[s].items {
		it := &st.items[id]
		g.add(it.loop, it.n, st.c.lay[it.loop*len(st.c.cols)+st.shelves[s].col], it.anchor)
	}
}

func (g *seating) add(i int, n int64, id int32, anchor bool) {
	y := &g.c.lays[id]
	w := guest{loop: i, n: n, ways: y.ways, count: y.n}
	if anchor {
		w.pinned = g.c.loops[i].lanes
	}
	for k := range y.n {
		w.lanes[k] = int(lanes(n, y.ways[k].capacity))
	}
	g.guests = append(g.guests, w)
}

// arrange seats all guests on a level and reports whether it could.
func (g *seating) arrange(col *column) bool {
	slices.SortFunc(g.guests, func(a, b guest) int { return cmp.Compare(a.loop, b.loop) })
	g.seats, g.nodes = g.seats[:0], seatNodes
	g.fixed, g.spacer = col.fixed, col.spacer
	if col.fixed != nil {
		slices.SortStableFunc(g.guests, func(a, b guest) int { return cmp.Compare(b.ways[0].width, a.ways[0].width) })
		return g.countLanes() && g.fill(0, -1, len(g.guests))
	}
	g.room = col.width
	pins := false
	for k := range g.guests {
		w := &g.guests[k]
		_, by := g.lay(w).narrowest(w.n)
		w.ways[0], w.lanes[0], w.count = by, int(lanes(w.n, by.capacity)), 1
		g.room -= times(int64(w.lanes[0]), by.width)
		pins = pins || len(w.pinned) > 0
	}
	if g.room < 0 {
		return false
	}
	if pins {
		return g.fill(0, -1, len(g.guests))
	}
	return g.line()
}

func (g *seating) lay(w *guest) *lay { return &lay{ways: w.ways, n: w.count} }

// countLanes rules out in a moment what can not fit on fixed lanes.
func (g *seating) countLanes() bool {
	need := 0
	for k := range g.guests {
		w := &g.guests[k]
		least := w.lanes[0]
		if w.count > 1 {
			least = min(least, w.lanes[1])
		}
		need += least
	}
	return need <= len(g.fixed)
}

// fill seats the guests that are left from lane at on, lane by lane; last is
// the guest in the lane before, -1 for none.
func (g *seating) fill(at, last, left int) bool {
	if left == 0 {
		return true
	}
	if g.nodes--; g.nodes < 0 || g.missed(at) {
		return false
	}
	for k := range g.guests {
		w := &g.guests[k]
		if w.seated || (last >= 0 && g.c.foe(g.guests[last].loop, w.loop)) {
			continue
		}
		for v := range w.count {
			if !g.takes(w, v, at) {
				continue
			}
			w.seated = true
			g.seats = append(g.seats, seat{k, v, w.lanes[v]})
			if g.fill(at+w.lanes[v], k, left-1) {
				return true
			}
			g.seats = g.seats[:len(g.seats)-1]
			w.seated = false
		}
	}
	return g.skip(at, left)
}

// skip leaves lane at empty.
func (g *seating) skip(at, left int) bool {
	if g.fixed != nil {
		if at >= len(g.fixed) {
			return false
		}
	} else if g.room < g.spacer {
		return false
	}
	g.room -= g.spacer
	g.seats = append(g.seats, seat{-1, 0, 1})
	if g.fill(at+1, -1, left) {
		return true
	}
	g.seats = g.seats[:len(g.seats)-1]
	g.room += g.spacer
	return false
}

// missed reports whether a guest still to be seated has a pinned lane that is
// already passed.
func (g *seating) missed(at int) bool {
	for k := range g.guests {
		if g.guests[k].seated {
			continue
		}
		for _, lane := range g.guests[k].pinned {
			if lane <= at {
				return true
			}
		}
	}
	return false
}

// takes reports whether guest w may lie in the lanes from at on.
func (g *seating) takes(w *guest, v, at int) bool {
	end := at + w.lanes[v]
	for _, lane := range w.pinned {
		if lane <= at || lane > end {
			return false
		}
	}
	if g.fixed == nil {
		return true
	}
	if end > len(g.fixed) {
		return false
	}
	for _, width := range g.fixed[at:end] {
		if width+g.c.guide < w.ways[v].width {
			return false
		}
	}
	return true
}

// line seats the guests of a free level without pinned lanes: those with foes
// among the guests in an order with few foes side by side, the others between
// them, an empty lane where there is no other.
func (g *seating) line() bool {
	var touchy, calm []int
	for k := range g.guests {
		if g.hasFoe(k) {
			touchy = append(touchy, k)
		} else {
			calm = append(calm, k)
		}
	}
	order, meets := g.calmest(touchy)
	spacers := max(0, meets-len(calm))
	if int64(spacers)*g.spacer > g.room {
		return false
	}
	for j, k := range order {
		if j > 0 && g.c.foe(g.guests[order[j-1]].loop, g.guests[k].loop) {
			if len(calm) > 0 {
				g.sit(calm[0])
				calm = calm[1:]
			} else {
				g.seats = append(g.seats, seat{-1, 0, 1})
			}
		}
		g.sit(k)
	}
	for _, k := range calm {
		g.sit(k)
	}
	return true
}

func (g *seating) sit(k int) { g.seats = append(g.seats, seat{k, 0, g.guests[k].lanes[0]}) }

func (g *seating) hasFoe(k int) bool {
	if g.c.foes == nil || !g.c.loops[g.guests[k].loop].touchy {
		return false
	}
	for j := range g.guests {
		if g.c.foe(g.guests[k].loop, g.guests[j].loop) {
			return true
		}
	}
	return false
}

// calmest orders guests so that few foes stand side by side and returns how
// many do: exactly fewest for a handful, within the bounded search for more.
func (g *seating) calmest(list []int) ([]int, int) {
	if len(list) < 2 {
		return list, 0
	}
	best := append([]int(nil), list...)
	fewest := g.meetings(best)
	now := append([]int(nil), list...)
	var try func(at, meets int)
	try = func(at, meets int) {
		if g.nodes--; g.nodes < 0 || meets >= fewest {
			return
		}
		if at == len(now) {
			fewest = meets
			copy(best, now)
			return
		}
		for _, want := range [2]int{0, 1} {
			for j := at; j < len(now); j++ {
				m := 0
				if at > 0 && g.c.foe(g.guests[now[at-1]].loop, g.guests[now[j]].loop) {
					m = 1
				}
				if m != want {
					continue
				}
				now[at], now[j] = now[j], now[at]
				try(at+1, meets+m)
				now[at], now[j] = now[j], now[at]
			}
		}
	}
	try(0, 0)
	return best, fewest
}

func (g *seating) meetings(order []int) int {
	n := 0
	for j := 1; j < len(order); j++ {
		if g.c.foe(g.guests[order[j-1]].loop, g.guests[order[j]].loop) {
			n++
		}
	}
	return n
}
