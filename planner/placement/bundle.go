package placement

import (
	"math/bits"
	"slices"
)

// crowd is a set of loops of a cell of at most awardLoops. It is no array, which
// would live in memory and not in registers.
type crowd struct{ low, high uint64 }

func (w crowd) with(i int) crowd {
	if i < 64 {
		w.low |= 1 << i
	} else {
		w.high |= 1 << (i - 64)
	}
	return w
}

func (w crowd) has(i int) bool {
	if i < 64 {
		return w.low>>i&1 == 1
	}
	return w.high>>(i-64)&1 == 1
}

func (w crowd) or(o crowd) crowd      { return crowd{w.low | o.low, w.high | o.high} }
func (w crowd) and(o crowd) crowd     { return crowd{w.low & o.low, w.high & o.high} }
func (w crowd) without(o crowd) crowd { return crowd{w.low &^ o.low, w.high &^ o.high} }
func (w crowd) within(o crowd) bool   { return w.low&^o.low|w.high&^o.high == 0 }
func (w crowd) meets(o crowd) bool    { return w.low&o.low|w.high&o.high != 0 }

// tally counts each loop of the set once more.
func (w crowd) tally(count []int) {
	for word := w.low; word != 0; word &= word - 1 {
		count[bits.TrailingZeros64(word)]++
	}
	for word := w.high; word != 0; word &= word - 1 {
		count[64+bits.TrailingZeros64(word)]++
	}
}

// bundle is a set of lots that fit on one level and what they are worth less
// than the best set there. Whole are the loops that lie there whole, parts
// those of which a part does.
type bundle struct {
	whole, parts crowd
	less         float64
	// lots is where the lots stand in the list of its stall's bundles.
	lots int32
}

// with is the bundle with one lot more.
func (b bundle) with(l *lot) bundle {
	if l.share == 1 {
		b.whole = b.whole.with(l.loop)
	} else {
		b.parts = b.parts.with(l.loop)
	}
	return b
}

// bundler lists the bundles of a stall.
type bundler struct {
	a     *auction
	t     *stall
	p     picker
	gap   float64
	now   []int32
	list  []bundle
	lots  [][]int32
	nodes int
	most  int
	seats seating
}

// bundles lists the sets of lots that fit on a stall and are worth no more
// less than gap, the best first; false where there are more than most.
func (a *auction) bundles(t *stall, gap float64, most int) ([]bundle, [][]int32, bool) {
	v := bundler{a: a, t: t, gap: gap, nodes: 30 * most, most: most, p: picker{lots: t.lots}}
	for k := range t.lots {
		if !t.lots[k].off {
			v.p.list = append(v.p.list, k)
		}
	}
	v.p.prepare(!a.unsplit || t.parted)
	v.p.sort()
	v.try(0, t.room, t.mass, 0, bundle{})
	slices.SortFunc(v.list, func(x, y bundle) int {
		if c := compareFloats(x.less, y.less); c != 0 {
			return c
		}
		return slices.Compare(v.lots[x.lots], v.lots[y.lots])
	})
	*a.steps -= (30*most - v.nodes) * 8 / workPerStep
	return v.list, v.lots, v.nodes >= 0 && len(v.list) <= most
}

// try adds lots from place at of the list on to those of b.
func (v *bundler) try(at int, width, mass int64, profit float64, b bundle) {
	if less := -v.t.value - profit; less <= v.gap {
		b.less, b.lots = max(0, less), int32(len(v.lots))
		v.lots = append(v.lots, slices.Clone(v.now))
		v.list = append(v.list, b)
	}
	for ; at < len(v.p.list); at++ {
		if v.nodes--; v.nodes < 0 || len(v.list) > v.most || -v.t.value-profit-v.p.fractions(at, width) > v.gap {
			return
		}
		k := v.p.list[at]
		l := &v.t.lots[k]
		if l.width > width || l.mass > mass || (v.p.parted && v.p.used[l.loop]) {
			continue
		}
		v.now = append(v.now, int32(k))
		if v.sits() {
			if v.p.parted {
				v.p.used[l.loop] = true
			}
			v.try(at+1, width-l.width, mass-l.mass, profit+l.profit, b.with(l))
			if v.p.parted {
				v.p.used[l.loop] = false
			}
		}
		v.now = v.now[:len(v.now)-1]
	}
}

// sits reports whether the lots can lie side by side, as far as that is known
// for sure: loops to be kept apart, lanes with fixed guides, pinned lanes.
func (v *bundler) sits() bool {
	if v.t.col < 0 {
		return true
	}
	c := v.a.c
	touchy := 0
	for _, k := range v.now {
		if c.loops[v.t.lots[k].loop].touchy {
			touchy++
		}
	}
	if v.t.fixed == nil && touchy < 2 {
		return true
	}
	g := &v.seats
	g.c, g.guests = c, g.guests[:0]
	for _, k := range v.now {
		l := &v.t.lots[k]
		g.add(l.loop, l.n, c.lay[l.loop*len(c.cols)+v.t.col], v.t.fixed != nil && l.n == c.loops[l.loop].k && len(c.loops[l.loop].lanes) > 0)
	}
	return g.arrange(&c.cols[v.t.col]) || g.nodes < 0
}
