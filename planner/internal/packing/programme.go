package packing

import (
	"math"

	"lanewright/planner/internal/patterns"
)

// programme is the relaxation of some needs while it is solved: rows are the
// kinds that are needed.
type programme struct {
	r    *relaxation
	k    kinds
	at   []int
	lp   *patterns.Simplex
	cols [][]patterns.Entry
	uses [][]patterns.Use
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
	want, hold, cost, ids := make([]float64, m), make([]float64, m), make([]float64, m), make([]int, m)
	for i, kind := range g.at {
		row[kind] = i
		n := g.k.most(i)
		want[i], hold[i], cost[i], ids[i] = float64(g.k.need[i])+blur(i), float64(n), 1, i
		g.column([]patterns.Use{{Kind: i, N: n}})
	}
	for _, uses := range g.r.pool {
		if within(uses, need) {
			local := make([]patterns.Use, len(uses))
			for i, u := range uses {
				local[i] = patterns.Use{Kind: row[u.Kind], N: u.N}
			}
			g.column(local)
		}
	}
	g.lp = patterns.NewSimplex(want, hold, cost, ids)
	g.warm(row, first)
}

// warm brings in the fills of an earlier solution that may be used still.
func (g *programme) warm(row map[int]int, first []share) {
	for _, sh := range first {
		local := make([]patterns.Use, 0, len(sh.uses))
		for _, u := range sh.uses {
			if i, ok := row[u.Kind]; ok && u.N <= g.k.need[i] {
				local = append(local, patterns.Use{Kind: i, N: u.N})
			}
		}
		if len(local) < len(sh.uses) {
			continue
		}
		if col := entries(local); g.lp.Worth(col) > 1+1e-9 {
			g.lp.Pivot(col, 1, g.column(local))
		}
	}
}

// blur is a little more than is needed of a row, another for each, so that few
// pivots change patterns.Nothing (Charnes 1952). All of it together stays far below
// reached.
func blur(row int) float64 {
	const golden = 0.6180339887498949
	_, part := math.Modf(golden * float64(row+1))
	return (0.5 + part) * 1e-7
}

func within(uses []patterns.Use, need []int64) bool {
	for _, u := range uses {
		if u.N > need[u.Kind] {
			return false
		}
	}
	return true
}

// column adds a fill of rows to the programme.
func (g *programme) column(local []patterns.Use) int {
	g.cols, g.uses = append(g.cols, entries(local)), append(g.uses, local)
	return len(g.cols) - 1
}

func entries(local []patterns.Use) []patterns.Entry {
	col := make([]patterns.Entry, len(local))
	for i, u := range local {
		col[i] = patterns.Entry{Row: u.Kind, N: float64(u.N)}
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
		work := g.lp.Work + int64(4*len(g.cols))
		g.lp.Work = 0
		if !g.r.m.Spend(work) {
			return false, false
		}
		if g.exchange() {
			continue
		}
		best, most := -1, 1+1e-9
		for i, col := range g.cols {
			if w := g.lp.Worth(col); w > most {
				best, most = i, w
			}
		}
		if best < 0 {
			return true, true
		}
		if !g.lp.Pivot(g.cols[best], 1, best) {
			return false, false
		}
	}
	return false, true
}

// exchange brings in a column that needs no bin: it puts a piece of the next
// row, which is not larger, in the place of one of a row whose price has fallen
// below the next one's, or leaves out one of the last row (dual-optimal
// inequalities, Valério de Carvalho 2005: prices that rise with the size lose
// nothing). It reports whether there was one.
func (g *programme) exchange() bool {
	at, most, price := -1, 1e-9, g.lp.Price
	for r, p := range price {
		next := 0.0
		if r+1 < len(price) {
			next = price[r+1]
		}
		if next-p > most {
			at, most = r, next-p
		}
	}
	if at < 0 {
		return false
	}
	col := []patterns.Entry{{Row: at, N: -1}, {Row: at + 1, N: 1}}
	if at+1 == len(price) {
		col = col[:1]
	}
	return g.lp.Pivot(col, 0, -1-at)
}

// priceUnit is 1 in the whole numbers that prices are rounded down to.
const priceUnit = int64(1) << 30

// smoothing is the weight of the prices that gave the best bound so far in
// those that are tried first (Wentges 1997): plain prices swing.
const smoothing = 0.6

// better looks for a fill that is worth more than a bin at the prices of the
// programme, and returns the bound that follows from the prices that were
// tried.
func (g *programme) better() (uses []patterns.Use, bound int64) {
	if g.centre != nil && len(g.at) > plainRows {
		mixed := make([]float64, len(g.at))
		for i, p := range g.lp.Price {
			mixed[i] = smoothing*g.centre[i] + (1-smoothing)*p
		}
		uses, bound = g.priced(mixed, wanted())
		if uses != nil && g.lp.Worth(entries(uses)) > 1+1e-9 {
			return uses, bound
		}
	}
	uses, least := g.priced(g.lp.Price, wanted())
	if uses == nil {
		uses, least = g.priced(g.lp.Price, thorough())
	}
	return uses, max(bound, least)
}

// priced looks for a fill that is worth more than a bin at some prices, and
// returns what follows from them for every packing: if no fill is worth more
// than z, at least sum(price x need) / z bins are needed (Farley 1990). Prices
// are whole numbers here, so the bound is exact.
func (g *programme) priced(prices []float64, e effort) (uses []patterns.Use, bound int64) {
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
func (g *programme) admit(local []patterns.Use) bool {
	uses := make([]patterns.Use, len(local))
	for i, u := range local {
		uses[i] = patterns.Use{Kind: g.at[u.Kind], N: u.N}
	}
	g.r.learn(uses)
	id := g.column(local)
	return g.lp.Worth(g.cols[id]) > 1+1e-10 && g.lp.Pivot(g.cols[id], 1, id)
}

// shares lists the fills in use.
func (g *programme) shares() []share {
	var list []share
	for r, id := range g.lp.IDs {
		if id < 0 || g.lp.X[r] < patterns.Nothing {
			continue
		}
		uses := make([]patterns.Use, len(g.uses[id]))
		for i, u := range g.uses[id] {
			uses[i] = patterns.Use{Kind: g.at[u.Kind], N: u.N}
		}
		list = append(list, share{uses, g.lp.X[r]})
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
