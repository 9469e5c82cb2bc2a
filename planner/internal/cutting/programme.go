package cutting

import (
	"lanewright/planner/internal/packing"
	"lanewright/planner/internal/patterns"
)

// column is one way to cut a stock of a source.
type column struct {
	source int
	uses   []patterns.Use
}

// small is what counts as nothing in a price.
const small = 1e-8

// programme is the relaxation of a state while it is solved (Gilmore and Gomory
// 1961): how often to cut each pattern, fractions allowed. Its rows are the kinds
// that are needed, then the sources that may be used up.
type programme struct {
	s    *solver
	need []int64
	have []int64
	// at are the kinds of the first rows; row and rent are the rows of kinds and
	// sources, -1 where there is none.
	at        []int
	row, rent []int
	lp        *patterns.Simplex
	ids       []int
	// cols are the columns of the pool as far as they were looked at, nil where
	// the state has no use for them.
	cols [][]patterns.Entry
	// turn is the room that is priced first.
	turn int
	// known is the best bound and whence it comes.
	known bounded
}

// bounded is a bound with its duals.
type bounded struct {
	value int64
	duals duals
}

// share is how often the relaxation cuts a column.
type share struct {
	column
	x float64
}

// newProgramme starts with a pattern of its own for every kind, of a source that
// is never used up, or with its pieces uncut.
func newProgramme(s *solver, st *state) *programme {
	g := &programme{s: s, need: st.need, have: st.have, row: fill(len(st.need), -1), rent: fill(len(st.have), -1)}
	var want, hold, cost []float64
	for kind, n := range st.need {
		if n == 0 {
			continue
		}
		g.row[kind] = len(g.at)
		g.at = append(g.at, kind)
		c, id := g.own(kind)
		want, hold, cost, g.ids = append(want, float64(n)), append(hold, float64(c.uses[0].N)), append(cost, s.cost(c.source)), append(g.ids, id)
	}
	for i, n := range st.have {
		if n > 0 && limited(n) {
			g.rent[i] = len(want)
			want, hold, cost, g.ids = append(want, float64(n)), append(hold, 1), append(cost, 0), append(g.ids, -1)
		}
	}
	g.lp = patterns.NewSimplex(want, hold, cost, g.ids)
	return g
}

func fill(n, v int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = v
	}
	return list
}

// own is the cheapest pattern of one kind alone.
func (g *programme) own(kind int) (column, int) {
	best, per := column{uncut, []patterns.Use{{Kind: kind, N: 1}}}, g.s.cost(uncut)
	for i, src := range g.s.k.sources {
		n := min(g.need[kind], src.room/g.s.k.size[kind])
		if n == 0 || limited(g.have[i]) {
			continue
		}
		if c := g.s.cost(i) / float64(n); c < per {
			best, per = column{i, []patterns.Use{{Kind: kind, N: n}}}, c
		}
	}
	if best.source == uncut {
		return best, -1
	}
	return best, g.s.learn(best)
}

// column is the rows of a column of the pool; nil where the state has no use for
// it.
func (g *programme) column(id int) []patterns.Entry {
	for len(g.cols) < len(g.s.pool) {
		g.cols = append(g.cols, g.entries(g.s.pool[len(g.cols)]))
	}
	return g.cols[id]
}

func (g *programme) entries(c column) []patterns.Entry {
	if g.have[c.source] == 0 {
		return nil
	}
	col := make([]patterns.Entry, 0, len(c.uses)+1)
	for _, u := range c.uses {
		if u.N > g.need[u.Kind] {
			return nil
		}
		col = append(col, patterns.Entry{Row: g.row[u.Kind], N: float64(u.N)})
	}
	if r := g.rent[c.source]; r >= 0 {
		col = append(col, patterns.Entry{Row: r, N: 1})
	}
	return col
}

// enter brings a column of the pool in if that lowers the cost.
func (g *programme) enter(id int) bool {
	col, cost := g.column(id), g.s.cost(g.s.pool[id].source)
	return col != nil && g.lp.Worth(col) > cost+small && g.lp.Pivot(col, cost, id)
}

// exchange brings in a column that cuts nothing: a stock not used, a piece too
// many or not cut, or a piece of the next kind, which is not longer, in the place
// of one whose price has fallen below its (dual-optimal inequalities, Valério de
// Carvalho 2005). It reports whether there was one.
func (g *programme) exchange() bool {
	at, most, m := -1, small, len(g.at)
	for r := range g.lp.Price {
		if gain := g.idle(r); gain > most {
			at, most = r, gain
		}
	}
	switch {
	case at < 0:
		return false
	case at >= m:
		return g.lp.Pivot([]patterns.Entry{{Row: at, N: 1}}, 0, -1)
	case g.lp.Price[at] > dear:
		return g.lp.Pivot([]patterns.Entry{{Row: at, N: 1}}, dear, -1)
	case at+1 == m:
		return g.lp.Pivot([]patterns.Entry{{Row: at, N: -1}}, 0, -1)
	}
	return g.lp.Pivot([]patterns.Entry{{Row: at, N: -1}, {Row: at + 1, N: 1}}, 0, -1)
}

// idle is what such a column of a row would gain.
func (g *programme) idle(r int) float64 {
	p, m := g.lp.Price[r], len(g.at)
	switch {
	case r >= m || p > dear:
		return p - float64(dear)*boolean(r < m)
	case r+1 < m:
		return g.lp.Price[r+1] - p
	}
	return -p
}

func boolean(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// settle improves the programme over the columns that are known by so many
// pivots. It says whether that was enough, and is not ok where time or precision
// ran out.
func (g *programme) settle(pivots int) (settled, ok bool) {
	for range pivots {
		work := g.lp.Work + int64(20*len(g.s.pool))
		g.lp.Work = 0
		if !g.s.m.Spend(work) {
			return false, false
		}
		if g.exchange() {
			continue
		}
		best, most := -1, small
		for id, c := range g.s.pool {
			if col := g.column(id); col != nil {
				if gain := g.lp.Worth(col) - g.s.cost(c.source); gain > most {
					best, most = id, gain
				}
			}
		}
		if best < 0 || !g.enter(best) {
			return best < 0, best < 0
		}
	}
	return false, true
}

// The programme is settled over the known columns by firstPivots for each row at
// first; in between a few pivots are the faster way. mostRows bounds its matrix.
const (
	firstPivots = 2
	fewPivots   = 6
	allPivots   = 1 << 30
	mostRows    = 1200
)

// solve makes columns until none is better, and returns the shares; the bound is
// known then.
func (g *programme) solve() (shares []share) {
	pivots := firstPivots * len(g.lp.IDs)
	for len(g.at) <= mostRows {
		settled, ok := g.settle(pivots)
		if !ok {
			break
		}
		found := g.price(packing.Wanted)
		if len(found) == 0 && settled {
			found = g.price(packing.Thorough)
		}
		if g.known.value > 0 && g.lp.Value()*float64(g.s.k.dearest) <= float64(g.known.value)*(1+patterns.Tiny) {
			break
		}
		pivots = fewPivots
		switch entered := g.enterAll(found); {
		case entered:
		case settled:
			return g.shares()
		default:
			pivots = allPivots
		}
	}
	return g.shares()
}

func (g *programme) enterAll(ids []int) bool {
	entered := false
	for _, id := range ids {
		entered = g.enter(id) || entered
	}
	return entered
}

// shares lists the columns in use.
func (g *programme) shares() []share {
	var list []share
	for r, id := range g.lp.IDs {
		if id >= 0 && g.lp.X[r] > 1e-7 {
			list = append(list, share{g.s.pool[id], g.lp.X[r]})
		}
	}
	return list
}
