package cutting

import (
	"math/rand/v2"

	"lanewright/planner/internal/packing"
	"lanewright/planner/internal/patterns"
)

// greedy cuts what is left of a state: again and again the pattern of greatest
// value for its cost, as often as may be.
func (s *solver) greedy(st state, value []int64) {
	for patterns.Pieces(st.need) > 0 {
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
		s.m.Spend(steps + 16)
		if counts == nil {
			continue
		}
		// A stock that costs nothing is used before others, the fullest first.
		ratio := float64(worth) / (float64(s.k.sources[source].cost) + 1e-9*float64(s.k.sources[source].room)/float64(s.k.sources[0].room))
		if ratio > most {
			most, ok = ratio, true
			best = cut{source: source, uses: patterns.Uses(counts, at)}
		}
	}
	if ok {
		best.times = st.repeats(best.source, best.uses)
	}
	return best, ok
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
		if patterns.Pieces(st.need) == 0 {
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
	list := make([]float64, len(shares))
	for i, sh := range shares {
		list[i] = sh.x
	}
	whole, more := patterns.Round(list, rng)
	for i, sh := range shares {
		s.place(st, sh.column, whole[i])
	}
	for _, i := range more {
		s.place(st, column{shares[i].source, patterns.Adapted(st.need, shares[i].uses)}, 1)
	}
	return len(st.cuts) > before
}

// place makes a cut so many times, or as often as it is wanted.
func (s *solver) place(st *state, c column, times int64) {
	if n := min(times, st.repeats(c.source, c.uses)); n > 0 && len(c.uses) > 0 {
		s.k.cut(st, cut{c.source, n, c.uses})
	}
}
