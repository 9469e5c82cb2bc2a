package packing

import (
	"math/rand/v2"
	"slices"

	"lanewright/planner/internal/patterns"
)

// dive rounds a solution of the relaxation step by step: it fixes the whole
// parts of the shares and some of the greatest fractions, solves the rest
// anew, and so on. On the way every rest is also packed greedily. With a random
// stream the fractions are weighed differently each time.
func (s *solver) dive(rng *rand.Rand) {
	need := slices.Clone(s.k.need)
	var done bins
	rest := s.root
	for s.open() {
		s.fix(need, &done, rest.shares, rng)
		s.finish(need, done)
		rest = s.relax.solve(need, rest.shares, goodEnough)
		if len(rest.shares) == 0 || done.count+rest.bound >= s.best.count {
			return
		}
		s.complete(need, done, rest.worth)
	}
}

// fix takes the whole parts, then the fill of the greatest fraction and
// others that are nearly whole.
func (s *solver) fix(need []int64, done *bins, shares []share, rng *rand.Rand) {
	list := make([]float64, len(shares))
	for i, sh := range shares {
		list[i] = sh.x
	}
	whole, more := patterns.Round(list, rng)
	for i, sh := range shares {
		place(need, done, whole[i], sh.uses)
	}
	for _, i := range more {
		place(need, done, 1, patterns.Adapted(need, shares[i].uses))
	}
}

// place packs a fill so many times, or as often as the needs ask for it.
func place(need []int64, done *bins, times int64, uses []patterns.Use) {
	if n := min(times, repeats(need, uses)); n > 0 && len(uses) > 0 {
		done.add(n, uses)
		patterns.Take(need, n, uses)
	}
}

// finish packs what is left greedily and keeps the whole if it is better.
func (s *solver) finish(need []int64, done bins) {
	k := s.k.with(need)
	for _, next := range []filler{firstFit, leastSlack(s.m)} {
		s.offer(done, k.pack(next))
	}
}

// Few pieces that are left are packed exactly, in so many steps.
const (
	fewLeft     = 70
	exactFinish = 3_000_000
)

// only are the prices of some kinds.
func (w worth) only(at []int) worth {
	if w.price == nil {
		return w
	}
	sub := worth{make([]int64, len(at)), w.unit}
	for i, kind := range at {
		sub.price[i] = w.price[kind]
	}
	return sub
}

// complete looks for a packing of what is left that makes the whole better.
func (s *solver) complete(need []int64, done bins, w worth) {
	k, at := s.k.with(need).narrow()
	if !s.open() || len(at) == 0 || k.pieces() > fewLeft {
		return
	}
	s.m.Within(exactFinish, func() {
		b, found, _ := packInto(k, s.best.count-1-done.count, w.only(at), s.m)
		if !found {
			return
		}
		for _, f := range b.fills {
			for i, u := range f.uses {
				f.uses[i].Kind = at[u.Kind]
			}
		}
		s.offer(done, b)
	})
}

// offer keeps two parts of a packing together if they are fewer bins than the
// best, and teaches the relaxation their fills.
func (s *solver) offer(a, b bins) {
	if a.count+b.count >= s.best.count {
		return
	}
	s.best = a.clone()
	s.best.join(b)
	for _, f := range b.fills {
		s.relax.learn(f.uses)
	}
}
