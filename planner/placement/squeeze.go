package placement

import (
	"math/rand/v2"
	"slices"
)

// squeezing empties a few levels at a time and fills them again, and keeps what
// leaves no more over: a local search on the width that is missing.
type squeezing struct {
	stower
	// levels are the shelves emptied, before what lay on them, pool the loops
	// that did or that miss a lane.
	levels []int
	before []item
	pool   []int
	short  []int
	// calm squeezing moves a loop from where it lies today only for less left over
	// or fewer splits.
	calm bool
}

// squeeze does so many rounds, or fewer where no more than target containers
// and no splits are left.
func (st *state) squeeze(rng *rand.Rand, rounds int, target int64, stop func() bool) {
	if len(st.shelves) < 2 {
		return
	}
	q := squeezing{stower: stower{state: st, rng: rng}}
	q.run(rounds, target, stop)
}

// squeezeCalmly does the same and leaves where it is what need not move.
func (st *state) squeezeCalmly(rng *rand.Rand, rounds int, target int64, stop func() bool) {
	if len(st.shelves) < 2 {
		return
	}
	q := squeezing{stower: stower{state: st, rng: rng}, calm: true}
	q.run(rounds, target, stop)
}

// squeezeCount does the same for the number of containers that are missing.
func (st *state) squeezeCount(rng *rand.Rand, rounds int, target int64, stop func() bool) {
	q := squeezing{stower: stower{state: st, rng: rng, alike: st.c.leastWorth()}}
	if len(st.shelves) >= 2 && q.alike > 0 {
		q.run(rounds, target, stop)
	}
}

func (q *squeezing) run(rounds int, target int64, stop func() bool) {
	st, rng := q.state, q.rng
	left, splits := st.unplaced(), st.key().splits
	q.short = st.wanting()
	for r, stale := 0, 0; r < rounds && stale < max(100, rounds/3); r, stale = r+1, stale+1 {
		if (left <= target && splits <= st.c.bigs) || (r%64 == 0 && stop()) {
			return
		}
		q.wild, q.split = []float64{0.1, 0.5, 1}[rng.IntN(3)], rng.IntN(2) == 0
		q.pick(2 + rng.IntN(3))
		lost, parts := q.weigh()
		moved := q.moved()
		q.empty()
		q.refill()
		if q.stray() {
			q.undo()
			continue
		}
		less, now := q.weigh()
		if less > lost+1 || (less > lost-1 && now > parts && left <= target) || (len(q.short) > 0 && now > parts+1) {
			q.undo()
			continue
		}
		if q.calm && less > lost-1 && now >= parts && q.moved() > moved {
			q.undo()
			continue
		}
		splits += now - parts
		if less < lost-1 {
			q.short, left, stale = st.wanting(), st.unplaced(), 0
		}
	}
}

// pick chooses shelves by chance, first one on which a missing loop may lie,
// and lists the loops that the choice concerns.
func (q *squeezing) pick(n int) {
	q.levels, q.before, q.pool = q.levels[:0], q.before[:0], append(q.pool[:0], q.short...)
	for try := 0; len(q.levels) < min(n, len(q.shelves)) && try < 50; try++ {
		s := q.rng.IntN(len(q.shelves))
		if slices.Contains(q.levels, s) || (len(q.levels) == 0 && try < 20 && !q.invites(s)) {
			continue
		}
		q.levels = append(q.levels, s)
		for _, id := range q.shelves[s].items {
			q.before = append(q.before, q.items[id])
			if i := q.items[id].loop; !slices.Contains(q.pool, i) {
				q.pool = append(q.pool, i)
			}
		}
	}
	slices.Sort(q.pool)
}

// invites reports whether one of the missing loops, by chance, may lie on s.
func (q *squeezing) invites(s int) bool {
	if len(q.short) == 0 {
		return true
	}
	return q.c.lay[q.short[q.rng.IntN(len(q.short))]*len(q.c.cols)+q.shelves[s].col] >= 0
}

// stray reports whether a loop of the pool lies somewhere but in none of the lanes to
// which it is pinned: the part that had them found no place again.
func (q *squeezing) stray() bool {
	return q.c.lanePins && slices.ContainsFunc(q.pool, func(i int) bool { return q.head[i] >= 0 && q.adrift(i) })
}

// weigh sums what is missing of the pool and counts its split loops.
func (q *squeezing) weigh() (lost float64, splits int) {
	for _, i := range q.pool {
		lost += float64(q.missing[i]) * q.worth(i)
		if h := q.head[i]; h >= 0 && q.items[h].next >= 0 {
			splits++
		}
	}
	return lost, splits
}

// moved counts the containers of the pool that lie elsewhere than today.
func (q *squeezing) moved() int64 {
	n := int64(0)
	for _, i := range q.pool {
		for id := q.head[i]; id >= 0 && q.calm; id = q.items[id].next {
			n += q.moves(id, q.items[id].shelf)
		}
	}
	return n
}

func (q *squeezing) empty() {
	for _, s := range q.levels {
		for k := len(q.shelves[s].items); k > 0; k-- {
			q.take(q.shelves[s].items[k-1])
		}
	}
}

func (q *squeezing) refill() {
	for _, s := range q.levels {
		q.fillShelf(q.pool, s)
	}
}

func (q *squeezing) undo() {
	q.empty()
	for _, it := range q.before {
		q.putBack(it)
	}
}
