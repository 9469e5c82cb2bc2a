package placement

import (
	"cmp"
	"math"
	"slices"
)

// relaxed are the necessary conditions of a cell with what can be proved from
// them.
type relaxed struct {
	c    *cell
	cuts []cut
	// hopeless counts the containers of loops that may lie nowhere.
	hopeless int64
	// unplaced is the proved bound.
	unplaced int64
}

func newRelaxed(c *cell) *relaxed {
	r := &relaxed{c: c, hopeless: c.hopeless()}
	if len(c.loops) > 0 {
		r.cuts = append(c.cuts(), c.pricedCut())
	}
	r.unplaced = r.hopeless + r.short(nil)
	r.refute()
	return r
}

// mostRefuted bounds the sets of racks that are looked at one after another.
const mostRefuted = 40

// refute adds cuts that the cheapest set of racks does not meet, again and again,
// until one stands; where none is left, one container more has no lane.
func (r *relaxed) refute() {
	if r.c.steps == 0 || r.c.anyFree() || len(r.c.loops) == 0 {
		return
	}
	s := newShortage(r.c)
	for range mostRefuted {
		leave := r.unplaced - r.hopeless
		set, sure := r.cheapestSet(leave)
		switch {
		case !sure:
			return
		case set == nil:
			r.unplaced++
		case s.least(set, leave) <= float64(leave):
			return
		default:
			r.cuts = append(r.cuts, s.cut())
			if r.meet(set, r.needs(leave)) {
				return
			}
		}
	}
}

// cheapestSet is the cheapest set of racks that meets every cut with leave containers
// left over, nil where there is none; it is not sure where looking took too long.
func (r *relaxed) cheapestSet(leave int64) (set []int, sure bool) {
	v := cover{r: r, left: r.needs(leave), now: make([]int, len(r.c.bases)), limit: boundless, nodes: coverNodes}
	v.keep = func(now []int, cost int64) int64 {
		set = slices.Clone(now)
		return cost
	}
	v.try(r.c.standing, 0, r.c.frontage)
	return set, v.nodes >= 0
}

// meet reports whether a set of racks has what every cut needs.
func (r *relaxed) meet(set []int, needs []float64) bool {
	for i, need := range needs {
		for b := r.c.standing; b < len(set); b++ {
			switch each := r.cuts[i].each[b-r.c.standing]; {
			case !r.c.bases[b].free:
				need -= float64(set[b]) * each
			case each > 0:
				need = 0
			}
		}
		if need > slack {
			return false
		}
	}
	return true
}

// hopeless counts the containers of loops that may lie nowhere.
func (c *cell) hopeless() int64 {
	n := int64(0)
	for i := range c.loops {
		if c.least[i] >= boundless {
			n += c.loops[i].k
		}
	}
	return n
}

// fewest is the bound on containers without a lane with what loops lack by
// themselves. A search that went no further than this would miss better layouts
// with as many, so it goes by the cuts alone.
func (r *relaxed) fewest() int64 {
	alone := make([]int64, len(r.c.loops))
	for i := range alone {
		alone[i] = r.c.beyond(i)
	}
	return max(r.unplaced, r.hopeless+r.short(alone))
}

// short adds up the bounds of cuts, each with the most that racks within the
// frontage could add to it, and of loops by themselves, that share no loop.
func (r *relaxed) short(alone []int64) int64 {
	type found struct {
		loops []int
		n     int64
	}
	var list []found
	for i := range r.cuts {
		t := &r.cuts[i]
		if n := t.short(t.standing + r.mostAdded(t)); n > 0 {
			list = append(list, found{t.loops, n})
		}
	}
	for i, n := range alone {
		if n > 0 {
			list = append(list, found{[]int{i}, n})
		}
	}
	slices.SortStableFunc(list, func(a, b found) int { return cmp.Compare(b.n, a.n) })
	used := make([]bool, len(r.c.loops))
	sum := int64(0)
	for _, f := range list {
		if slices.ContainsFunc(f.loops, func(i int) bool { return used[i] }) {
			continue
		}
		sum += f.n
		for _, i := range f.loops {
			used[i] = true
		}
	}
	return sum
}

// beyond is how many containers of loop i its levels can not hold even if nothing
// else lay there; 0 where it may lie nowhere, for then it is hopeless, or on a rack
// that may be added.
func (c *cell) beyond(i int) int64 {
	left, somewhere := c.loops[i].k, false
	for col := range c.cols {
		id := c.lay[i*len(c.cols)+col]
		if id < 0 {
			continue
		}
		b := c.cols[col].base
		if b >= c.standing {
			return 0
		}
		somewhere = true
		s := c.stallOf(col)
		for n := left; n > 0; n-- {
			if s.measure(&lot{n: n, mass: times(n, c.loops[i].gross)}, &c.lays[id], c.guide) {
				left -= n
				break
			}
		}
	}
	if !somewhere || c.least[i] >= boundless {
		return 0
	}
	return left
}

// mostAdded is the most of a cut's resource that racks within the frontage
// can add: exact for few racks, else in fractions of racks.
func (r *relaxed) mostAdded(t *cut) float64 {
	if r.c.frontage >= boundless {
		for _, e := range t.each {
			if e > 0 {
				return math.Inf(1)
			}
		}
		return 0
	}
	nodes := 2000
	var try func(k int, left int64) float64
	try = func(k int, left int64) float64 {
		if k == len(t.each) || nodes < 0 {
			return 0
		}
		width := r.c.bases[r.c.standing+k].width
		if width <= 0 {
			if t.each[k] > 0 {
				return math.Inf(1)
			}
			return try(k+1, left)
		}
		best := 0.0
		for n := int64(0); n*width <= left; n++ {
			nodes--
			best = max(best, float64(n)*t.each[k]+try(k+1, left-n*width))
		}
		return best
	}
	best := try(0, r.c.frontage)
	if nodes >= 0 {
		return best
	}
	best = 0
	for k, e := range t.each {
		best = max(best, e/float64(r.c.bases[r.c.standing+k].width)*float64(r.c.frontage))
	}
	return best
}

// needs is what each cut asks of the racks added when all but leave of the
// containers that may lie somewhere get a lane.
func (r *relaxed) needs(leave int64) []float64 {
	list := make([]float64, len(r.cuts))
	for i := range r.cuts {
		need := r.cuts[i].need(leave)
		list[i] = need*(1-1e-12) - r.cuts[i].standing
	}
	return list
}

// cheapest returns a lower bound on the cost of the racks added in any layout
// that leaves at most leave containers of loops that may lie somewhere without
// a lane. known is the cost of such a layout.
func (r *relaxed) cheapest(leave, known int64) int64 {
	if known == 0 {
		return 0
	}
	best := known
	v := cover{r: r, left: r.needs(leave), now: make([]int, len(r.c.bases)), limit: known, nodes: coverNodes}
	root := v.atLeast(r.c.standing)
	v.keep = func(_ []int, cost int64) int64 {
		best = min(best, cost)
		return best
	}
	v.try(r.c.standing, 0, r.c.frontage)
	if v.nodes < 0 {
		return min(best, root)
	}
	return best
}

// pricedCut weighs the widths of levels by the prices at which the racks that
// must be bought cost most: a condition that no level set alone gives.
func (c *cell) pricedCut() cut {
	r := newRelaxation(c, nil, 0)
	cheap := math.Inf(1)
	for b := c.standing; b < len(c.bases); b++ {
		width := 0.0
		for col := c.bases[b].first; col < c.bases[b].end; col++ {
			width += c.cols[col].reach
		}
		if width > 0 && c.bases[b].cost > 0 {
			cheap = min(cheap, float64(c.bases[b].cost)/width)
		}
	}
	if math.IsInf(cheap, 1) {
		cheap = 1
	}
	for s := range r.price {
		r.price[s] = cheap * float64(r.slots.width[s])
	}
	r.keepCosts()
	r.improve(max(0, r.value())*1.2+cheap*c.widest(), c.spend(50, 20), c.spend(60, 0))
	return c.cutAt(func(i int, add func(laneNeed)) {
		for _, o := range r.opts[r.first[i]:r.first[i+1]] {
			add(laneNeed{o.capacity, r.price[o.slot]})
		}
	}, func(col int) float64 { return r.dearest(r.twin[col]) })
}

// cutAt is the condition that prices of lanes make: no layout pays more for the lanes
// of its loops, which lanes tells with their prices, than its levels are worth.
func (c *cell) cutAt(lanes func(i int, add func(laneNeed)), worth func(col int) float64) cut {
	t := c.newCut(nil, [][]curve{make([]curve, len(c.loops))})
	for i := range c.loops {
		var tried []laneNeed
		lanes(i, func(n laneNeed) { tried = addNeed(tried, n) })
		if len(tried) > 0 {
			t.loops = append(t.loops, i)
			t.curves[0][i] = hull(c.loops[i].k, tried)
		}
	}
	for col := range c.cols {
		t.count(c, c.cols[col].base, worth(col))
	}
	return t
}

// widest is the width of the widest level.
func (c *cell) widest() float64 {
	most := 0.0
	for col := range c.cols {
		most = max(most, c.cols[col].reach)
	}
	return most
}

// mostRackSets bounds the sets of racks that are looked at one by one.
const mostRackSets = 5000

// racksWithin lists the largest sets of racks that cost no more than cost and
// fit the frontage; where there are too many, one set that holds them all.
func (c *cell) racksWithin(cost int64) [][]int {
	var list [][]int
	all := make([]int, len(c.bases))
	now := make([]int, len(c.bases))
	most := func(b int, cost, front int64) int {
		n := boundless
		if c.bases[b].cost > 0 {
			n = min(n, cost/c.bases[b].cost)
		}
		if c.bases[b].width > 0 && front < boundless {
			n = min(n, front/c.bases[b].width)
		}
		return int(n)
	}
	var try func(b int, cost, front int64)
	try = func(b int, cost, front int64) {
		for b < len(c.bases) && c.bases[b].free {
			b++
		}
		if len(list) > mostRackSets {
			return
		}
		if b == len(c.bases) {
			list = append(list, slices.Clone(now))
			return
		}
		least := 0
		if b == len(c.bases)-1 {
			least = most(b, cost, front)
		}
		for n := most(b, cost, front); n >= least; n-- {
			now[b] = n
			try(b+1, cost-int64(n)*c.bases[b].cost, front-int64(n)*c.bases[b].width)
		}
		now[b] = 0
	}
	try(c.standing, cost, c.frontage)
	if len(list) <= mostRackSets {
		return list
	}
	for b := c.standing; b < len(c.bases); b++ {
		if !c.bases[b].free {
			all[b] = most(b, cost, c.frontage)
		}
	}
	return [][]int{all}
}

// anyFree reports whether racks of a type may be added in any number.
func (c *cell) anyFree() bool {
	return slices.ContainsFunc(c.bases, func(b base) bool { return b.free })
}

// sufficient drops the sets that break a cut with leave containers left over.
func (r *relaxed) sufficient(sets [][]int, leave int64) [][]int {
	needs := r.needs(leave)
	return slices.DeleteFunc(sets, func(set []int) bool { return !r.meet(set, needs) })
}
