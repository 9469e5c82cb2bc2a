package placement

import (
	"cmp"
	"slices"
)

// stall is a level, or several that are alike: times of them stand. Where times
// is 0 each added rack of base has one more. The containers without a lane lie
// on a stall that is no level: its base and col are -1.
type stall struct {
	col, base, times int
	// room is the width that lanes can fill, the number of lanes where they are
	// fixed, and the number of containers that may have no lane.
	room, mass int64
	// fixed are the widths of fixed lanes, the widest first.
	fixed []int64
	// grid divides all widths.
	grid int64
	// parted is true where a loop has several lots.
	parted bool
	lots   []lot
	// value is what the best set that fits is worth, 0 or less; chosen is it.
	value  float64
	chosen []int
}

// lot is so many containers of a loop on a level.
type lot struct {
	loop int
	n    int64
	// width is in the unit of the stall's room; slot is the least width of a
	// fixed lane.
	width, mass, slot int64
	// share is the part of the loop that it is, fee the part of a split.
	effort, share, fee float64
	// strong is a lot that brings more in the same width, -1 without one.
	strong int
	off    bool
	profit float64
}

// addStalls makes a stall of each level, and of levels that are alike.
func (a *auction) addStalls() {
	c := a.c
	twin := c.twins()
	at := make([]int, len(c.cols))
	for b := range c.bases {
		a.racked[b] = (b < c.standing || len(a.sets) == 1) && c.mayOverload(b)
	}
	for col := range c.cols {
		b := c.cols[col].base
		if b < c.standing && twin[col] != col && !a.racked[b] && !a.racked[c.cols[twin[col]].base] {
			a.stalls[at[twin[col]]].times++
			continue
		}
		if !a.there(col) {
			continue
		}
		at[col] = len(a.stalls)
		s := c.stallOf(col)
		if b < c.standing {
			s.times = 1
		} else if len(a.sets) == 1 {
			s.times = a.sets[0][b]
		}
		a.addLots(&s)
		for k := range s.lots {
			s.grid = gcd(s.grid, s.lots[k].width)
		}
		s.grid = max(1, s.grid)
		a.stalls = append(a.stalls, s)
	}
	if a.leave > 0 {
		a.addLeft()
	}
}

// stallOf is the room of a level, without lots.
func (c *cell) stallOf(col int) stall {
	b := c.cols[col].base
	s := stall{col: col, base: b, room: int64(c.cols[col].reach), mass: min(c.cols[col].mass, c.bases[b].load)}
	if c.cols[col].fixed != nil {
		s.fixed = slices.Clone(c.cols[col].fixed)
		slices.SortFunc(s.fixed, func(x, y int64) int { return cmp.Compare(y, x) })
		s.room = int64(len(s.fixed))
	}
	return s
}

// mayOverload reports whether the levels of a rack may carry more than the rack.
func (c *cell) mayOverload(b int) bool {
	if c.bases[b].load >= boundless || c.bases[b].load <= 0 {
		return false
	}
	sum := int64(0)
	for col := c.bases[b].first; col < c.bases[b].end; col++ {
		sum += min(c.cols[col].mass, c.bases[b].load, c.heaviest(col))
	}
	return sum > c.bases[b].load
}

// heaviest is the most mass that fits the width of a level, or a bound on it.
func (c *cell) heaviest(col int) int64 {
	p := picker{}
	var lots []lot
	for i := range c.loops {
		if id := c.lay[i*len(c.cols)+col]; id >= 0 {
			w, _ := c.lays[id].narrowest(c.loops[i].k)
			lots = append(lots, lot{loop: i, width: w, profit: float64(c.loops[i].k * c.loops[i].gross)})
			p.list = append(p.list, len(p.list))
		}
	}
	p.lots = lots
	p.sort()
	return int64(p.fractions(0, int64(c.cols[col].reach))) + 1
}

// addLots lists what may lie on a level: loops as a whole, and parts of those
// that may be split or lack a lane for the rest.
func (a *auction) addLots(s *stall) {
	c := a.c
	for _, i := range a.loops {
		at := i*len(c.cols) + s.col
		if c.lay[at] < 0 {
			continue
		}
		k := c.loops[i].k
		least := k
		switch {
		case c.big[i] || a.splits > 0:
			least = 1
		case a.leave > 0:
			least = max(1, k-a.leave)
		}
		strong := -1
		for n := k; n >= least; n-- {
			l := lot{loop: i, n: n, mass: times(n, c.loops[i].gross), share: float64(n) / float64(k), strong: -1}
			l.effort = c.effort[at]
			if n < k {
				l.effort = c.effort[at] * float64(n) / float64(k)
				if !c.big[i] {
					l.fee = l.share
				}
			}
			if !s.measure(&l, &c.lays[c.lay[at]], c.guide) {
				continue
			}
			if strong >= 0 && s.lots[strong].width == l.width && s.mass >= boundless {
				l.strong = strong
			} else {
				strong = len(s.lots)
			}
			s.parted = s.parted || n < k
			s.lots = append(s.lots, l)
		}
	}
}

// measure sets the width of a lot; false where it does not fit the stall.
func (s *stall) measure(l *lot, y *lay, guide int64) bool {
	if s.fixed == nil {
		l.width, _ = y.narrowest(l.n)
		return l.width <= s.room && l.mass <= s.mass
	}
	l.width, l.slot = boundless, boundless
	for _, w := range y.ways[:y.n] {
		if len(s.fixed) == 0 || s.fixed[0] < w.width-guide {
			continue
		}
		l.slot = min(l.slot, w.width-guide)
		if need := lanes(l.n, w.capacity); need <= s.room && s.fixed[need-1] >= w.width-guide {
			l.width = min(l.width, need)
		}
	}
	return l.width < boundless && l.mass <= s.mass
}

// addLeft adds the stall of containers without a lane. Where all but one part
// of a loop has none the loop is not split: it gets the fee of that part back.
func (a *auction) addLeft() {
	s := stall{col: -1, base: -1, times: 1, room: a.leave, mass: boundless, grid: 1, parted: true}
	for _, i := range a.loops {
		k := a.c.loops[i].k
		for n := int64(1); n <= min(k, a.leave); n++ {
			l := lot{loop: i, n: n, width: n, share: float64(n) / float64(k), strong: -1}
			if !a.c.big[i] {
				l.fee = float64(n-k) / float64(k)
			}
			s.lots = append(s.lots, l)
		}
	}
	a.stalls = append(a.stalls, s)
}
