package packing

import "math"

// programme is the relaxation of some needs while it is solved: rows are the
// kinds that are needed.
type programme struct {
	r    *relaxation
	k    kinds
	at   []int
	lp   *simplex
	cols [][]entry
	uses [][]use
	// proved is the best bound as a fraction, centre the prices that gave it.
	proved float64
	centre []float64
	// local are the same prices by row as whole numbers.
	local worth
}

// start takes bins of one kind as the basis and the fills that are known.
func (g *programme) start(need []int64, first []share) {
	m := len(g.at)
	row := make(map[int]int, m)
	want, hold, ids := make([]float64, m), make([]float64, m), make([]int, m)
	for i, kind := range g.at {
		row[kind] = i
		n := g.k.most(i)
		want[i], hold[i], ids[i] = float64(g.k.need[i])+blur(i), float64(n), i
		g.column([]use{{i, n}})
	}
	for _, uses := range g.r.pool {
		if within(uses, need) {
			local := make([]use, len(uses))
			for i, u := range uses {
				local[i] = use{row[u.kind], u.n}
			}
			g.column(local)
		}
	}
	g.lp = newSimplex(want, hold, ids)
	g.warm(row, first)
}

// warm brings in the fills of an earlier solution that may be used still.
func (g *programme) warm(row map[int]int, first []share) {
	for _, sh := range first {
		local := make([]use, 0, len(sh.uses))
		for _, u := range sh.uses {
			if i, ok := row[u.kind]; ok && u.n <= g.k.need[i] {
				local = append(local, use{i, u.n})
			}
		}
		if len(local) < len(sh.uses) {
			continue
		}
		if col := entries(local); g.lp.worth(col) > 1+1e-9 {
			g.lp.pivot(col, 1, g.column(local))
		}
	}
}

// blur is a little more than is needed of a row, another for each, so that few
// pivots change nothing (Charnes 1952). All of it together stays far below
// reached.
func blur(row int) float64 {
	const golden = 0.6180339887498949
	_, part := math.Modf(golden * float64(row+1))
	return (0.5 + part) * 1e-7
}

func within(uses []use, need []int64) bool {
	for _, u := range uses {
		if u.n > need[u.kind] {
			return false
		}
	}
	return true
}

// column adds a fill of rows to the programme.
func (g *programme) column(local []use) int {
	g.cols, g.uses = append(g.cols, entries(local)), append(g.uses, local)
	return len(g.cols) - 1
}

func entries(local []use) []entry {
	col := make([]entry, len(local))
	for i, u := range local {
		col[i] = entry{u.kind, float64(u.n)}
	}
	return col
}

// The programme is solved over the fills that are known at first and at the
// end; in between a few pivots for every new fill are the faster way.
const (
	fewPivots = 4
	// plainRows is the size up to which the plain way is fast as well; its
	// fills are more varied, and good to round.
	plainRows = 120
	boundless = math.MaxInt
)

// settle improves the programme over the fills it has by so many pivots. It
// says whether that was enough, and is not ok where time or precision ran out.
func (g *programme) settle(pivots int) (settled, ok bool) {
	for range pivots {
		work := g.lp.work + int64(4*len(g.cols))
		g.lp.work = 0
		if !g.r.m.spend(work) {
			return false, false
		}
		if g.lp.exchange() {
			continue
		}
		best, most := -1, 1+1e-9
		for i, col := range g.cols {
			if w := g.lp.worth(col); w > most {
				best, most = i, w
			}
		}
		if best < 0 {
			return true, true
		}
		if !g.lp.pivot(g.cols[best], 1, best) {
			return false, false
		}
	}
	return false, true
}

// priceUnit is 1 in the whole numbers that prices are rounded down to.
const priceUnit = int64(1) << 30

// smoothing is the weight of the prices that gave the best bound so far in
// those that are tried first (Wentges 1997): plain prices swing.
const smoothing = 0.6

// better looks for a fill that is worth more than a bin at the prices of the
// programme, and returns the bound that follows from the prices that were
// tried.
func (g *programme) better() (uses []use, bound int64) {
	if g.centre != nil && len(g.at) > plainRows {
		mixed := make([]float64, len(g.at))
		for i, p := range g.lp.price {
			mixed[i] = smoothing*g.centre[i] + (1-smoothing)*p
		}
		uses, bound = g.priced(mixed, wanted())
		if uses != nil && g.lp.worth(entries(uses)) > 1+1e-9 {
			return uses, bound
		}
	}
	uses, least := g.priced(g.lp.price, wanted())
	if uses == nil {
		uses, least = g.priced(g.lp.price, thorough())
	}
	return uses, max(bound, least)
}

// priced looks for a fill that is worth more than a bin at some prices, and
// returns what follows from them for every packing: if no fill is worth more
// than z, at least sum(price x need) / z bins are needed (Farley 1990). Prices
// are whole numbers here, so the bound is exact.
func (g *programme) priced(prices []float64, e effort) (uses []use, bound int64) {
	price := make([]int64, len(g.at))
	sum := int64(0)
	for i, p := range prices {
		price[i] = int64(max(0, min(1, p)) * float64(priceUnit))
		sum += price[i] * g.k.need[i]
	}
	uses, _, upper := bestFill(g.k, price, priceUnit+2, e, g.r.m)
	if f := float64(sum) / float64(upper); f > g.proved {
		g.proved = f
		g.centre = append(g.centre[:0], prices...)
		g.local = worth{price, upper}
	}
	return uses, (sum + upper - 1) / upper
}

// admit adds a fill to the programme and to what is known; false where it was
// there already and precision has run out.
func (g *programme) admit(local []use) bool {
	uses := make([]use, len(local))
	for i, u := range local {
		uses[i] = use{g.at[u.kind], u.n}
	}
	g.r.learn(uses)
	id := g.column(local)
	return g.lp.worth(g.cols[id]) > 1+1e-10 && g.lp.pivot(g.cols[id], 1, id)
}

// shares lists the fills in use.
func (g *programme) shares() []share {
	var list []share
	for r, id := range g.lp.ids {
		if id < 0 || g.lp.x[r] < nothing {
			continue
		}
		uses := make([]use, len(g.uses[id]))
		for i, u := range g.uses[id] {
			uses[i] = use{g.at[u.kind], u.n}
		}
		list = append(list, share{uses, g.lp.x[r]})
	}
	return list
}

// worth are the best prices by kind; none where none were tried.
func (g *programme) worth(kinds int) worth {
	if g.local.price == nil {
		return worth{}
	}
	w := worth{make([]int64, kinds), g.local.unit}
	for i, kind := range g.at {
		w.price[kind] = g.local.price[i]
	}
	return w
}
