package placement

import "math/rand/v2"

// fewLoops and fewShelves are the size of a cell up to which it is polished by
// many random rebuilds; larger ones leave that to annealing.
const (
	fewLoops   = 40
	fewShelves = 120
)

// few reports whether st is that small.
func (st *state) few() bool { return len(st.c.loops) <= fewLoops && len(st.shelves) <= fewShelves }

// whim prefers any shelf as well as another.
func whim(rng *rand.Rand) rule {
	return func(*state, int, int) float64 { return rng.Float64() }
}

// light prefers the least effort.
func light(st *state, i, s int) float64 {
	return st.c.pull[i*len(st.c.cols)+st.shelves[s].col]
}

// polish rebuilds random parts of the layout of a small cell in random order
// and keeps what is better in the goals, in their order.
func (st *state) polish(rng *rand.Rand, rounds int, stop func() bool) {
	if !st.few() || len(st.shelves) == 0 {
		return
	}
	rules := []rule{light, whim(rng), snug, modest}
	now := st.key()
	trial := &state{}
	for r := range rounds {
		if stop() {
			return
		}
		trial.copyFrom(st)
		order := trial.ruin(rng)
		rng.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		if r%3 == 0 && len(order) > 0 {
			trial.spread(order[0])
		}
		trial.fill(order, rules[r%len(rules)])
		if r%2 == 0 {
			trial.mend(2, 40)
		}
		trial.divide(order)
		if k := trial.key(); k.compare(now) <= 0 {
			st.copyFrom(trial)
			now = k
		}
	}
}

// tradeTrials bounds the exchanges that are tried, by the number of loops: the
// more loops, the longer each takes.
const tradeTrials = 50_000

// trade exchanges loops that have lanes with such as have none, where that is
// better in the goals: more containers get a lane, or as many with less effort.
func (st *state) trade(stop func() bool) {
	left := tradeTrials / max(1, len(st.c.loops)+len(st.shelves))
	for st.tradeOnce(&left, stop) {
	}
}

func (st *state) tradeOnce(left *int, stop func() bool) bool {
	now := st.key()
	trial := &state{}
	for _, i := range st.short() {
		if st.c.least[i] >= boundless {
			continue
		}
		for s := range st.shelves {
			if st.c.lay[i*len(st.c.cols)+st.shelves[s].col] < 0 {
				continue
			}
			for _, id := range st.shelves[s].items {
				if *left--; *left < 0 || stop() {
					return false
				}
				trial.copyFrom(st)
				if trial.swapIn(i, id, s); trial.key().compare(now) < 0 {
					st.copyFrom(trial)
					return true
				}
			}
		}
	}
	return false
}

// swapIn gives loop i the place of an item on shelf s, and what that loop lost
// and all others miss whatever is left.
func (st *state) swapIn(i, id, s int) {
	out := st.items[id].loop
	if out == i {
		return
	}
	st.lift(out)
	if n := st.most(i, st.missing[i], s); n > 0 {
		st.put(i, n, s)
	}
	st.spread(i)
	st.fill([]int{out}, light)
	for _, j := range append([]int{out}, st.short()...) {
		if st.c.least[j] < boundless {
			st.spread(j)
		}
	}
}
