package placement

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// stower fills one level after another with the loops that use its width best,
// lane by lane where whole loops leave too much over.
type stower struct {
	*state
	rng *rand.Rand
	// wild scales how much chance changes the order of loops; split allows a
	// loop to lie on several levels.
	wild  float64
	split bool
	// alike is what every container is worth where it is containers that count,
	// 0 where it is their width.
	alike float64
	// Of the level being filled: what may lie there, what all from one on are
	// worth and the most per width, the best choice and the one under way.
	list      []parcel
	rest      []float64
	dense     []float64
	best, now []int64
	most      float64
	nodes     int
}

// parcel is a loop that may lie on a level. Each container of it is worth the
// least width it takes anywhere, so that a level on which it takes more is
// used for something else.
type parcel struct {
	loop     int
	n        int64
	capacity int64
	width    int64
	// lanes are those that n takes, need is their width, gross the mass of one
	// container.
	lanes, need, gross int64
	each, rank         float64
}

// homeworth is what a loop is worth more on a level on which it lies today, as a
// share: little, so that it decides only between sets that fill a level alike.
const homeworth = 1e-3

// stowNodes bounds the search for what lies on one level.
const stowNodes = 400

// worthOf is the least width that one container of loop i takes.
func (c *cell) worthOf(i int) float64 { return float64(c.least[i]) / float64(max(1, c.loops[i].k)) }

// worth is what one container of loop i counts.
func (w *stower) worth(i int) float64 {
	if w.alike > 0 {
		return w.alike
	}
	return w.c.worthOf(i)
}

// leastWorth is the least width that a container of any loop takes.
func (c *cell) leastWorth() float64 {
	least := math.Inf(1)
	for i := range c.loops {
		if c.least[i] < boundless {
			least = min(least, c.worthOf(i))
		}
	}
	return least
}

// fillShelf lays loops of a pool on shelf s.
func (w *stower) fillShelf(pool []int, s int) {
	w.gather(pool, s)
	if len(w.list) == 0 {
		return
	}
	sh := &w.shelves[s]
	col := &w.c.cols[sh.col]
	w.most, w.nodes = 0, stowNodes
	clear(w.best)
	w.choose(0, col.width-sh.used, min(col.mass-sh.mass, w.c.bases[w.racks[sh.rack].base].load-w.racks[sh.rack].mass), 0)
	for p, n := range w.best {
		if n > 0 && w.fits(w.list[p].loop, n, s) {
			w.put(w.list[p].loop, n, s)
		}
	}
}

// gather lists what of the pool may lie on shelf s, the widest mostly first.
func (w *stower) gather(pool []int, s int) {
	w.list, w.rest, w.best, w.now = w.list[:0], w.rest[:0], w.best[:0], w.now[:0]
	col := w.shelves[s].col
	for _, i := range pool {
		id := w.c.lay[i*len(w.c.cols)+col]
		if w.missing[i] == 0 || id < 0 || (w.head[i] >= 0 && (!w.split || w.lies(i, s))) {
			continue
		}
		_, by := w.c.lays[id].narrowest(w.missing[i])
		width := w.c.want(i, col, w.missing[i])
		rank := float64(width)
		if w.alike > 0 {
			rank = float64(w.missing[i]) / rank
		}
		rank *= 1 - w.wild*w.rng.Float64()
		worth := w.worth(i)
		if w.c.movePrice > 0 && w.c.home[i*len(w.c.cols)+col] {
			rank, worth = 2*rank, worth*(1+homeworth)
		}
		m := lanes(w.missing[i], by.capacity)
		w.list = append(w.list, parcel{i, w.missing[i], by.capacity, by.width, m, times(m, by.width), w.c.loops[i].gross, worth, rank})
	}
	slices.SortFunc(w.list, func(a, b parcel) int {
		if c := compareFloats(b.rank, a.rank); c != 0 {
			return c
		}
		return a.loop - b.loop
	})
	w.measure()
}

// measure computes the bounds on what the list is worth.
func (w *stower) measure() {
	n := len(w.list)
	w.rest, w.dense = append(w.rest, make([]float64, n)...), append(w.dense[:0], make([]float64, n)...)
	w.best, w.now = append(w.best, make([]int64, n)...), append(w.now, make([]int64, n)...)
	sum, most := 0.0, 0.0
	for p := n - 1; p >= 0; p-- {
		x := &w.list[p]
		sum += float64(x.n) * x.each
		most = max(most, float64(min(x.n, x.capacity))*x.each/float64(x.width))
		w.rest[p], w.dense[p] = sum, most
	}
}

// choose decides about parcel p and those after it: all of its containers, full
// lanes of it, or none.
func (w *stower) choose(p int, width, mass int64, worth float64) {
	if worth > w.most {
		w.most = worth
		copy(w.best, w.now)
	}
	for ; p < len(w.list) && w.nodes >= 0 && worth+min(w.rest[p], float64(width)*w.dense[p]) > w.most+1; p++ {
		w.nodes--
		x := &w.list[p]
		if x.need <= width {
			w.include(p, x.n, x.lanes, width, mass, worth)
		}
		if !w.split && !w.c.big[x.loop] {
			continue
		}
		for m := min(x.lanes-1, width/max(1, x.width)); m > 0; m-- {
			w.include(p, m*x.capacity, m, width, mass, worth)
		}
	}
}

// include chooses so many containers of parcel p in so many lanes, and goes on.
func (w *stower) include(p int, n, lanes, width, mass int64, worth float64) {
	x := &w.list[p]
	if times(n, x.gross) > mass {
		return
	}
	w.now[p] = n
	w.choose(p+1, width-lanes*x.width, mass-n*x.gross, worth+float64(n)*x.each)
	w.now[p] = 0
}

// stow lays what is missing, level by level, those on which few loops may lie
// first.
func (st *state) stow(rng *rand.Rand, wild float64, split bool) {
	w := stower{state: st, rng: rng, wild: wild, split: split}
	order := make([]int, len(st.shelves))
	for s := range order {
		order[s] = s
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(st.c.popular[st.shelves[a].col], st.c.popular[st.shelves[b].col])
	})
	pool := st.wanting()
	for _, s := range order {
		w.fillShelf(pool, s)
	}
}

// wanting lists the loops with containers missing that may lie somewhere.
func (st *state) wanting() []int {
	var list []int
	for i, n := range st.missing {
		if n > 0 && st.c.least[i] < boundless {
			list = append(list, i)
		}
	}
	return list
}
