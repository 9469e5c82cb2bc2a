package placement

import (
	"cmp"
	"slices"
)

// picker solves the 0-1 knapsack of one level: which lots that fit side by
// side bring most profit, one of each loop. It is a depth-first search in the
// order of profit per width, cut off where even fractions of lots would not
// bring more; where it takes too long, sets of lots are listed without regard to
// their mass or, where a loop has several lots, the widths are counted in steps:
// neither makes the answer too small.
type picker struct {
	lots      []lot
	list      []int // candidates, then in order
	best, now []int
	value     float64
	nodes     int
	// work counts what was looked at.
	work int
	// parted is true where a loop has several lots. Then used marks the loops
	// that lie on the level, and wide how much of a loop's width is counted
	// already in the fractions of round.
	parted bool
	used   []bool
	wide   []int64
	seen   []int
	round  int
	// table is the most profit within so many steps, before the same without the
	// lots of the loop that is added, and taken which lot of a loop makes it, a row
	// for each loop.
	table  []float64
	before []float64
	taken  []int32
	rows   [][]int32
	// sets are those looked at, front and next the places of those that count.
	sets        []picked
	front, next []int32
	// counts tell how much of the level candidates of a width leave.
	counts []widthCount
}

// pickNodes bounds the search for one level, partedNodes the same where a loop
// has several lots; pickSteps are the steps into which a width is cut.
const (
	pickNodes   = 60
	partedNodes = 300
	pickSteps   = 1500
)

// most returns the largest profit of lots from the list within width and mass,
// or a bound on it, and leaves the best set found in best. All widths are whole
// multiples of grid; where that makes few steps, counting in steps is exact but
// for the mass.
func (p *picker) most(lots []lot, width, mass, grid int64, parted bool) float64 {
	p.lots, p.nodes = lots, 0
	p.prepare(parted)
	few := width/grid <= pickSteps/3
	if few {
		v := p.inSteps(width, grid)
		if p.carried() <= mass {
			return v
		}
	}
	nodes := pickNodes
	if parted {
		nodes = partedNodes
	}
	p.best, p.now, p.value, p.nodes = p.best[:0], p.now[:0], 0, nodes
	p.sort()
	p.try(0, width, mass, 0)
	p.work += (nodes - p.nodes) * len(p.list)
	switch {
	case p.nodes >= 0:
		return p.value
	case parted:
		return min(p.fractions(0, width), p.inSteps(width, max(grid, width/pickSteps)))
	}
	return min(p.fractions(0, width), p.anyMass(width))
}

// carried is the mass of the best set.
func (p *picker) carried() int64 {
	sum := int64(0)
	for _, k := range p.best {
		sum += p.lots[k].mass
	}
	return sum
}

// prepare makes room for the marks of loops.
func (p *picker) prepare(parted bool) {
	p.parted = parted
	if !parted {
		return
	}
	last := -1
	for k := range p.lots {
		last = max(last, p.lots[k].loop)
	}
	for len(p.used) <= last {
		p.used, p.wide, p.seen = append(p.used, false), append(p.wide, 0), append(p.seen, 0)
	}
}

// sort orders the candidates, those of most profit per width first.
func (p *picker) sort() {
	slices.SortFunc(p.list, func(a, b int) int {
		x, y := &p.lots[a], &p.lots[b]
		if c := compareFloats(y.profit*float64(x.width), x.profit*float64(y.width)); c != 0 {
			return c
		}
		return a - b
	})
}

// try decides about candidate at and those after it.
func (p *picker) try(at int, width, mass int64, profit float64) {
	if profit > p.value {
		p.value = profit
		p.best = append(p.best[:0], p.now...)
	}
	for ; at < len(p.list); at++ {
		if p.nodes--; p.nodes < 0 || profit+p.fractions(at, width) <= p.value {
			return
		}
		l := &p.lots[p.list[at]]
		if l.width > width || l.mass > mass || (p.parted && p.used[l.loop]) {
			continue
		}
		p.now = append(p.now, p.list[at])
		if p.parted {
			p.used[l.loop] = true
		}
		p.try(at+1, width-l.width, mass-l.mass, profit+l.profit)
		if p.parted {
			p.used[l.loop] = false
		}
		p.now = p.now[:len(p.now)-1]
	}
}

// inSteps is the most profit with the widths of lots rounded down to steps and
// no limit of mass; it leaves the lots in best.
func (p *picker) inSteps(width, step int64) float64 {
	step = max(1, step)
	n := int(width / step)
	if p.parted {
		slices.SortFunc(p.list, func(a, b int) int { return cmp.Or(cmp.Compare(p.lots[a].loop, p.lots[b].loop), cmp.Compare(a, b)) })
	}
	p.work += n * len(p.list)
	p.clearTable(n, len(p.list))
	rows := p.rows[:0]
	for from, to := 0, 0; from < len(p.list); from = to {
		to = from + 1
		for p.parted && to < len(p.list) && p.lots[p.list[to]].loop == p.lots[p.list[from]].loop {
			to++
		}
		taken := p.taken[len(rows)*(n+1) : (len(rows)+1)*(n+1)]
		p.before = append(p.before[:0], p.table...)
		for _, k := range p.list[from:to] {
			p.add(k, taken, step)
		}
		rows = append(rows, taken)
	}
	p.rows = rows
	p.best = p.best[:0]
	for r, at := len(rows)-1, n; r >= 0; r-- {
		if k := rows[r][at]; k > 0 {
			p.best = append(p.best, int(k-1))
			at -= int(p.lots[k-1].width / step)
		}
	}
	return p.table[n]
}

// clearTable makes an empty table of n steps for so many rows.
func (p *picker) clearTable(n, rows int) {
	p.table = append(p.table[:0], make([]float64, n+1)...)
	if need := (n + 1) * rows; cap(p.taken) < need {
		p.taken = make([]int32, need)
	} else {
		p.taken = p.taken[:need]
		clear(p.taken)
	}
}

// add adds one lot to the table as it was before those of its loop; taken notes
// where it is taken.
func (p *picker) add(k int, taken []int32, step int64) {
	size, profit := int(p.lots[k].width/step), p.lots[k].profit
	if size >= len(p.table) {
		return
	}
	to := p.table[size:]
	from, taken := p.before[:len(to)], taken[size:][:len(to)]
	for at, v := range from {
		if v += profit; v > to[at] {
			to[at], taken[at] = v, int32(k+1)
		}
	}
}

// groups parts the list by loop.
func (p *picker) groups() [][]int {
	var list [][]int
	for from := 0; from < len(p.list); {
		to := from + 1
		for to < len(p.list) && p.lots[p.list[to]].loop == p.lots[p.list[from]].loop {
			to++
		}
		list = append(list, p.list[from:to])
		from = to
	}
	return list
}

// dearest is the most profit within so many lanes with one lot of a group, and
// which it is, counted from 1, 0 for none.
func (p *picker) dearest(of []int, at int) (float64, int32) {
	most, by := p.table[at], int32(0)
	for _, k := range of {
		l := &p.lots[k]
		if size := int(l.width); size <= at && p.table[at-size]+l.profit > most {
			most, by = p.table[at-size]+l.profit, int32(k+1)
		}
	}
	return most, by
}

// fractions is the most profit of candidates from at on when the last may be
// cut to what is left of the width.
func (p *picker) fractions(at int, width int64) float64 {
	if p.parted {
		return p.partedFractions(at, width)
	}
	sum := 0.0
	for ; at < len(p.list); at++ {
		l := &p.lots[p.list[at]]
		if l.profit <= 0 {
			return sum
		}
		if l.width > width {
			return sum + l.profit*float64(width)/float64(l.width)
		}
		width -= l.width
		sum += l.profit
	}
	return sum
}

// partedFractions is the same with one lot of each loop: a wider lot after a
// dearer one brings no more than its own profit per width for what it is wider.
func (p *picker) partedFractions(at int, width int64) float64 {
	p.round++
	sum := 0.0
	for ; at < len(p.list); at++ {
		l := &p.lots[p.list[at]]
		if l.profit <= 0 {
			return sum
		}
		if p.used[l.loop] {
			continue
		}
		if p.seen[l.loop] != p.round {
			p.seen[l.loop], p.wide[l.loop] = p.round, 0
		}
		more := l.width - p.wide[l.loop]
		if more <= 0 {
			continue
		}
		if more > width {
			return sum + l.profit*float64(width)/float64(l.width)
		}
		width -= more
		p.wide[l.loop] = l.width
		sum += l.profit * float64(more) / float64(l.width)
	}
	return sum
}

// lanes is the most profit of lots from the list in fixed lanes, or a bound on
// it: of each width there are lanes enough, wherever they lie. The widest come
// first, so that the lanes used so far say it all.
func (p *picker) lanes(t *stall) float64 {
	p.lots = t.lots
	slices.SortFunc(p.list, func(a, b int) int {
		x, y := &t.lots[a], &t.lots[b]
		return cmp.Or(cmp.Compare(y.slot, x.slot), cmp.Compare(x.loop, y.loop), cmp.Compare(a, b))
	})
	groups := p.groups()
	n := len(t.fixed)
	p.clearTable(n, len(groups))
	for g, of := range groups {
		taken := p.taken[g*(n+1) : (g+1)*(n+1)]
		fit := t.wideEnough(t.lots[of[0]].slot)
		for at := fit; at >= 0; at-- {
			p.table[at], taken[at] = p.dearest(of, at)
		}
		for at := fit + 1; at <= n; at++ {
			if p.table[at] < p.table[at-1] {
				p.table[at], taken[at] = p.table[at-1], -1
			}
		}
	}
	p.best = p.best[:0]
	for g, at := len(groups)-1, n; g >= 0; g-- {
		for p.taken[g*(n+1)+at] < 0 {
			at--
		}
		if k := p.taken[g*(n+1)+at]; k > 0 {
			p.best = append(p.best, int(k-1))
			at -= int(t.lots[k-1].width)
		}
	}
	return p.table[n]
}

// wideEnough counts the fixed lanes of at least a width.
func (s *stall) wideEnough(width int64) int {
	n := 0
	for n < len(s.fixed) && s.fixed[n] >= width {
		n++
	}
	return n
}
