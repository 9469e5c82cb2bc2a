package placement

import (
	"cmp"
	"math/rand/v2"
	"slices"
)

// rule scores a shelf for a loop that fits there, lower is better.
type rule func(st *state, i, s int) float64

// snug prefers the level that leaves the least width over.
func snug(st *state, i, s int) float64 {
	sh := &st.shelves[s]
	return float64(st.c.cols[sh.col].width - sh.used - st.c.want(i, sh.col, st.missing[i]))
}

// modest prefers levels on which few loops may lie, then the snug ones: low
// containers leave the high levels to the high ones.
func modest(st *state, i, s int) float64 {
	col := st.shelves[s].col
	return float64(st.c.popular[col])*1e13 + snug(st, i, s)
}

// priced prefers little effort plus the price of the width taken.
func priced(price []float64) rule {
	return func(st *state, i, s int) float64 {
		col := st.shelves[s].col
		return st.c.pull[i*len(st.c.cols)+col] + price[col]*float64(st.c.want(i, col, st.c.loops[i].k))
	}
}

// homely prefers the levels of today's layout.
func homely(other rule) rule {
	return func(st *state, i, s int) float64 {
		if st.c.home[i*len(st.c.cols)+st.shelves[s].col] {
			return -1e18 + other(st, i, s)
		}
		return other(st, i, s)
	}
}

// best returns the shelf on which the missing containers of loop i fit with
// the least score, -1 where they fit nowhere.
func (st *state) best(i int, score rule) int {
	best, least := -1, 0.0
	C := len(st.c.cols)
	n := st.missing[i]
	for s := range st.shelves {
		sh := &st.shelves[s]
		if sh.used+st.c.whole[i*C+sh.col] > st.c.cols[sh.col].width && n == st.c.loops[i].k {
			continue
		}
		v := score(st, i, s)
		if (best < 0 || v < least) && st.fits(i, n, s) {
			best, least = s, v
		}
	}
	return best
}

// fill places loops whole, one by one, where the rule likes them best; those
// too wide for any level are shared out at once.
func (st *state) fill(order []int, score rule) {
	for _, i := range order {
		if st.c.big[i] {
			st.spread(i)
			continue
		}
		if st.missing[i] == 0 || st.head[i] >= 0 {
			continue
		}
		if s := st.best(i, score); s >= 0 {
			st.put(i, st.missing[i], s)
		}
	}
}

// pool lists the loops that have no lane at all, the widest first.
func (st *state) pool() []int {
	var list []int
	for i, n := range st.missing {
		if n > 0 && st.head[i] < 0 && st.c.least[i] < boundless {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(st.c.least[b], st.c.least[a]) })
	return list
}

// mend places loops of the pool whole by moving others out of their way, at
// most depth deep, and returns how many it placed.
func (st *state) mend(depth, budget int) int {
	placed := 0
	for _, i := range st.pool() {
		left := budget
		if st.insert(i, depth, &left) {
			placed++
		}
	}
	return placed
}

// insert places loop i whole, by ejecting another loop that finds a new place
// itself, and so on. Where it fails the layout is as before.
func (st *state) insert(i, depth int, budget *int) bool {
	if s := st.best(i, snug); s >= 0 {
		st.put(i, st.missing[i], s)
		return true
	}
	if depth == 0 {
		return false
	}
	n := st.c.loops[i].k
	for s := range st.shelves {
		sh := &st.shelves[s]
		need := st.c.whole[i*len(st.c.cols)+sh.col]
		width := st.c.cols[sh.col].width
		if need > width {
			continue
		}
		for p := 0; p < len(sh.items); p++ {
			id := sh.items[p]
			it := st.items[id]
			if sh.used-it.need+need > width || it.loop == i {
				continue
			}
			if *budget--; *budget < 0 {
				return false
			}
			if st.eject(i, n, id, depth, budget) {
				return true
			}
		}
	}
	return false
}

// eject puts n containers of loop i in the place of an item when that finds a
// new place.
func (st *state) eject(i int, n int64, id, depth int, budget *int) bool {
	it := st.items[id]
	if it.n != st.c.loops[it.loop].k {
		return false
	}
	st.take(id)
	if st.fits(i, n, it.shelf) {
		mine := st.put(i, n, it.shelf)
		if st.insert(it.loop, depth-1, budget) {
			return true
		}
		st.take(mine)
	}
	st.restore(id, it)
	return false
}

// restore puts back the item that was taken last, with its id, to its place
// among the items of its shelf, so that whoever walks over them goes on
// undisturbed.
func (st *state) restore(id int, it item) {
	if now := st.putBack(it); now != id {
		panic("placement: an item was restored out of turn")
	}
	items := st.shelves[it.shelf].items
	last := len(items) - 1
	items[it.pos], items[last] = items[last], items[it.pos]
	st.items[items[last]].pos = last
	st.items[items[it.pos]].pos = it.pos
}

// divide lays what is missing on several levels, lane by lane, the stretches
// as long as they can be. It returns true when nothing that could lie
// somewhere is missing.
func (st *state) divide(order []int) bool {
	done := true
	for _, i := range order {
		if st.c.least[i] < boundless && st.missing[i] > 0 {
			st.spread(i)
			done = done && st.missing[i] == 0
		}
	}
	return done
}

// spread lays the missing containers of loop i in the largest free stretches,
// the last of them where they leave least over.
func (st *state) spread(i int) {
	for st.missing[i] > 0 {
		best, most, over := -1, int64(0), int64(0)
		for s := range st.shelves {
			n := st.most(i, st.missing[i], s)
			if n == 0 || n < most {
				continue
			}
			sh := &st.shelves[s]
			rest := st.c.cols[sh.col].width - sh.used - st.c.want(i, sh.col, n)
			if n > most || rest < over {
				best, most, over = s, n, rest
			}
		}
		if best < 0 {
			return
		}
		st.put(i, most, best)
	}
}

// most returns how many of n containers of loop i shelf s can take now.
func (st *state) most(i int, n int64, s int) int64 {
	c, sh := st.c, &st.shelves[s]
	id := c.lay[i*len(c.cols)+sh.col]
	if id < 0 {
		return 0
	}
	col := &c.cols[sh.col]
	if g := c.loops[i].gross; g > 0 {
		room := min(col.mass-sh.mass, c.bases[st.racks[sh.rack].base].load-st.racks[sh.rack].mass)
		n = min(n, room/g)
	}
	y := &c.lays[id]
	var best int64
	for _, w := range y.ways[:y.n] {
		fit := min(n, times((col.width-sh.used)/w.width, w.capacity))
		for fit > best && !st.fits(i, fit, s) {
			fit = (fit - 1) / w.capacity * w.capacity
		}
		best = max(best, fit)
	}
	return best
}

// join makes split loops whole where that can be done by moving others.
func (st *state) join(depth, budget int) {
	before := &state{}
	for i := range st.c.loops {
		if h := st.head[i]; h < 0 || st.items[h].next < 0 || st.c.big[i] {
			continue
		}
		before.copyFrom(st)
		st.lift(i)
		left := budget
		if !st.insert(i, depth, &left) {
			st.copyFrom(before)
		}
	}
}

// ruin lifts every loop of a few random shelves, and those that are missing or
// split, and returns them, wide ones mostly first.
func (st *state) ruin(rng *rand.Rand) []int {
	if len(st.shelves) == 0 {
		return nil
	}
	out := map[int]bool{}
	for i := range st.c.loops {
		if h := st.head[i]; st.c.least[i] < boundless && (st.missing[i] > 0 || (h >= 0 && st.items[h].next >= 0)) {
			out[i] = true
		}
	}
	for range 2 + rng.IntN(3) {
		for _, id := range st.shelves[rng.IntN(len(st.shelves))].items {
			out[st.items[id].loop] = true
		}
	}
	order := make([]int, 0, len(out))
	for i := range out {
		order = append(order, i)
	}
	slices.Sort(order)
	for _, i := range order {
		st.lift(i)
	}
	weight := make([]float64, len(st.c.loops))
	for _, i := range order {
		weight[i] = float64(st.c.least[i]) * (0.4 + rng.Float64())
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(weight[b], weight[a]) })
	return order
}

// short lists the loops with containers missing, those first that hold most
// containers in their width.
func (st *state) short() []int {
	var list []int
	for i, n := range st.missing {
		if n > 0 {
			list = append(list, i)
		}
	}
	dense := func(i int) float64 { return float64(st.c.loops[i].k) / float64(max(1, st.c.least[i])) }
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(dense(b), dense(a)) })
	return list
}
