package packing

import "lanewright/planner/internal/patterns"

// relaxation is the linear programme of Gilmore and Gomory (1961): how often
// to use each fill of a bin, fractions allowed, so that every need is met. The
// fills are made as they are wanted, by a knapsack at the prices of the pieces.
type relaxation struct {
	k    kinds
	m    *patterns.Meter
	pool [][]patterns.Use
	seen map[string]bool
}

// mostFills bounds the fills that are kept.
const mostFills = 20_000

// share is how often the relaxation uses a fill.
type share struct {
	uses []patterns.Use
	x    float64
}

// relaxed is what the relaxation says of some needs.
type relaxed struct {
	// value is the number of bins in fractions, bound the whole number that no
	// packing is below: exact arithmetic, whatever the state of the programme.
	value  float64
	bound  int64
	shares []share
	// worth are the prices by kind from which the bound follows.
	worth worth
}

func newRelaxation(k kinds, m *patterns.Meter) *relaxation {
	return &relaxation{k: k, m: m, seen: map[string]bool{}}
}

// learn keeps a fill for later.
func (r *relaxation) learn(uses []patterns.Use) {
	key := keyOf(uses)
	if len(r.pool) < mostFills && !r.seen[key] {
		r.seen[key] = true
		r.pool = append(r.pool, uses)
	}
}

func keyOf(uses []patterns.Use) string {
	b := make([]byte, 0, 8*len(uses))
	for _, u := range uses {
		for v := uint64(u.Kind)<<32 | uint64(u.N); v > 0; v >>= 7 {
			b = append(b, byte(v&127))
		}
		b = append(b, 255)
	}
	return string(b)
}

// mostRows bounds the matrix of a programme: 50 MB.
const mostRows = 2_500

// solve returns the relaxation of the given needs; no shares where nothing is
// needed or there are too many kinds. It stops where the programme's value is
// the bound or less than near above it; first are fills to begin with.
func (r *relaxation) solve(need []int64, first []share, near float64) relaxed {
	g := &programme{r: r}
	g.k, g.at = r.k.with(need).narrow()
	if len(g.at) == 0 || len(g.at) > mostRows {
		return relaxed{}
	}
	g.start(need, first)
	bound := sizeBound(g.k)
	pivots := boundless
	if len(first) > 0 && len(g.at) > plainRows {
		pivots = fewPivots
	}
	for {
		settled, ok := g.settle(pivots)
		if len(g.at) > plainRows {
			pivots = fewPivots
		}
		if !ok || g.lp.Value() <= float64(bound)+near {
			break
		}
		uses, least := g.better()
		bound = max(bound, least)
		if uses == nil && !settled {
			pivots = boundless
			continue
		}
		if uses == nil || !g.admit(uses) {
			break
		}
	}
	return relaxed{value: g.lp.Value(), bound: bound, shares: g.shares(), worth: g.worth(len(r.k.size))}
}

// What counts as reaching the bound: exactly, but for what arithmetic may have
// added, or so that the fills are good enough to go on with.
const (
	reached    = 5e-4
	goodEnough = 0.02
)
