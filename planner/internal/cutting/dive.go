package cutting

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"lanewright/planner/internal/packing"
)

// greedy cuts what is left of a state: again and again the pattern of greatest
// value for its cost, as often as may be.
func (s *solver) greedy(st state, value []int64) {
	for pieces(st.need) > 0 {
		c, ok := s.choose(&st, value)
		if !ok {
			break
		}
		s.k.cut(&st, c)
	}
	s.offer(st)
}

// choose is the next cut of greedy.
func (s *solver) choose(st *state, value []int64) (best cut, ok bool) {
	var goods []packing.Good
	var at []int
	for i, n := range st.need {
		if n > 0 {
			goods, at = append(goods, packing.Good{Size: s.k.size[i], Value: max(1, value[i]), Most: n}), append(at, i)
		}
	}
	most := -1.0
	for _, room := range s.rooms {
		source := -1
		for _, i := range room {
			if st.have[i] > 0 && source < 0 {
				source = i
			}
		}
		if source < 0 {
			continue
		}
		counts, worth, _, steps := packing.BestFill(s.k.sources[source].room, goods, 0, packing.Quick)
		s.m.spend(steps + 16)
		if counts == nil {
			continue
		}
		// A stock that costs nothing is used before others, the fullest first.
		ratio := float64(worth) / (float64(s.k.sources[source].cost) + 1e-9*float64(s.k.sources[source].room)/float64(s.k.sources[0].room))
		if ratio > most {
			most, ok = ratio, true
			best = cut{source: source, uses: usesOf(counts, at)}
		}
	}
	if ok {
		best.times = st.repeats(best.source, best.uses)
	}
	return best, ok
}

// usesOf turns counts of what stands at some places into counts of kinds.
func usesOf(counts []int64, at []int) []use {
	var list []use
	for i, n := range counts {
		if n > 0 {
			list = append(list, use{at[i], n})
		}
	}
	return list
}

// dive rounds a solution of the relaxation step by step: it makes the cuts of
// the whole parts of the shares and some of the greatest fractions, solves the
// rest anew, and so on. On the way every rest is cut greedily and, where it is
// small, exactly. With a random stream the fractions are weighed differently
// each time.
func (s *solver) dive(rng *rand.Rand) {
	st := s.k.begin()
	shares := s.root
	for s.open() && len(shares) > 0 {
		if !s.fix(&st, shares, rng) {
			return
		}
		s.greedy(st.clone(), s.duals.price)
		if pieces(st.need) == 0 {
			return
		}
		s.complete(st)
		g := newProgramme(s, &st)
		shares = g.solve()
		if st.value+g.known.value >= s.best.value {
			return
		}
	}
}

// fix makes the cuts of the whole parts, then of the greatest fraction and others
// that are nearly whole. It reports whether it made any.
func (s *solver) fix(st *state, shares []share, rng *rand.Rand) bool {
	before := len(st.cuts)
	order := make([]share, 0, len(shares))
	for _, sh := range shares {
		whole := math.Floor(sh.x + 1e-6)
		s.place(st, sh.column, int64(whole))
		weight := sh.x - whole
		if rng != nil {
			weight *= 0.4 + rng.Float64()
		}
		order = append(order, share{sh.column, weight})
	}
	slices.SortStableFunc(order, func(a, b share) int { return cmp.Compare(b.x, a.x) })
	more := 1 + len(order)/12
	for i, sh := range order {
		if i >= more || (i > 0 && sh.x < 0.55) {
			break
		}
		s.place(st, column{sh.source, adapted(st.need, sh.uses)}, 1)
	}
	return len(st.cuts) > before
}

// adapted puts the next shorter pieces that are needed in the place of those that
// are not, as the exchanges of the relaxation do.
func adapted(need []int64, uses []use) []use {
	count := map[int]int64{}
	for _, u := range uses {
		left := u.n
		for kind := u.kind; kind < len(need) && left > 0; kind++ {
			n := min(left, need[kind]-count[kind])
			count[kind] += n
			left -= n
		}
	}
	var list []use
	for kind := range need {
		if n := count[kind]; n > 0 {
			list = append(list, use{kind, n})
		}
	}
	return list
}

// place makes a cut so many times, or as often as it is wanted.
func (s *solver) place(st *state, c column, times int64) {
	if n := min(times, st.repeats(c.source, c.uses)); n > 0 && len(c.uses) > 0 {
		s.k.cut(st, cut{c.source, n, c.uses})
	}
}
