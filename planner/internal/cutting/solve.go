package cutting

import (
	"context"
	"math/rand/v2"

	"lanewright/planner/internal/patterns"
	"lanewright/planner/search"
)

// Options limit and seed a search.
type Options struct {
	// Steps is the number of elementary operations to spend; 0 is DefaultSteps.
	// What is begun is finished.
	Steps int64
	Seed  uint64
}

// DefaultSteps takes about a second.
const DefaultSteps = 200_000_000

// The share of the steps that the relaxation of the whole problem and an exact
// search may take at most.
const (
	rootShare  = 0.40
	exactShare = 0.30
	firstDives = 6
)

// solver is a search for a cutting.
type solver struct {
	k *kinds
	m *patterns.Meter
	// rooms are the sources of each room, pool the columns that are known.
	rooms [][]int
	pool  []column
	seen  map[string]int
	// root is the relaxation of the whole problem with the best duals.
	root  []share
	duals duals
	best  state
	bound int64
}

// Solve cuts the items of a problem at little cost: greedily, by rounding the
// linear relaxation and solving anew, and exactly where that can be done. It
// stops when the bound is reached, the steps are used up or the context is done.
// The same problem, steps and seed give the same result.
func Solve(ctx context.Context, p Problem, o Options) (Result, error) {
	if err := p.Check(); err != nil {
		return Result{}, err
	}
	if o.Steps <= 0 {
		o.Steps = DefaultSteps
	}
	k := newKinds(p)
	s := newSolver(&k, patterns.NewMeter(ctx, o.Steps))
	s.best = k.begin()
	k.giveUp(&s.best)
	if k.alike() {
		if err := s.pack(ctx, o); err != nil {
			return Result{}, err
		}
	} else {
		s.run(search.Stream(o.Seed, "cutting/dive"))
	}
	r := Result{Value: s.best.value, Dear: dear * k.dearest, Bound: s.bound, Steps: s.m.Used, Stopped: s.stopped()}
	r.Uncut = make([]int64, len(p.Items))
	named(p, &k, s.best.cuts, &r)
	return r, nil
}

func newSolver(k *kinds, m *patterns.Meter) *solver {
	s := &solver{k: k, m: m, seen: map[string]int{}}
	for i, src := range k.sources {
		if n := len(s.rooms); n > 0 && k.sources[s.rooms[n-1][0]].room == src.room {
			s.rooms[n-1] = append(s.rooms[n-1], i)
			continue
		}
		s.rooms = append(s.rooms, []int{i})
	}
	return s
}

// cost is that of a source in dearest stocks.
func (s *solver) cost(source int) float64 {
	return float64(s.k.cost(source)) / float64(s.k.dearest)
}

func (s *solver) stopped() search.Stop {
	switch {
	case s.best.value <= s.bound:
		return search.Proved
	case s.m.Cancelled:
		return search.Cancelled
	}
	return search.Limit
}

// open reports whether something better may exist and there is time to look.
func (s *solver) open() bool { return s.best.value > s.bound && s.m.On() }

// part is a share of the steps, of the default ones where there are more.
func (s *solver) part(share float64) int64 {
	return int64(share * float64(min(s.m.Most, DefaultSteps)))
}

func (s *solver) run(rng *rand.Rand) {
	s.bound = s.k.material()
	s.greedy(s.k.begin(), s.k.size)
	if s.open() {
		s.m.Within(s.part(rootShare), s.solveRoot)
	}
	if s.duals.price == nil {
		return
	}
	if s.open() {
		s.greedy(s.k.begin(), s.duals.price)
		s.dive(nil)
	}
	for n := 0; s.open() && n < firstDives; n++ {
		s.dive(rng)
	}
	if s.open() {
		s.m.Within(s.part(exactShare), s.prove)
	}
	for s.open() && len(s.root) > 0 {
		s.m.Spend(patterns.AskEvery / 64)
		s.dive(rng)
	}
}

// solveRoot solves the relaxation of the whole problem.
func (s *solver) solveRoot() {
	whole := s.k.begin()
	for _, c := range s.best.cuts {
		if c.source != uncut {
			s.learn(column{c.source, c.uses})
		}
	}
	g := newProgramme(s, &whole)
	s.root = g.solve()
	s.bound, s.duals = max(s.bound, g.known.value), g.known.duals
}

// learn gives a column its number in the pool.
func (s *solver) learn(c column) int {
	key := keyOf(c)
	id, ok := s.seen[key]
	if !ok {
		id = len(s.pool)
		s.seen[key] = id
		s.pool = append(s.pool, c)
	}
	return id
}

func keyOf(c column) string {
	b := make([]byte, 0, 8*len(c.uses)+2)
	b = number(b, int64(c.source))
	for _, u := range c.uses {
		b = number(number(b, int64(u.Kind)), u.N)
	}
	return string(b)
}

// number adds a number of 0 or more to a key.
func number(b []byte, v int64) []byte {
	for ; v > 127; v >>= 7 {
		b = append(b, byte(v&127)|128)
	}
	return append(b, byte(v))
}

// offer keeps a whole cutting if it is better than the best.
func (s *solver) offer(st state) {
	s.k.giveUp(&st)
	s.k.thrift(&st)
	if st.value < s.best.value {
		s.best = st
	}
}
