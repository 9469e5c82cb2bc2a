package cutting

import (
	"cmp"
	"math/big"
	"slices"

	"lanewright/planner/internal/patterns"
)

// tree is an exact search for a cutting that is better than the best: it branches
// on the way the longest piece that is left is cut. What is left is worth at least
// what the duals of the relaxation say, so that only patterns that waste little at
// their prices are followed.
type tree struct {
	s *solver
	d duals
	// dense is the greatest price for a unit of size from a kind on.
	dense []float64
	// seen are the least costs at which states were reached.
	seen map[string]int64
	// certain is false where the search was cut short.
	certain bool
}

// mostSeen bounds the states that are remembered, mostChoices the patterns that
// are tried for one piece.
const (
	mostSeen    = 200_000
	mostChoices = 2_000
)

func newTree(s *solver) *tree {
	t := &tree{s: s, d: s.duals, dense: make([]float64, len(s.k.size)+1), seen: map[string]int64{}, certain: true}
	for i := len(s.k.size) - 1; i >= 0; i-- {
		t.dense[i] = max(t.dense[i+1], float64(t.d.price[i])/float64(s.k.size[i]))
	}
	return t
}

// prove looks for better cuttings of the whole problem until there is none: then
// the best is the bound.
func (s *solver) prove() {
	t := newTree(s)
	t.walk(s.k.begin())
	if t.certain && s.m.On() {
		s.bound = s.best.value
	}
}

// Few pieces that are left are cut exactly, in so many steps.
const (
	fewLeft     = 60
	exactFinish = 2_000_000
)

// complete looks for a way to cut what is left that makes the whole better.
func (s *solver) complete(st state) {
	if !s.open() || patterns.Pieces(st.need) > fewLeft {
		return
	}
	s.m.Within(exactFinish, func() {
		newTree(s).walk(st.clone())
	})
}

// walk tries all ways to cut what is left.
func (t *tree) walk(st state) {
	kind := slices.IndexFunc(st.need, func(n int64) bool { return n > 0 })
	if kind < 0 {
		t.s.offer(st)
		return
	}
	if !t.s.m.Spend(int64(60*len(st.need))) || !t.s.open() {
		t.certain = t.certain && t.s.best.value <= t.s.bound
		return
	}
	worth := t.d.worth(st.need, st.have)
	if t.hopeless(st.value, worth) || t.known(&st) {
		return
	}
	for _, c := range t.choices(&st, kind, worth) {
		t.s.m.Spend(int64(50 + 2*len(st.need) + 10*len(st.cuts)))
		next := st.clone()
		t.s.k.cut(&next, cut{c.source, 1, c.uses})
		t.walk(next)
	}
}

// hopeless reports whether a state that has cost so much can not become better
// than the best.
func (t *tree) hopeless(spent int64, worth *big.Int) bool {
	return spent+t.s.k.bound(worth) >= t.s.best.value
}

// known reports whether a state was reached before at no greater cost.
func (t *tree) known(st *state) bool {
	var b []byte
	for _, n := range st.need {
		b = number(b, n)
	}
	for _, n := range st.have {
		if limited(n) {
			b = number(b, n)
		}
	}
	key := string(b)
	if cost, ok := t.seen[key]; ok && cost <= st.value {
		return true
	}
	if len(t.seen) < mostSeen {
		t.seen[key] = st.value
	}
	return false
}

// choice is a way to cut the longest piece, waste what it loses at the duals'
// prices.
type choice struct {
	column
	waste int64
}

// choices lists the patterns with a piece of a kind to which no piece that is
// left could be added, the least wasteful first; where no source is certain to be
// left for it, the piece may stay uncut too. Adding a piece to a pattern costs
// nothing, so a best cutting has such a pattern.
func (t *tree) choices(st *state, kind int, worth *big.Int) []choice {
	k := t.s.k
	e := &ways{t: t, st: st, count: make([]int64, len(st.need))}
	spare := t.spare(st, worth)
	certain := false
	for i, src := range k.sources {
		if st.have[i] > 0 && src.room >= k.size[kind] {
			certain = certain || !limited(st.have[i])
			e.source, e.cost = i, k.scaled(src.cost)+t.d.rent[i]
			e.least = float64(e.cost) - spare
			e.count[kind] = 1
			e.extend(kind, src.room-k.size[kind], t.d.price[kind])
			e.count[kind] = 0
		}
	}
	if !certain {
		e.list = append(e.list, choice{column{uncut, []patterns.Use{{Kind: kind, N: 1}}}, dear*priceUnit - t.d.price[kind]})
	}
	slices.SortStableFunc(e.list, func(a, b choice) int { return cmp.Compare(a.waste, b.waste) })
	return e.list
}

// spare is what a pattern may waste, in price units and a little more, where the
// whole is to become better than the best.
func (t *tree) spare(st *state, worth *big.Int) float64 {
	k := t.s.k
	w, _ := new(big.Float).SetInt(worth).Float64()
	most := float64(t.s.best.value-k.step-st.value) / float64(k.dearest) * float64(priceUnit)
	return (most-w)*(1+patterns.Tiny) + float64(priceUnit)*small
}

// ways lists the patterns of one piece.
type ways struct {
	t      *tree
	st     *state
	source int
	cost   int64
	// least is what a pattern must be worth.
	least float64
	count []int64
	list  []choice
}

// extend adds pieces of kinds from one on to a pattern in what room is left.
func (e *ways) extend(kind int, room, value int64) {
	k := e.t.s.k
	for kind < len(e.count) && (k.size[kind] > room || e.st.need[kind] == e.count[kind]) {
		kind++
	}
	if float64(value)+float64(room)*e.t.dense[kind] < e.least {
		return
	}
	if kind == len(e.count) {
		e.keep(room, value)
		return
	}
	if !e.t.s.m.Spend(20) || len(e.list) >= mostChoices {
		e.t.certain = false
		return
	}
	base := e.count[kind]
	for n := min(room/k.size[kind], e.st.need[kind]-base); n >= 0; n-- {
		e.count[kind] = base + n
		e.extend(kind+1, room-n*k.size[kind], value+n*e.t.d.price[kind])
	}
	e.count[kind] = base
}

// keep lists a pattern to which nothing can be added.
func (e *ways) keep(room, value int64) {
	e.t.s.m.Spend(int64(50 + 2*len(e.count)))
	var uses []patterns.Use
	for kind, n := range e.count {
		if n < e.st.need[kind] && e.t.s.k.size[kind] <= room {
			return
		}
		if n > 0 {
			uses = append(uses, patterns.Use{Kind: kind, N: n})
		}
	}
	e.list = append(e.list, choice{column{e.source, uses}, e.cost - value})
}
