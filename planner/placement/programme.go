package placement

import (
	"math"
	"slices"

	"lanewright/planner/internal/patterns"
)

// programme is the linear programme behind an auction on one set of racks: of the
// sets of lots that fit the levels, the patterns, it takes shares that lay every
// loop once, fill no level more than once and keep to splits and masses, at the
// least effort. Its prices are the best bids there are. Patterns are found as the
// auction needs them (Gilmore, Gomory, A linear programming approach to the
// cutting-stock problem, Operations Research 9, 1961; Savelsbergh, A
// branch-and-price algorithm for the generalized assignment problem, Operations
// Research 45, 1997; both from memory). Its numbers guide; what is proved is what
// the auction's value says at the bids.
type programme struct {
	a  *auction
	lp *patterns.Simplex
	// want is what its rows want.
	want []float64
	// row is the row of each loop; the rows of stalls, of the fee and of racks
	// follow, −1 where there is none.
	row, rent []int
	stalls    int
	fee       int
	// ups is the first row of the auction's conditions on loops in parts.
	ups  int
	cols []pattern
	// jams have rows of their own, from first on; spares are the columns of what they
	// have left over, behind which stands what those lack that count below nothing.
	jams   []jam
	spares []int
	first  int
	// known finds columns by stall and lots, as key writes them.
	known map[string]int32
	key   []byte
	// entrants are a buffer of repair.
	entrants []entrant
	// dear is the cost of what may not be: a loop without a place, closed lots.
	dear float64
}

// pattern is a set of lots that fit on a stall; where stall is −1 it is what a row
// has left over.
type pattern struct {
	stall int
	lots  []int32
	rows  []patterns.Entry
	// whole are the loops that lie whole in it, parts those of which a part does.
	whole, parts crowd
	// barred is true where it may not be taken now.
	barred bool
	// effort is the cost of it, cost the same or dear where a lot is closed.
	effort, cost float64
}

// newProgramme prepares the programme of an auction on one set of racks; known is
// the effort of some layout.
func newProgramme(a *auction, known float64) *programme {
	g := &programme{a: a, row: make([]int, len(a.c.loops)), rent: make([]int, len(a.rent)), fee: -1, known: map[string]int32{}, dear: 10*known + 1}
	var want []float64
	add := func(n, cost float64) int {
		r := len(want)
		want = append(want, n+1e-7*blur(r))
		g.cols = append(g.cols, pattern{stall: -1, rows: []patterns.Entry{{Row: r, N: 1}}, effort: cost, cost: cost})
		return r
	}
	for _, i := range a.loops {
		g.row[i] = add(1, g.dear)
	}
	g.stalls = len(want)
	for s := range a.stalls {
		add(float64(a.stalls[s].times), 0)
	}
	if !a.unsplit {
		g.fee = add(float64(a.splits), 0)
	}
	for b := range a.rent {
		g.rent[b] = -1
		if n := a.standing(b); a.racked[b] && n > 0 {
			g.rent[b] = add(n, 0)
		}
	}
	g.ups = len(want)
	for range a.ups {
		add(1, g.dear)
	}
	g.first, g.want = len(want), want
	for k := range a.ups {
		g.cols = append(g.cols, pattern{stall: -1, rows: []patterns.Entry{{Row: g.ups + k, N: -1}}})
	}
	g.begin()
	return g
}

// keep adds a row for a jam.
func (g *programme) keep(o jam) {
	row := g.first + len(g.jams)
	g.jams = append(g.jams, o)
	for k := range g.cols {
		if n := o.of(g.cols[k].stall, g.cols[k].lots, g.cols[k].whole); n != 0 {
			g.cols[k].rows = append(g.cols[k].rows, patterns.Entry{Row: row, N: float64(n)})
		}
	}
	g.want = append(g.want, float64(o.most)+1e-7*blur(row))
	g.cols = append(g.cols, pattern{stall: -1, rows: []patterns.Entry{{Row: row, N: 1}}})
	g.spares = append(g.spares, len(g.cols)-1)
	if o.sign < 0 {
		// What is asked for may lack, as a loop a place.
		g.cols = append(g.cols, pattern{stall: -1, rows: []patterns.Entry{{Row: row, N: -1}}, effort: g.dear, cost: g.dear})
	}
	g.grow()
}

// grow gives the simplex the rows of jams that it does not have yet.
func (g *programme) grow() {
	for k := len(g.lp.X) - g.first; k < len(g.jams); k++ {
		has := make([]float64, len(g.lp.IDs))
		for r, id := range g.lp.IDs {
			has[r] = float64(g.jams[k].of(g.cols[id].stall, g.cols[id].lots, g.cols[id].whole))
		}
		g.lp.Grow(has, g.want[g.first+k], g.spares[k])
	}
}

// trim takes out the jams that nothing breaks.
func (g *programme) trim() {
	g.grow()
	kept := 0
	for k := range g.jams {
		row := g.first + kept
		if out := slices.Index(g.lp.IDs, g.spares[k]); out >= 0 {
			g.lp.Drop(row, out)
			g.want = slices.Delete(g.want, row, row+1)
			for _, p := range g.own(k) {
				p.barred, p.rows = true, nil
			}
			continue
		}
		g.jams[kept], g.spares[kept] = g.jams[k], g.spares[k]
		for _, p := range g.own(kept) {
			p.rows[0].Row = row
		}
		kept++
	}
	g.jams, g.spares = g.jams[:kept], g.spares[:kept]
	for k := range g.cols {
		p := &g.cols[k]
		if p.stall < 0 {
			continue
		}
		p.rows = slices.DeleteFunc(p.rows, func(e patterns.Entry) bool { return e.Row >= g.first })
		p.rows = g.jammed(p.rows, p)
	}
}

// own are the columns that a jam has of its own.
func (g *programme) own(k int) []*pattern {
	at := g.spares[k]
	if g.jams[k].sign < 0 {
		return []*pattern{&g.cols[at], &g.cols[at+1]}
	}
	return []*pattern{&g.cols[at]}
}

// jammed adds what a pattern holds of the jams.
func (g *programme) jammed(rows []patterns.Entry, p *pattern) []patterns.Entry {
	for k, o := range g.jams {
		if n := o.of(p.stall, p.lots, p.whole); n != 0 {
			rows = append(rows, patterns.Entry{Row: g.first + k, N: float64(n)})
		}
	}
	return rows
}

// sound renews the inverse of the basis where rounding has spoilt it; false where it
// has none.
func (g *programme) sound() bool {
	const off = 1e-7
	column := func(id int) []patterns.Entry { return g.cols[id].rows }
	if g.lp.Off(column, g.want) < off || g.lp.Renew(column, g.want) && g.lp.Off(column, g.want) < off {
		return true
	}
	g.begin()
	return false
}

// begin begins anew with the columns that each row has of its own.
func (g *programme) begin() {
	hold, cost, ids := make([]float64, g.first), make([]float64, g.first), make([]int, g.first)
	for r := range ids {
		hold[r], cost[r], ids[r] = 1, g.cols[r].cost, r
	}
	var barred func(id int) bool
	if g.lp != nil {
		barred = g.lp.Barred
	}
	g.lp = patterns.NewSimplex(g.want[:g.first], hold, cost, ids)
	g.lp.Barred = barred
	g.grow()
}

// blur is a number from 0.5 to 1.5, another for each row, so that few pivots
// change nothing (Charnes 1952, from memory).
func blur(row int) float64 {
	const golden = 0.6180339887498949
	_, part := math.Modf(golden * float64(row+1))
	return 0.5 + part
}

// smooth is how much of the best bids the next ones keep (Wentges, Weighted
// Dantzig-Wolfe decomposition for linear mixed-integer programming, International
// Transactions in Operational Research 4, 1997, from memory).
const smooth = 0.6

// improve finds patterns until no bids are better, or the bound reaches above, and
// returns the best bound, whose bids the auction keeps.
func (g *programme) improve(above float64) float64 {
	g.recost()
	best := g.a.value()
	g.gather()
	kept := g.a.offers(nil)
	var next []float64
	for best < above && g.settle() {
		next = g.prices(next)
		found := false
		for _, old := range []float64{smooth, 0} {
			g.a.offer(mixed(kept, next, old))
			v := g.a.value()
			if found = g.gather(); v > best {
				best, kept = v, g.a.offers(kept)
			}
			if found {
				break
			}
		}
		if !found || g.lp.Value()-best < 0.01*(above-best) {
			break
		}
	}
	g.a.offer(kept)
	return max(best, g.a.value())
}

// mixed is so much of old prices and the rest of new ones.
func mixed(old, now []float64, share float64) []float64 {
	list := make([]float64, len(old))
	for i := range list {
		list[i] = share*old[i] + (1-share)*now[i]
	}
	return list
}

// prices are the bids, the fee and the rents of the programme, as the auction
// lists them.
func (g *programme) prices(list []float64) []float64 {
	list = append(list[:0], make([]float64, g.a.priced())...)
	for _, i := range g.a.loops {
		list[i] = g.lp.Price[g.row[i]]
	}
	if g.fee >= 0 {
		list[len(g.a.bid)] = max(0, -g.lp.Price[g.fee])
	}
	for b, r := range g.rent {
		if r >= 0 {
			list[len(g.a.bid)+1+b] = max(0, -g.lp.Price[r])
		}
	}
	for k := range g.a.ups {
		list[len(list)-len(g.a.ups)+k] = max(0, g.lp.Price[g.ups+k])
	}
	return list
}

// recost gives patterns with closed lots their cost.
func (g *programme) recost() {
	for k := range g.cols {
		p := &g.cols[k]
		p.cost = p.effort
		for _, n := range p.lots {
			if g.a.stalls[p.stall].lots[n].off {
				p.cost += g.dear
				break
			}
		}
	}
	g.lp.Recost(func(id int) float64 { return g.cols[id].cost })
}

// gather adds the patterns that the auction chose, and reports whether one is new
// and lowers the cost.
func (g *programme) gather() bool {
	found := false
	var lots []int32
	for s := range g.a.stalls {
		lots = lots[:0]
		for _, n := range g.a.stalls[s].chosen {
			lots = append(lots, int32(n))
		}
		if len(lots) == 0 || g.column(s, lots) >= 0 {
			continue
		}
		if p := g.pattern(s, lots); p.cost-g.lp.Worth(p.rows) <= -1e-12*g.dear {
			g.learn(p)
			found = true
		}
	}
	return found
}

// column is the column of lots on a stall, −1 without one.
func (g *programme) column(s int, lots []int32) int32 {
	g.key = append(g.key[:0], byte(s), byte(s>>8))
	for _, n := range lots {
		g.key = append(g.key, byte(n), byte(n>>8), byte(n>>16))
	}
	if k, ok := g.known[string(g.key)]; ok {
		return k
	}
	return -1
}

// learn adds a column for a pattern that has none yet.
func (g *programme) learn(p pattern) int32 {
	k := int32(len(g.cols))
	if g.column(p.stall, p.lots) < 0 {
		g.known[string(g.key)] = k
	}
	g.cols = append(g.cols, p)
	return k
}

// pattern is what lots on a stall are in the programme.
func (g *programme) pattern(s int, lots []int32) pattern {
	t := &g.a.stalls[s]
	p := pattern{stall: s, lots: slices.Clone(lots)}
	fee, load := 0.0, 0.0
	for _, n := range lots {
		l := &t.lots[n]
		p.rows = append(p.rows, patterns.Entry{Row: g.row[l.loop], N: l.share})
		for _, k := range g.a.upsOf[l.loop] {
			p.rows = append(p.rows, patterns.Entry{Row: g.ups + k, N: g.a.ups[k].of(l.n)})
		}
		p.effort += l.effort
		fee += l.fee
		switch {
		case l.loop >= awardLoops:
		case l.share == 1:
			p.whole = p.whole.with(l.loop)
		default:
			p.parts = p.parts.with(l.loop)
		}
		if t.base >= 0 && g.rent[t.base] >= 0 {
			load += float64(l.mass) / float64(g.a.c.bases[t.base].load)
		}
	}
	p.rows = append(p.rows, patterns.Entry{Row: g.stalls + s, N: 1})
	if fee != 0 && g.fee >= 0 {
		p.rows = append(p.rows, patterns.Entry{Row: g.fee, N: fee})
	}
	if load > 0 {
		p.rows = append(p.rows, patterns.Entry{Row: g.rent[t.base], N: load})
	}
	p.rows = g.jammed(p.rows, &p)
	p.cost = p.effort
	return p
}

// settle takes the patterns that lower the cost most until none does; false where
// steps or precision run out.
func (g *programme) settle() bool {
	for range 40 * len(g.lp.X) {
		best, least := -1, -1e-12*g.dear
		for k := range g.cols {
			if d := g.cols[k].cost - g.lp.Worth(g.cols[k].rows); d < least && !g.cols[k].barred {
				best, least = k, d
			}
		}
		g.lp.Work += int64(4 * len(g.cols))
		g.charge()
		if best < 0 {
			return *g.a.steps >= 0
		}
		if *g.a.steps < 0 || !g.lp.Pivot(g.cols[best].rows, g.cols[best].cost, best) {
			return false
		}
	}
	return false
}

// repair takes out of the basis what is below nothing or barred, by the dual simplex
// method, or until the cost is above a limit; false where pivots, steps or precision run
// out.
func (g *programme) repair(above float64, pivots int) bool {
	for range pivots {
		out, worst := -1, 0.0
		for r, x := range g.lp.X {
			if g.cols[g.lp.IDs[r]].barred {
				x = -math.Abs(x)
			}
			if x < -1e-7 {
				if far := x * x / g.lp.Norm(r); far > worst {
					out, worst = r, far
				}
			}
		}
		if out < 0 {
			return *g.a.steps >= 0
		}
		sign := 1.0
		if g.lp.X[out] < 0 {
			sign = -1
		}
		best := g.entering(out, sign)
		g.lp.Work += int64(16 * len(g.cols))
		g.charge()
		if best < 0 || *g.a.steps < 0 {
			return false
		}
		g.lp.Replace(out, g.cols[best].rows, g.cols[best].cost, best)
		if g.lp.Value() > above {
			return true
		}
	}
	return false
}

// entering is the column that may enter the basis for the one in place out, −1 without
// one: of those whose worth by a hair keeps the prices, the one with the greatest
// divisor (Harris, Pivot selection methods of the Devex LP code, Mathematical
// Programming 5, 1973, from memory).
func (g *programme) entering(out int, sign float64) int {
	const least = 1e-3
	hair, limit := 1e-10*g.dear, math.Inf(1)
	g.entrants = g.entrants[:0]
	for k := range g.cols {
		p := &g.cols[k]
		if p.barred {
			continue
		}
		along := sign * g.lp.Along(out, p.rows)
		if along < least {
			continue
		}
		d := max(0, p.cost-g.lp.Worth(p.rows))
		limit = min(limit, (d+hair)/along)
		g.entrants = append(g.entrants, entrant{k, along, d})
	}
	best, most := -1, 0.0
	for _, c := range g.entrants {
		if c.less <= limit*c.along && c.along > most {
			best, most = c.at, c.along
		}
	}
	return best
}

// entrant is a column that may enter the basis: what it holds of the one that leaves,
// and how much more it costs than it is worth.
type entrant struct {
	at          int
	along, less float64
}

// charge counts the work of the simplex method as steps.
func (g *programme) charge() {
	if g.lp.Work > workPerStep {
		*g.a.steps -= int(g.lp.Work / workPerStep)
		g.lp.Work %= workPerStep
	}
}

// shares are how much of each loop lies whole on each stall, by loop and stall.
func (g *programme) shares() []float64 {
	n := len(g.a.stalls)
	list := make([]float64, len(g.a.c.loops)*n)
	for r, id := range g.lp.IDs {
		p := &g.cols[id]
		for _, k := range p.lots {
			l := &g.a.stalls[p.stall].lots[k]
			if l.share == 1 {
				list[l.loop*n+p.stall] += g.lp.X[r]
			}
		}
	}
	return list
}

// whole is the layout that the programme has found, where it is one: every pattern
// a whole number of times and no loop without a place.
func (g *programme) whole() ([]chosen, bool) {
	var path []chosen
	for r, id := range g.lp.IDs {
		p := &g.cols[id]
		x := math.Round(g.lp.X[r])
		if math.Abs(g.lp.X[r]-x) > 1e-4 {
			if p.stall < 0 && p.cost < g.dear {
				continue
			}
			return nil, false
		}
		if x > 0.5 && p.cost >= g.dear || p.stall >= 0 && x > float64(g.a.stalls[p.stall].times) {
			return nil, false
		}
		for ; x > 0.5 && p.stall >= 0; x-- {
			path = append(path, chosen{p.stall, p.lots})
		}
	}
	return path, true
}
