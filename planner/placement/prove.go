package placement

import "math"

// proof is what is proved about the effort of a layout, and a better layout
// where the proof finds one.
type proof struct {
	c    *cell
	best *state
	key  key
	stop func() bool
}

// fewRackSets is the number of sets of racks up to which each gets a bound of
// its own.
const fewRackSets = 6

// auctionRounds is how often bids are moved.
const auctionRounds = 60

// leastEffort returns a lower bound on the effort of layouts that leave no more
// containers without a lane than the best, add racks of no more cost and split
// no more loops.
func (p *proof) leastEffort(r *relaxed) float64 {
	leave := p.key.unplaced - p.c.hopeless()
	sets := p.c.racksWithin(p.key.cost)
	if r != nil {
		sets = r.sufficient(sets, leave)
	}
	if len(sets) > fewRackSets {
		return p.within(sets, leave)
	}
	least := math.Inf(1)
	for _, set := range sets {
		least = min(least, p.within([][]int{set}, leave))
	}
	return least
}

// within is the bound for sets of added racks: by exact search in small cells,
// else by relaxation.
func (p *proof) within(sets [][]int, leave int64) float64 {
	c, known := p.c, p.key.effort
	if leave == 0 && len(sets) == 1 && len(c.loops) <= exactLoops && !c.anyFree() {
		if effort, done := c.exactly(sets[0], p.key.splits, known); done {
			return effort
		}
	}
	if leave > 0 || c.anyFree() || p.key.splits > c.bigs {
		return c.relax(sets, leave, known, c.spend(80, 15), c.spend(c.fineRounds(), 0)).bound
	}
	start := c.relax(sets, leave, known, c.spend(40, 15), 0)
	if c.steps == 0 {
		return start.bound
	}
	a := c.newAuction(sets)
	a.start(start)
	bound := max(start.bound, a.improve(known, auctionRounds))
	if len(sets) == 1 && c.bigs == 0 && bound < known && !p.stop() {
		bound = max(bound, p.award(a, sets[0]))
	}
	return bound
}

// award searches the layouts that an auction leaves possible, takes a better
// one where there is one, and returns what is then proved.
func (p *proof) award(a *auction, set []int) float64 {
	bound := a.value()
	edge := func() float64 { return p.key.effort*(1-1e-10) - bound }
	w := a.newAward(set, edge())
	if w == nil {
		return bound
	}
	doubt := math.Inf(1)
	w.found = func(path []chosen, spent float64) float64 {
		st := w.layout(path)
		if st == nil {
			doubt = min(doubt, bound+spent)
			return edge()
		}
		if k := st.key(); k.compare(p.key) < 0 {
			p.best, p.key = st, k
		}
		return edge()
	}
	if w.search() {
		return min(p.key.effort, doubt)
	}
	return bound
}
