package placement

import (
	"math"
	"math/rand/v2"
	"slices"
)

// annealing improves effort by random shifts and swaps that may get worse for
// a while (simulated annealing). Goals 1 to 3 stay as they are.
type annealing struct {
	*state
	rng *rand.Rand
	// alive are the items; their ids stay alive through every step.
	alive []int
	heat  float64
}

// anneal does so many steps.
func (st *state) anneal(rng *rand.Rand, steps int, stop func() bool) {
	a := annealing{state: st, rng: rng}
	for i := range st.head {
		for id := st.head[i]; id >= 0; id = st.items[id].next {
			a.alive = append(a.alive, id)
		}
	}
	if len(a.alive) == 0 || len(st.shelves) < 2 || steps <= 0 {
		return
	}
	first := a.spread() * 0.15
	if first == 0 {
		return
	}
	const last = 1e-3
	for n := range steps {
		if n%128 == 0 {
			if stop() {
				return
			}
			a.heat = first * math.Pow(last, float64(n)/float64(steps))
		}
		a.step()
	}
}

// spread is the mean difference of effort of random shifts.
func (a *annealing) spread() float64 {
	sum, n := 0.0, 0
	for range 200 {
		id, t := a.pick()
		if d := math.Abs(a.at(id, t) - a.at(id, a.items[id].shelf)); a.c.lay[a.items[id].loop*len(a.c.cols)+a.shelves[t].col] >= 0 && d > 0 {
			sum += d
			n++
		}
	}
	return sum / float64(max(1, n))
}

func (a *annealing) pick() (id, shelf int) {
	return a.alive[a.rng.IntN(len(a.alive))], a.rng.IntN(len(a.shelves))
}

// accepts says yes to what is better, and now and then to what is worse.
func (a *annealing) accepts(d float64) bool {
	return d <= 0 || a.rng.Float64() < math.Exp(-d/a.heat)
}

// step tries one random change.
func (a *annealing) step() {
	id, t := a.pick()
	it := &a.items[id]
	s := it.shelf
	sh := &a.shelves[t]
	width := a.c.cols[sh.col].width
	need := a.c.want(it.loop, sh.col, it.n)
	if s == t || need > width {
		return
	}
	gain := a.at(id, t) - a.at(id, s)
	if sh.used+need <= width {
		if a.accepts(gain) {
			a.shift(id, t)
		}
		return
	}
	if len(sh.items) == 0 {
		return
	}
	other := sh.items[a.rng.IntN(len(sh.items))]
	switch a.rng.IntN(4) {
	case 0:
		a.tryChain(id, other, a.rng.IntN(len(a.shelves)), gain)
	case 1:
		a.tryPair(id, other, sh.items[a.rng.IntN(len(sh.items))], gain)
	default:
		a.trySwap(id, other, gain)
	}
}

func (a *annealing) trySwap(id, other int, gain float64) {
	s := a.items[id].shelf
	t := a.items[other].shelf
	if a.swapFits(id, other) && a.accepts(gain+a.at(other, s)-a.at(other, t)) {
		a.swap(id, other)
	}
}

// tryChain moves id in the place of other, and other to shelf u.
func (a *annealing) tryChain(id, other, u int, gain float64) {
	t := a.items[other].shelf
	if u == t || u == a.items[id].shelf || !a.chainFits(id, other, u) {
		return
	}
	if a.accepts(gain + a.at(other, u) - a.at(other, t)) {
		a.chain(id, other, u)
	}
}

// tryPair swaps id with two items of another shelf.
func (a *annealing) tryPair(id, b, d int, gain float64) {
	s, t := a.items[id].shelf, a.items[b].shelf
	if b == d || !a.pairFits(id, b, d) {
		return
	}
	if a.accepts(gain + a.at(b, s) - a.at(b, t) + a.at(d, s) - a.at(d, t)) {
		a.pair(id, b, d)
	}
}

// shift moves an item to shelf t if it fits there.
func (st *state) shift(id, t int) bool {
	it := st.items[id]
	st.take(id)
	if st.fits(it.loop, it.n, t) {
		st.put(it.loop, it.n, t)
		return true
	}
	st.restore(id, it)
	return false
}

// swapFits compares widths only.
func (st *state) swapFits(x, y int) bool {
	a, b := &st.items[x], &st.items[y]
	s, t := &st.shelves[a.shelf], &st.shelves[b.shelf]
	return t.used-b.need+st.c.want(a.loop, t.col, a.n) <= st.c.cols[t.col].width &&
		s.used-a.need+st.c.want(b.loop, s.col, b.n) <= st.c.cols[s.col].width
}

// swap exchanges the places of two items if every rule allows it. Afterwards
// the items' ids are exchanged too.
func (st *state) swap(x, y int) bool {
	a, b := st.items[x], st.items[y]
	st.take(x)
	st.take(y)
	if st.lay(a.on(b.shelf), b.on(a.shelf)) {
		return true
	}
	st.restore(y, b)
	st.restore(x, a)
	return false
}

// on is an item on another shelf.
func (it item) on(shelf int) item {
	it.shelf = shelf
	return it
}

// lay puts items on their shelves if every rule allows it.
func (st *state) lay(list ...item) bool {
	var put [3]int
	for i, it := range list {
		if !st.fits(it.loop, it.n, it.shelf) {
			for i--; i >= 0; i-- {
				st.take(put[i])
			}
			return false
		}
		put[i] = st.put(it.loop, it.n, it.shelf)
	}
	return true
}

// chainFits compares widths only.
func (st *state) chainFits(x, y, u int) bool {
	a, b := &st.items[x], &st.items[y]
	t, v := &st.shelves[b.shelf], &st.shelves[u]
	return t.used-b.need+st.c.want(a.loop, t.col, a.n) <= st.c.cols[t.col].width &&
		v.used+st.c.want(b.loop, v.col, b.n) <= st.c.cols[v.col].width
}

// chain moves item x in the place of y, and y to shelf u.
func (st *state) chain(x, y, u int) bool {
	a, b := st.items[x], st.items[y]
	st.take(x)
	st.take(y)
	if st.lay(b.on(u), a.on(b.shelf)) {
		return true
	}
	st.restore(y, b)
	st.restore(x, a)
	return false
}

// pairFits compares widths only.
func (st *state) pairFits(x, y, z int) bool {
	a, b, d := &st.items[x], &st.items[y], &st.items[z]
	s, t := &st.shelves[a.shelf], &st.shelves[b.shelf]
	return t.used-b.need-d.need+st.c.want(a.loop, t.col, a.n) <= st.c.cols[t.col].width &&
		s.used-a.need+st.c.want(b.loop, s.col, b.n)+st.c.want(d.loop, s.col, d.n) <= st.c.cols[s.col].width
}

// pair exchanges item x with y and z of another shelf.
func (st *state) pair(x, y, z int) bool {
	a, b, d := st.items[x], st.items[y], st.items[z]
	st.take(x)
	st.take(y)
	st.take(z)
	if st.lay(a.on(b.shelf), b.on(a.shelf), d.on(a.shelf)) {
		return true
	}
	st.putBack(d)
	st.putBack(b)
	st.putBack(a)
	return false
}

// better compares two ways to lie by effort, then by containers moved against
// today.
func better(effort float64, moved int64) bool {
	return effort < -1e-9 || (effort < 1e-9 && moved < 0)
}

// mostChains bounds the chains that one pass of descend looks at.
const mostChains = 20_000_000

// descend takes every shift, swap and chain that improves effort, or else the
// moves against today's layout, until a pass over all loops brings nothing.
func (st *state) descend(stop func() bool) {
	before := st.key()
	n := len(st.items)
	st.chains = st.c.steps > 0 && n*n*len(st.shelves) <= mostChains
	st.measureLeast()
	var mine []int
	for again := true; again; {
		again = false
		for i := range st.head {
			if stop() {
				return
			}
			mine = mine[:0]
			for id := st.head[i]; id >= 0; id = st.items[id].next {
				mine = append(mine, id)
			}
			// A change gives other ids to the items that come after it.
			again = slices.ContainsFunc(mine, st.settle) || again
		}
		after := st.key()
		again = again && after.compare(before) < 0
		before = after
	}
}

// settle makes the first improving change that begins with an item.
func (st *state) settle(id int) bool {
	it := st.items[id]
	s := it.shelf
	here, moved := st.at(id, s), st.moves(id, s)
	for t := range st.shelves {
		need := st.c.want(it.loop, st.shelves[t].col, it.n)
		if t == s || need > st.c.cols[st.shelves[t].col].width {
			continue
		}
		gain, less := st.at(id, t)-here, st.moves(id, t)-moved
		if better(gain, less) && st.shift(id, t) {
			return true
		}
		room := st.c.cols[st.shelves[t].col].width - st.shelves[t].used - need
		for _, other := range st.shelves[t].items {
			if st.items[other].need+room < 0 {
				continue
			}
			rest := gain - st.at(other, t)
			if rest+st.leastAt(other) < 1e-9 && st.settleSwap(id, other, rest, less-st.moves(other, t)) {
				return true
			}
		}
	}
	return false
}

// measureLeast notes the least effort of each loop on any level.
func (st *state) measureLeast() {
	st.lightest = append(st.lightest[:0], make([]float64, len(st.head))...)
	for i := range st.lightest {
		least := math.Inf(1)
		for s := range st.shelves {
			if at := i*len(st.c.cols) + st.shelves[s].col; st.c.lay[at] >= 0 {
				least = min(least, st.c.pull[at])
			}
		}
		st.lightest[i] = least
	}
}

// leastAt is the least effort of an item on any level.
func (st *state) leastAt(id int) float64 { return st.share(id, st.lightest[st.items[id].loop]) }

// settleSwap swaps two items, or moves the second to a third shelf, when that
// is better. The gain is that of the first item less the effort and moves of
// the second where it lies.
func (st *state) settleSwap(id, other int, gain float64, less int64) bool {
	a, b := &st.items[id], &st.items[other]
	s, t := a.shelf, b.shelf
	mine := &st.shelves[s]
	if better(gain+st.at(other, s), less+st.moves(other, s)) &&
		mine.used-a.need+st.c.want(b.loop, mine.col, b.n) <= st.c.cols[mine.col].width && st.swap(id, other) {
		return true
	}
	for u := 0; st.chains && u < len(st.shelves); u++ {
		third := &st.shelves[u]
		if !better(gain+st.at(other, u), less+st.moves(other, u)) || u == s || u == t {
			continue
		}
		if third.used+st.c.want(b.loop, third.col, b.n) <= st.c.cols[third.col].width && st.chain(id, other, u) {
			return true
		}
	}
	return false
}
