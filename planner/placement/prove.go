package placement

import "math"

// proof is what is proved about the effort of a layout, and a better layout
// where the proof finds one.
type proof struct {
	c    *cell
	best *state
	key  key
	stop func() bool
	// steps are those left for the whole proof.
	steps int
}

// fewRackSets is the number of sets of racks up to which each gets a bound of
// its own.
const fewRackSets = 6

// firstSteps is how many steps the first bids of each set of racks may take,
// beside those of the proof.
func firstSteps(proof int) int { return min(max(500, proof/3), 10_000) }

// smallCell is the number of loops up to which a proof may take all its steps; beyond
// it the fewer the more loops there are, and beyond largeCell fewer still, for then
// they prove less.
const (
	smallCell = 20
	largeCell = 60
)

// auctionRounds is how often bids are moved at first, moreRounds how often more
// where there are too few steps for a programme: with less than programmeSteps for
// each loop its bids come to nothing.
const (
	auctionRounds  = 60
	moreRounds     = 120
	programmeSteps = 50
)

// proofSteps is how many of so many steps the proof of a cell may take.
func (c *cell) proofSteps(all int) int {
	n := len(c.loops)
	large := max(n, largeCell)
	return all / max(n, smallCell) * smallCell * largeCell / large * largeCell / large
}

// nearEnd is the gap, as a share of the effort, up to which a proof may take all its
// steps: it mostly comes to an end there. One that is farther may take less by the
// square of the gap, farSteps of a small cell at least.
const (
	nearEnd  = 0.01
	farSteps = 30_000
)

// keepBack keeps a proof that begins with such a gap from spending what it hardly gains
// by; it returns what is kept back of the steps that are left.
func (c *cell) keepBack(gap float64, left int) int {
	if gap <= nearEnd {
		return 0
	}
	share := nearEnd * nearEnd / (gap * gap)
	return max(0, left-max(int(share*float64(left)), c.proofSteps(farSteps)))
}

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

// within is the bound for sets of added racks: by auction and search, in the
// quick mode and with racks in any number by relaxation alone.
func (p *proof) within(sets [][]int, leave int64) float64 {
	c, known := p.c, p.key.effort
	if c.anyFree() {
		return c.relax(sets, leave, known, c.spend(80, 15), c.spend(c.fineRounds(), 0)).bound
	}
	start := c.relax(sets, leave, known, c.spend(40, 15), 0)
	if c.steps == 0 {
		return start.bound
	}
	most := firstSteps(c.proofSteps(c.proof))
	first := most
	a := c.newAuction(sets, leave, p.key.splits, &first)
	a.start(start)
	bound := max(start.bound, a.improve(known, auctionRounds))
	a.steps = &p.steps
	switch {
	case bound >= known || p.steps <= 0 || first < -most: // a bound at some bids takes too long
	case len(sets) == 1 && p.steps >= programmeSteps*len(a.loops):
		bound = max(bound, newBranching(p, a, sets[0]).prove())
	default:
		bound = max(bound, a.improve(known, moreRounds))
	}
	return bound
}
