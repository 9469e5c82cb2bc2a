package placement

import (
	"math"
	"slices"
)

// branching proves that no layout on a set of racks has less effort than the
// best known, or finds one: a depth-first branch and bound. Bids bound what is
// left, lots that cost more than the gap are closed, and where few bundles are
// left a search through them ends it; else a loop is given each of its places
// in turn.
type branching struct {
	p   *proof
	a   *auction
	set []int
	// target is the effort to beat, doubt the least bound of layouts of which
	// it is not known whether they are valid.
	target, doubt float64
}

// nodeBundles and nodeSteps bound what is spent on the search through bundles at
// one node.
const (
	nodeBundles = 6_000
	nodeSteps   = 1_500_000
)

// prove returns the least effort that layouts can have, as far as it is proved.
func (b *branching) prove() float64 {
	return min(b.node(b.a.value()), b.doubt)
}

// node returns a bound on layouts in the lots that are open, no more than target.
func (b *branching) node(bound float64) float64 {
	if bound >= b.target || *b.a.steps < 0 || b.p.stop() {
		return min(bound, b.target)
	}
	options, ok := b.fix(bound)
	if !ok {
		return b.target
	}
	if len(options) > 0 {
		if v := b.a.improve(b.target, branchRounds); v > bound {
			bound = v
			if options, ok = b.fix(bound); !ok || bound >= b.target {
				return b.target
			}
		}
	}
	i := b.hardest(options)
	steps := nodeSteps
	if i < 0 {
		steps = *b.a.steps * workPerStep
	}
	if b.search(bound, steps) {
		return b.target
	}
	if i < 0 {
		return bound
	}
	return b.branch(i, bound, options[i])
}

// branch gives loop i each of its places in turn.
func (b *branching) branch(i int, bound float64, options []place) float64 {
	slices.SortStableFunc(options, func(x, y place) int { return compareFloats(x.less, y.less) })
	offers := b.a.offers(nil)
	least := b.target
	for _, o := range options {
		if bound+o.less >= b.target {
			continue
		}
		mark := len(b.a.off)
		b.only(i, o.stall)
		b.a.offer(offers)
		least = min(least, max(bound+o.less, b.node(b.a.improve(b.target, branchRounds))))
		b.a.open(mark)
		if *b.a.steps < 0 {
			return bound
		}
	}
	return max(bound, min(least, b.target))
}

// place is a place of a loop: a stall on which it lies whole, or −1 where it
// is in parts. Less is what a layout with it is worth less at least.
type place struct {
	stall int
	less  float64
}

// only closes all lots of loop i but those of an option.
func (b *branching) only(i, stall int) {
	k := b.a.c.loops[i].k
	for s := range b.a.stalls {
		for at := range b.a.stalls[s].lots {
			l := &b.a.stalls[s].lots[at]
			if l.loop != i || (stall < 0 && l.n < k) || (stall == s && l.n == k) {
				continue
			}
			b.a.close(lotAt{s, at})
		}
	}
}

// fix closes the lots that no layout better than the target has, and lists the
// places that are left for each loop; false where one has none.
func (b *branching) fix(bound float64) ([][]place, bool) {
	list := make([][]place, len(b.a.c.loops))
	for s := range b.a.stalls {
		t := &b.a.stalls[s]
		if t.times > 0 {
			b.fixStall(s, t, bound, list)
		}
	}
	for _, i := range b.a.loops {
		if len(list[i]) == 0 {
			return nil, false
		}
	}
	return list, true
}

func (b *branching) fixStall(s int, t *stall, bound float64, list [][]place) {
	p := &b.a.pick
	*b.a.steps -= len(t.lots) * len(t.lots) / workPerStep
	b.a.pay(t)
	p.lots, p.list = t.lots, p.list[:0]
	for k := range t.lots {
		if l := &t.lots[k]; l.profit > 0 && !l.off {
			p.list = append(p.list, k)
		}
	}
	p.prepare(true)
	p.sort()
	for k := range t.lots {
		l := &t.lots[k]
		if l.off {
			continue
		}
		p.used[l.loop] = true
		less := max(0, -t.value-l.profit-p.fractions(0, t.room-l.width))
		p.used[l.loop] = false
		if bound+less >= b.target {
			b.a.close(lotAt{s, k})
			continue
		}
		at := s
		if l.n < b.a.c.loops[l.loop].k {
			at = -1
		}
		o := &list[l.loop]
		if n := slices.IndexFunc(*o, func(x place) bool { return x.stall == at }); n < 0 {
			*o = append(*o, place{at, less})
		} else {
			(*o)[n].less = min((*o)[n].less, less)
		}
	}
}

// hardest picks the loop to branch on: of those that the levels do not take
// just once, one that pays most for its room and has few places; −1 where each
// has one place.
func (b *branching) hardest(options [][]place) int {
	pays := b.pays()
	best, score := -1, math.Inf(-1)
	for _, i := range b.a.loops {
		n := len(options[i])
		if n < 2 {
			continue
		}
		v := pays[i] / float64(n)
		if math.Abs(b.a.taken[i]-1) > 1e-9 {
			v = v*100 + 1e-6
		}
		if v > score {
			best, score = i, v
		}
	}
	return best
}

// pays is the most that each loop bids beyond its effort on a level.
func (b *branching) pays() []float64 {
	list := make([]float64, len(b.a.c.loops))
	for s := range b.a.stalls {
		for k := range b.a.stalls[s].lots {
			if l := &b.a.stalls[s].lots[k]; !l.off && l.share == 1 {
				list[l.loop] = max(list[l.loop], b.a.bid[l.loop]-l.effort)
			}
		}
	}
	return list
}

// search looks through all bundles of what is open; false where there are too
// many.
func (b *branching) search(bound float64, steps int) bool {
	edge := func() float64 { return b.target - bound }
	w := b.a.newAward(edge(), nodeBundles)
	if w == nil {
		return false
	}
	w.found = func(path []chosen, spent float64) float64 {
		st, sure := w.layout(path, b.set)
		if st == nil {
			if !sure {
				b.doubt = min(b.doubt, bound+spent)
			}
			return edge()
		}
		k := st.key()
		b.target = min(b.target, k.effort*(1-1e-10))
		if k.compare(b.p.key) < 0 {
			b.p.best, b.p.key = st, k
		}
		return edge()
	}
	return w.search(steps)
}
