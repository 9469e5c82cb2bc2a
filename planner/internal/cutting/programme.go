package cutting

import "lanewright/planner/internal/packing"

// column is one way to cut a stock of a source.
type column struct {
	source int
	uses   []use
}

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
	lp        *simplex
	ids       []int
	// cols are the columns of the pool as far as they were looked at, nil where
	// the state has no use for them.
	cols [][]entry
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
		want, hold, cost, g.ids = append(want, float64(n)), append(hold, float64(c.uses[0].n)), append(cost, s.cost(c.source)), append(g.ids, id)
	}
	for i, n := range st.have {
		if n > 0 && limited(n) {
			g.rent[i] = len(want)
			want, hold, cost, g.ids = append(want, float64(n)), append(hold, 1), append(cost, 0), append(g.ids, -1)
		}
	}
	g.lp = newSimplex(want, hold, cost, g.ids)
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
	best, per := column{uncut, []use{{kind, 1}}}, g.s.cost(uncut)
	for i, src := range g.s.k.sources {
		n := min(g.need[kind], src.room/g.s.k.size[kind])
		if n == 0 || limited(g.have[i]) {
			continue
		}
		if c := g.s.cost(i) / float64(n); c < per {
			best, per = column{i, []use{{kind, n}}}, c
		}
	}
	if best.source == uncut {
		return best, -1
	}
	return best, g.s.learn(best)
}

// column is the rows of a column of the pool; nil where the state has no use for
// it.
func (g *programme) column(id int) []entry {
	for len(g.cols) < len(g.s.pool) {
		g.cols = append(g.cols, g.entries(g.s.pool[len(g.cols)]))
	}
	return g.cols[id]
}

func (g *programme) entries(c column) []entry {
	if g.have[c.source] == 0 {
		return nil
	}
	col := make([]entry, 0, len(c.uses)+1)
	for _, u := range c.uses {
		if u.n > g.need[u.kind] {
			return nil
		}
		col = append(col, entry{g.row[u.kind], float64(u.n)})
	}
	if r := g.rent[c.source]; r >= 0 {
		col = append(col, entry{r, 1})
	}
	return col
}

// enter brings a column of the pool in if that lowers the cost.
func (g *programme) enter(id int) bool {
	col, cost := g.column(id), g.s.cost(g.s.pool[id].source)
	return col != nil && g.lp.worth(col) > cost+small && g.lp.pivot(col, cost, id)
}

// exchange brings in a column that cuts nothing: a stock not used, a piece too
// many or not cut, or a piece of the next kind, which is not longer, in the place
// of one whose price has fallen below its (dual-optimal inequalities, Valério de
// Carvalho 2005). It reports whether there was one.
func (g *programme) exchange() bool {
	at, most, m := -1, small, len(g.at)
	for r := range g.lp.price {
		if gain := g.idle(r); gain > most {
			at, most = r, gain
		}
	}
	switch {
	case at < 0:
		return false
	case at >= m:
		return g.lp.pivot([]entry{{at, 1}}, 0, -1)
	case g.lp.price[at] > dear:
		return g.lp.pivot([]entry{{at, 1}}, dear, -1)
	case at+1 == m:
		return g.lp.pivot([]entry{{at, -1}}, 0, -1)
	}
	return g.lp.pivot([]entry{{at, -1}, {at + 1, 1}}, 0, -1)
}

// idle is what such a column of a row would gain.
func (g *programme) idle(r int) float64 {
	p, m := g.lp.price[r], len(g.at)
	switch {
	case r >= m || p > dear:
		return p - float64(dear)*boolean(r < m)
	case r+1 < m:
		return g.lp.price[r+1] - p
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
		work := g.lp.work + int64(20*len(g.s.pool))
		g.lp.work = 0
		if !g.s.m.spend(work) {
			return false, false
		}
		if g.exchange() {
			continue
		}
		best, most := -1, small
		for id, c := range g.s.pool {
			if col := g.column(id); col != nil {
				if gain := g.lp.worth(col) - g.s.cost(c.source); gain > most {
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
	pivots := firstPivots * len(g.lp.ids)
	for len(g.at) <= mostRows {
		settled, ok := g.settle(pivots)
		if !ok {
			break
		}
		found := g.price(packing.Wanted)
		if len(found) == 0 && settled {
			found = g.price(packing.Thorough)
		}
		if g.known.value > 0 && g.lp.value()*float64(g.s.k.dearest) <= float64(g.known.value)*(1+tiny) {
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
	for r, id := range g.lp.ids {
		if id >= 0 && g.lp.x[r] > 1e-7 {
			list = append(list, share{g.s.pool[id], g.lp.x[r]})
		}
	}
	return list
}
