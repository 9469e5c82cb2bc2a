package placement

import (
	"cmp"
	"math/rand/v2"
	"slices"
)

// regrouping deals all that lies on a few levels anew among them, with the
// least effort: in full cells, where no single exchange fits, several at once
// may.
type regrouping struct {
	*state
	levels []int
	// cards are the items dealt, to the level of each in the best dealing and in
	// the one under way.
	cards    []card
	best, to []int
	effort   float64
	// rest is the least effort of the cards from one on.
	rest        []float64
	width, mass []int64
	load        []int64 // by place in levels of the first level of the rack
	rack        []int
	nodes       int
}

// card is an item with its width and effort on each level.
type card struct {
	it     item
	mass   int64
	width  [regroupLevels]int64
	effort [regroupLevels]float64
	// order are the levels, those of least effort first.
	order [regroupLevels]int
	n     int
}

// regroupNodes bounds the search for one dealing, regroupCards its cards,
// regroupLevels its levels.
const (
	regroupLevels = 3
	regroupNodes  = 2000
	regroupCards  = 24
)

// regroup tries so many groups of levels by chance, and pairs of levels in turn
// first where every is true.
func (st *state) regroup(rng *rand.Rand, rounds int, every bool, stop func() bool) {
	n := len(st.shelves)
	if n < 2 {
		return
	}
	g := &regrouping{state: st}
	for again := every && n*n <= 4*rounds; again; {
		again = false
		for a := range n {
			if stop() {
				return
			}
			for b := a + 1; b < n; b++ {
				again = g.deal(a, b) || again
			}
		}
	}
	for r := range rounds {
		if n < 3 || r%64 == 0 && stop() {
			return
		}
		a, b, c := rng.IntN(n), rng.IntN(n), rng.IntN(n)
		if a != b && b != c && a != c {
			g.deal(a, b, c)
		}
	}
}

// deal gives the items of some levels their best places among these, and
// reports whether that changed anything.
func (g *regrouping) deal(levels ...int) bool {
	g.levels = append(g.levels[:0], levels...)
	now := g.collect()
	if len(g.cards) < 2 || len(g.cards) > regroupCards || g.rest[0] >= now-1e-9*(1+now) {
		return false
	}
	g.effort, g.nodes = now-1e-9*(1+now), regroupNodes
	g.best = g.best[:0]
	g.try(0, 0)
	return len(g.best) > 0 && g.apply()
}

// collect takes up the items that may change place and the room without them,
// and returns their effort. A loop that lies on several levels stays.
func (g *regrouping) collect() float64 {
	g.cards, g.width, g.mass, g.load, g.rack = g.cards[:0], g.width[:0], g.mass[:0], g.load[:0], g.rack[:0]
	now := 0.0
	for k, s := range g.levels {
		sh := &g.shelves[s]
		col := &g.c.cols[sh.col]
		g.width, g.mass = append(g.width, col.width-sh.used), append(g.mass, col.mass-sh.mass)
		g.load = append(g.load, g.c.bases[g.racks[sh.rack].base].load-g.racks[sh.rack].mass)
		g.rack = append(g.rack, slices.IndexFunc(g.levels, func(o int) bool { return g.shelves[o].rack == sh.rack }))
		for _, id := range sh.items {
			it := g.items[id]
			if g.items[g.head[it.loop]].next >= 0 || it.n != g.c.loops[it.loop].k {
				continue
			}
			now += g.at(id, s)
			g.cards = append(g.cards, g.card(id))
			g.width[k] += it.need
			g.mass[k] += it.n * g.c.loops[it.loop].gross
			g.load[g.rack[k]] += it.n * g.c.loops[it.loop].gross
		}
	}
	g.sort()
	return now
}

// card reads what an item takes and costs on each level.
func (g *regrouping) card(id int) card {
	it := g.items[id]
	k := card{it: it, mass: it.n * g.c.loops[it.loop].gross}
	for n, s := range g.levels {
		k.width[n], k.effort[n] = g.c.want(it.loop, g.shelves[s].col, it.n), g.at(id, s)
		at := n
		for ; at > 0 && k.effort[k.order[at-1]] > k.effort[n]; at-- {
			k.order[at] = k.order[at-1]
		}
		k.order[at] = n
	}
	k.n = len(g.levels)
	return k
}

// sort puts first what differs most from level to level.
func (g *regrouping) sort() {
	spread := func(k *card) float64 { return k.effort[k.order[k.n-1]] - k.effort[k.order[0]] }
	slices.SortStableFunc(g.cards, func(a, b card) int {
		return cmp.Or(compareFloats(spread(&b), spread(&a)), cmp.Compare(a.it.loop, b.it.loop))
	})
	g.rest = append(g.rest[:0], make([]float64, len(g.cards)+1)...)
	for p := len(g.cards) - 1; p >= 0; p-- {
		g.rest[p] = g.rest[p+1] + g.cards[p].least()
	}
	g.to = append(g.to[:0], make([]int, len(g.cards))...)
}

// least is the least effort on a level that is wide enough.
func (k *card) least() float64 {
	for _, n := range k.order[:k.n] {
		if k.width[n] < boundless {
			return k.effort[n]
		}
	}
	return 0
}

// try deals the cards from one on.
func (g *regrouping) try(p int, effort float64) {
	if g.nodes--; g.nodes < 0 || effort+g.rest[p] >= g.effort {
		return
	}
	if p == len(g.cards) {
		g.effort = effort
		g.best = append(g.best[:0], g.to...)
		return
	}
	k := &g.cards[p]
	for _, n := range k.order[:k.n] {
		r := g.rack[n]
		if k.width[n] > g.width[n] || k.mass > g.mass[n] || k.mass > g.load[r] {
			continue
		}
		g.width[n], g.mass[n], g.load[r] = g.width[n]-k.width[n], g.mass[n]-k.mass, g.load[r]-k.mass
		g.to[p] = n
		g.try(p+1, effort+k.effort[n])
		g.width[n], g.mass[n], g.load[r] = g.width[n]+k.width[n], g.mass[n]+k.mass, g.load[r]+k.mass
	}
}

// apply lays the cards as the best dealing says, or as before where a rule that
// it does not know forbids that.
func (g *regrouping) apply() bool {
	for p := range g.cards {
		g.lift(g.cards[p].it.loop)
	}
	for p := range g.cards {
		it, s := &g.cards[p].it, g.levels[g.best[p]]
		if g.fits(it.loop, it.n, s) {
			g.put(it.loop, it.n, s)
			continue
		}
		for q := range p {
			g.lift(g.cards[q].it.loop)
		}
		for q := range g.cards {
			g.putBack(g.cards[q].it)
		}
		return false
	}
	return true
}
