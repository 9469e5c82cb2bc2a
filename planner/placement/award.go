package placement

import (
	"cmp"
	"math"
	"slices"
)

// award searches for a better layout of whole loops, and proves that there is
// none, from where an auction ended: a layout costs the auction's bound and,
// for each level, what its loops are worth less there than the best set that
// fits. Only sets that are worth no more less than the gap need be looked at.
type award struct {
	a      *auction
	set    []int
	gap    float64
	nodes  int
	stands []stand
	path   []chosen
	// kept and rows are buffers by depth.
	kept [][]bundle
	rows [][]stand
	// found is called with a whole layout and the part of the gap it leaves;
	// it returns the new gap.
	found func(path []chosen, left float64) float64
}

// stand is a stall with the bundles of loops that may still lie on one of so
// many levels.
type stand struct {
	stall, times int
	list         []bundle
	// less is what each bundle of the stall is worth less, by its loops.
	less map[uint64]float64
}

// bundle is a set of loops that fit on one level and what they are worth less
// than the best set there. Loops are bits by their place in the auction.
type bundle struct {
	loops uint64
	less  float64
}

// chosen is a bundle on one level of a stall.
type chosen struct {
	stall int
	loops uint64
}

// awardLoops, awardBundles and awardNodes bound the cells and the work.
const (
	awardLoops   = 64
	awardBundles = 20_000
	awardNodes   = 100_000
)

// newAward lists the bundles of each stall; it is nil where that takes too long.
func (a *auction) newAward(set []int, gap float64) *award {
	if len(a.loops) > awardLoops {
		return nil
	}
	w := &award{a: a, set: set, gap: gap, nodes: awardNodes}
	bit := make([]int, len(a.c.loops))
	for k, i := range a.loops {
		bit[i] = k
	}
	for s := range a.stalls {
		t := &a.stalls[s]
		times := t.times
		if t.base >= a.c.standing {
			times = set[t.base]
		}
		if times == 0 {
			continue
		}
		list, ok := a.bundles(t, bit, gap)
		if !ok {
			return nil
		}
		less := make(map[uint64]float64, len(list))
		for _, b := range list {
			less[b.loops] = b.less
		}
		w.stands = append(w.stands, stand{s, times, list, less})
	}
	return w
}

// bundles lists the sets of loops that fit on a stall and are worth no more
// less than gap, the best first; false where there are too many.
func (a *auction) bundles(t *stall, bit []int, gap float64) ([]bundle, bool) {
	col := &a.c.cols[t.col]
	order := make([]int, len(t.lots))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(x, y int) int {
		l, o := &t.lots[x], &t.lots[y]
		return compareFloats(o.profit*float64(l.width), l.profit*float64(o.width))
	})
	p := picker{lots: t.lots, list: order}
	var list []bundle
	nodes := 20 * awardBundles
	var try func(at int, width, mass int64, profit float64, loops uint64)
	try = func(at int, width, mass int64, profit float64, loops uint64) {
		if less := -t.value - profit; less <= gap {
			list = append(list, bundle{loops, max(0, less)})
		}
		for ; at < len(order); at++ {
			if nodes--; nodes < 0 || len(list) > awardBundles || -t.value-profit-p.fractions(at, width) > gap {
				return
			}
			if l := &t.lots[order[at]]; l.width <= width && l.mass <= mass {
				try(at+1, width-l.width, mass-l.mass, profit+l.profit, loops|1<<bit[l.loop])
			}
		}
	}
	try(0, int64(col.reach), min(col.mass, a.c.bases[t.base].load), 0, 0)
	slices.SortStableFunc(list, func(x, y bundle) int {
		return cmp.Or(compareFloats(x.less, y.less), cmp.Compare(x.loops, y.loops))
	})
	return list, nodes >= 0 && len(list) <= awardBundles
}

// all are the loops of the auction.
func (w *award) all() uint64 { return math.MaxUint64 >> (64 - len(w.a.loops)) }

// search looks through all layouts within the gap; false where that takes too
// long.
func (w *award) search() bool {
	switch {
	case len(w.stands) > 0:
		w.try(w.stands, 0, 0)
	case w.all() == 0:
		w.gap = w.found(nil, 0)
	}
	return w.nodes >= 0
}

// try lays bundles on the stands that are left when the loops of done lie and
// so much of the gap is spent.
func (w *award) try(left []stand, done uint64, spent float64) {
	if len(left) == 1 && left[0].times == 1 {
		w.last(left[0], w.all()&^done, spent)
		return
	}
	if w.nodes--; w.nodes < 0 {
		return
	}
	left, spare := w.compatible(left, done, spent)
	if left == nil {
		return
	}
	k := 0
	for s := range left {
		if len(left[s].list) < len(left[k].list) {
			k = s
		}
	}
	from := left[k]
	own := from.list[0].less
	left[k] = left[len(left)-1]
	rest := left[:len(left)-1]
	for n, b := range from.list {
		if b.less-own > w.gap-spare || w.nodes < 0 {
			return
		}
		if from.times > 1 {
			// Levels that are alike take their bundles in the order of the list.
			rest = append(rest[:len(left)-1], stand{from.stall, from.times - 1, from.list[n:], from.less})
		}
		w.path = append(w.path, chosen{from.stall, b.loops})
		w.try(rest, done|b.loops, spent+b.less)
		w.path = w.path[:len(w.path)-1]
	}
}

// last lays all loops that are left on the last level.
func (w *award) last(on stand, loops uint64, spent float64) {
	if less, ok := on.less[loops]; ok && spent+less <= w.gap {
		w.gap = w.found(append(w.path, chosen{on.stall, loops}), spent+less)
	}
}

// compatible keeps the bundles that share no loop with done and that the gap
// allows, and returns what at least is spent with them; nil where there is no
// layout. It writes into the buffers of its depth.
func (w *award) compatible(left []stand, done uint64, spent float64) ([]stand, float64) {
	depth := len(w.path)
	for len(w.kept) <= depth {
		w.kept, w.rows = append(w.kept, nil), append(w.rows, nil)
	}
	list := w.rows[depth][:0]
	for _, t := range left {
		k := slices.IndexFunc(t.list, func(b bundle) bool { return b.loops&done == 0 })
		if k < 0 {
			return nil, 0
		}
		list = append(list, stand{t.stall, t.times, t.list[k:], t.less})
		spent += float64(t.times) * t.list[k].less
	}
	w.rows[depth] = list
	if spent > w.gap {
		return nil, 0
	}
	may, kept := done, w.kept[depth][:0]
	for s := range list {
		from, own := len(kept), list[s].list[0].less
		for _, b := range list[s].list {
			if b.less-own > w.gap-spent {
				break
			}
			if b.loops&done == 0 {
				kept = append(kept, b)
				may |= b.loops
			}
		}
		list[s].list = kept[from:]
	}
	w.kept[depth] = kept
	if may != w.all() {
		return nil, 0
	}
	return list, spent
}

// layout lays the bundles of a path; nil where a rule that the auction does not
// know forbids it.
func (w *award) layout(path []chosen) *state {
	st := newState(w.a.c, w.set)
	twin := w.a.c.twins()
	taken := make([]bool, len(st.shelves))
	for _, p := range path {
		s := 0
		for taken[s] || twin[st.shelves[s].col] != w.a.stalls[p.stall].col {
			s++
		}
		taken[s] = true
		for k, i := range w.a.loops {
			if p.loops&(1<<k) == 0 {
				continue
			}
			if !st.fits(i, st.c.loops[i].k, s) {
				return nil
			}
			st.put(i, st.c.loops[i].k, s)
		}
	}
	return st
}
