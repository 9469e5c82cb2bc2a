package packing

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"lanewright/planner/internal/patterns"
	"lanewright/planner/search"
)

// Options limit and seed a search.
type Options struct {
	// Steps is the number of elementary operations to spend; 0 is
	// DefaultSteps. What is begun is finished: a greedy packing or one table
	// of a knapsack may go beyond it.
	Steps int64
	Seed  uint64
}

// DefaultSteps takes about a second.
const DefaultSteps = 400_000_000

// The share of the steps that a run of value correction, the relaxation of the
// whole problem at first, an exact search of few pieces, and one round of
// repair, later and before all else, may take at most.
const (
	correctShare = 0.03
	rootShare    = 0.30
	exactShare   = 0.15
	repairShare  = 0.10
	earlyShare   = 0.02
	fewPieces    = 150
)

// firstDives is the number of dives before anything else is tried.
const firstDives = 8

// solver is a search for a packing.
type solver struct {
	k     kinds
	m     *patterns.Meter
	seed  uint64
	relax *relaxation
	root  relaxed
	// values are those of sequential value correction so far.
	values *corrected
	best   bins
	bound  int64
}

// Solve packs a problem into few bins: greedily, by rounding the linear
// relaxation, by repairing packings with a bin too few, and exactly where
// there are few pieces. It stops when the bound is reached, the steps are used
// up or the context is done. The same problem, steps and seed give the same
// result.
func Solve(ctx context.Context, p Problem, o Options) (Result, error) {
	if err := p.Check(); err != nil {
		return Result{}, err
	}
	if o.Steps <= 0 {
		o.Steps = DefaultSteps
	}
	k := newKinds(p)
	all := k.with(slices.Clone(k.need))
	fixed := k.reduce()
	s := &solver{m: patterns.NewMeter(ctx, o.Steps), seed: o.Seed}
	sub, at := k.narrow()
	s.k = sub
	s.run()
	for _, f := range s.best.fills {
		uses := make([]patterns.Use, len(f.uses))
		for i, u := range f.uses {
			uses[i] = patterns.Use{Kind: at[u.Kind], N: u.N}
		}
		fixed.add(f.times, uses)
	}
	r := Result{Count: fixed.count, Bound: fixed.count - s.best.count + s.bound, Steps: s.m.Used, Stopped: s.stopped()}
	r.Bins = named(p, all, unitOf(p), fixed)
	return r, nil
}

// LowerBound is a number that no packing is below, by size and dual-feasible
// functions alone: fast, and weaker than that of Solve.
func LowerBound(p Problem) (int64, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	k := newKinds(p)
	fixed := k.reduce()
	rest, _ := k.narrow()
	return fixed.count + dualBound(rest), nil
}

// unitOf is what all sizes have in common.
func unitOf(p Problem) int64 {
	unit := int64(0)
	for _, c := range p.Pieces {
		if c.Count > 0 {
			unit = patterns.Divisor(unit, c.Size)
		}
	}
	return max(unit, 1)
}

// open reports whether something better may exist and there is time to look.
func (s *solver) open() bool { return s.best.count > s.bound && s.m.On() }

func (s *solver) stopped() search.Stop {
	switch {
	case s.best.count == s.bound:
		return search.Proved
	case s.m.Cancelled:
		return search.Cancelled
	}
	return search.Limit
}

func (s *solver) run() {
	s.relax = newRelaxation(s.k, s.m)
	s.best.count = math.MaxInt64
	s.bound = dualBound(s.k)
	s.finish(slices.Clone(s.k.need), bins{})
	s.m.Within(s.part(correctShare), func() { s.correct(30) })
	fix := search.Stream(s.seed, "packing/repair")
	if s.open() {
		s.m.Within(s.part(earlyShare), func() { s.repair(fix) })
	}
	if s.open() {
		s.m.Within(s.part(rootShare), s.solveRoot)
	}
	if s.open() && s.root.value > float64(s.bound)+goodEnough {
		s.solveRoot()
	}
	if s.open() {
		s.dive(nil)
	}
	rng := search.Stream(s.seed, "packing/dive")
	for n := 0; s.open() && n < firstDives; n++ {
		s.dive(rng)
	}
	if s.open() && s.k.pieces() <= fewPieces {
		s.m.Within(s.part(exactShare), s.prove)
	}
	s.persist(rng, fix)
}

// solveRoot solves the relaxation of the whole problem, beginning with the best
// packing.
func (s *solver) solveRoot() {
	first := s.root.shares
	if first == nil {
		for _, f := range s.best.fills {
			first = append(first, share{f.uses, float64(f.times)})
		}
	}
	s.root = s.relax.solve(s.k.need, first, reached)
	s.bound = max(s.bound, s.root.bound)
}

// persist goes on with repairs, corrections and dives by turns until the end.
func (s *solver) persist(rng, fix *rand.Rand) {
	for s.open() {
		s.m.Within(s.part(repairShare), func() { s.repair(fix) })
		s.m.Within(s.part(correctShare), func() { s.correct(100) })
		for n := 0; s.open() && n < firstDives; n++ {
			s.dive(rng)
		}
	}
}

// part is a share of the steps, of those of a second where there are more.
func (s *solver) part(share float64) int64 {
	return int64(share * float64(min(s.m.Most, DefaultSteps)))
}

// correct tries some rounds of sequential value correction.
func (s *solver) correct(rounds int) {
	if s.values == nil {
		s.values = newCorrected(s.k, search.Stream(s.seed, "packing/values"), s.m)
	}
	for range rounds {
		if !s.open() {
			return
		}
		s.offer(bins{}, s.values.pack(s.k))
	}
}

// prove looks for packings with the bound's number of bins exactly, and raises
// the bound where there are none.
func (s *solver) prove() {
	for s.open() {
		b, found, certain := packInto(s.k, s.bound, s.root.worth, s.m)
		if found {
			s.offer(bins{}, b)
			return
		}
		if !certain {
			return
		}
		s.bound++
	}
}
