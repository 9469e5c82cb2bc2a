package placement

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"lanewright/planner/search"
)

// solve places the loops of the cell: construction and repair on the racks
// that stand, racks added where they do not suffice, then local search on
// effort, and last what can be proved about the result.
func (c *cell) solve(ctx context.Context, rng *rand.Rand, steps int, names map[string]bool) result {
	stop := func() bool { return ctx.Err() != nil }
	st, r := c.search(rng, steps, true, stop)
	return c.report(st, r, stop, names)
}

// search is the part of solve that finds a layout; with it comes the relaxation
// where racks were asked for.
func (c *cell) search(rng *rand.Rand, steps int, again bool, stop func() bool) (*state, *relaxed) {
	var st *state
	var r *relaxed
	c.unpriced(func() {
		st, r = c.roomFor(rng, stop)
		st = c.refine(st, rng, steps, stop)
		if again && c.proof > 2*againSteps {
			st = c.searchAgain(st, r, rng, steps, stop)
		}
	})
	return c.steady(st, rng, steps, stop).withoutEmptyRacks(), r
}

// A cell whose proof may take more than twice againSteps is searched again where so
// many do not prove its layout: againTimes as long, with more than againLoops loops so
// much less that it takes no longer.
const (
	againSteps = 30_000
	againTimes = 8
	againLoops = 60
)

// searchAgain tries to prove a layout, and looks for a better one where that fails.
func (c *cell) searchAgain(st *state, r *relaxed, rng *rand.Rand, steps int, stop func() bool) *state {
	times := againTimes * againLoops / max(againLoops, len(c.loops))
	if 2*times < againTimes || steps == 0 {
		return st
	}
	p := &proof{c: c, best: st, key: st.key(), stop: stop, steps: c.proofSteps(againSteps)}
	least := p.leastEffort(r)
	if alike(p.key.effort, least) {
		c.proved = p.key
	}
	if c.proved == p.key || stop() {
		return p.best
	}
	usual := c.steps
	c.steps *= times
	more := c.refine(p.best.clone(), rng, times*steps, stop)
	c.steps = usual
	if more.key().compare(p.key) < 0 {
		return more
	}
	return p.best
}

// roomFor packs the loops on the standing racks and, where that does not do, on
// added ones too; then it says what was relaxed to know which, else nil.
func (c *cell) roomFor(rng *rand.Rand, stop func() bool) (*state, *relaxed) {
	st := c.pack(nil, c.hopeless(), 0, rng, stop)
	if st.unplaced() <= c.hopeless() {
		return st, nil
	}
	r := newRelaxed(c)
	return c.relieve(st, r, rng, stop), r
}

// relieve finds room for what the standing racks do not hold: by splitting
// loops, by another order, by added racks.
func (c *cell) relieve(st *state, r *relaxed, rng *rand.Rand, stop func() bool) *state {
	split := st.clone()
	split.divide(split.short())
	if split.unplaced() > r.hopeless {
		split.squeeze(rng, c.squeezes(), r.hopeless, stop)
	}
	if split.unplaced() <= r.hopeless || len(c.bases) == c.standing {
		return split
	}
	more := c.extend(st, r, rng, stop)
	if split.key().compare(more.key()) < 0 {
		more = split
	}
	if more.unplaced() > r.unplaced {
		last := more.clone()
		last.squeezeCount(rng, 2*c.squeezes(), r.unplaced, stop)
		if last.key().compare(more.key()) < 0 {
			more = last
		}
	}
	return more
}

// spend is how many rounds of something a cell gets: full, or quick in the quick
// mode.
func (c *cell) spend(full, quick int) int {
	if c.steps == 0 {
		return quick
	}
	return full
}

// quickSqueezes is how often levels are filled anew in the quick mode: less saves
// little time and buys racks.
const quickSqueezes = 800

// squeezes is how often levels of a set of racks are filled anew: as often as
// there are steps for a loop, within reason, and less in small cells.
func (c *cell) squeezes() int {
	most := min(max(c.steps*3/4, 300), 50_000)
	return c.spend(min(most, most*(len(c.loops)+5)/60), quickSqueezes)
}

// A cell is as patient as its proof is long: it fills sets of racks again so many times as
// long as at first. patientSteps is the proof of one that does so as long, mostPatience
// bounds it, more strictly in cells of more than largeCell loops.
const (
	patientSteps = 8_000
	mostPatience = 16
)

func (c *cell) patience() int {
	large := max(len(c.loops), largeCell)
	return max(1, min(c.proof/patientSteps, mostPatience)*largeCell/large*largeCell/large)
}

// rounds is how often a cell is shaken: small cells more often, so that the
// whole takes about as long.
func (c *cell) rounds() int { return 20 + min(600, 6000/max(1, len(c.loops))) }

// pack fills the standing racks and a set of added ones as well as it can.
func (c *cell) pack(added []int, target int64, rounds int, rng *rand.Rand, stop func() bool) *state {
	var best *state
	least := math.Inf(1)
	for _, start := range []func(*state){c.filling(modest), c.filling(snug), c.stowing(rng, 0), c.stowing(rng, 0.3)} {
		st := newState(c, added)
		start(st)
		if v := st.lost(); v < least {
			best, least = st, v
		}
		if best.unplaced() <= target {
			return best
		}
	}
	best.squeeze(rng, rounds, target, stop)
	best.divide(best.short())
	return best
}

// filling starts a layout with whole loops, the widest first.
func (c *cell) filling(score rule) func(*state) {
	return func(st *state) {
		st.fill(c.byWidth(), score)
		st.mend(2, 200)
	}
}

// stowing starts a layout level by level.
func (c *cell) stowing(rng *rand.Rand, wild float64) func(*state) {
	return func(st *state) { st.stow(rng, wild, true) }
}

// lost is the least width that what is missing would take.
func (st *state) lost() float64 {
	sum := 0.0
	for _, i := range st.wanting() {
		sum += float64(st.missing[i]) * st.c.worthOf(i)
	}
	return sum
}

// byWidth orders the loops by the least width they take, the widest first.
func (c *cell) byWidth() []int {
	order := make([]int, 0, len(c.loops))
	for i := range c.loops {
		if c.least[i] < boundless {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(len(c.loops[b].pins), len(c.loops[a].pins)), cmp.Compare(c.least[b], c.least[a]))
	})
	return order
}

// refine improves a layout on the racks it has: fewer splits, then less
// effort, then fewer moves.
func (c *cell) refine(st *state, rng *rand.Rand, steps int, stop func() bool) *state {
	if st.key().splits > c.bigs {
		st = st.joined(func(st *state) { st.squeeze(rng, 2*c.squeezes(), st.unplaced(), stop) })
	}
	st.descend(stop)
	best, least := st, st.key()
	for _, from := range c.starts(st) {
		if stop() {
			break
		}
		from.descend(stop)
		if k := from.key(); k.compare(least) < 0 {
			best, least = from, k
		}
	}
	hot := best.clone()
	hot.anneal(rng, steps*len(c.loops), stop)
	hot.descend(stop)
	hot.regroup(rng, steps, true, stop)
	if hot.key().compare(least) < 0 {
		best = hot
	}
	best.trade(stop)
	if steps > 0 {
		best.polish(rng, c.rounds(), stop)
	}
	best.descend(stop)
	return best
}

// joined is a layout with fewer split loops, by joining their parts and then by squeezing,
// or only by the former: what leaves less width over may leave more containers.
func (st *state) joined(squeeze func(*state)) *state {
	st.join(3, 2000)
	other := st.clone()
	squeeze(other)
	if other.unplaced() > st.unplaced() {
		return st
	}
	return other
}

// starts builds other layouts on the racks of st, guided by the prices of a
// relaxation and by today's layout.
func (c *cell) starts(st *state) []*state {
	p := c.relax([][]int{st.added}, st.unplaced()-c.hopeless(), st.effort(), c.spend(40, 12), 0)
	goal := st.key()
	var list []*state
	for _, score := range []rule{priced(p.width), homely(priced(p.width))} {
		from := newState(c, st.added)
		from.fill(c.byWidth(), score)
		from.mend(3, 400)
		from.divide(from.short())
		if k := from.key(); k.unplaced == goal.unplaced && k.splits <= goal.splits {
			list = append(list, from)
		}
	}
	return list
}

// withoutEmptyRacks drops the added racks on which nothing lies.
func (st *state) withoutEmptyRacks() *state {
	added := make([]int, len(st.c.bases))
	var kept []int
	for r := range st.racks {
		b := st.racks[r].base
		if b < st.c.standing {
			continue
		}
		if st.rackUsed(r) {
			added[b]++
			kept = append(kept, r)
		}
	}
	n := newState(st.c, added)
	slices.SortStableFunc(kept, func(x, y int) int { return cmp.Compare(st.racks[x].base, st.racks[y].base) })
	to := make([]int, len(st.racks))
	for r := range st.c.standing {
		to[r] = r
	}
	for k, r := range kept {
		to[r] = st.c.standing + k
	}
	for i := range st.c.loops {
		for id := st.head[i]; id >= 0; id = st.items[id].next {
			it := st.items[id]
			rack := st.shelves[it.shelf].rack
			it.shelf += n.racks[to[rack]].first - st.racks[rack].first
			n.putBack(it)
		}
	}
	return n
}

func (st *state) rackUsed(r int) bool {
	b := &st.c.bases[st.racks[r].base]
	for s := st.racks[r].first; s < st.racks[r].first+b.end-b.first; s++ {
		if len(st.shelves[s].items) > 0 {
			return true
		}
	}
	return false
}

// bound compares a layout with what was proved; the proof may find a better
// layout, which takes its place unless the layout has to stay as it is laid.
func (c *cell) bound(st *state, r *relaxed, stop func() bool) (*state, Bound) {
	least, other := c.prove(st, r, stop)
	if other.key().compare(st.key()) < 0 && !c.asLaid {
		st = other.withoutEmptyRacks()
	}
	k := st.key()
	hopeless := c.hopeless()
	b := Bound{Cell: c.code, Unplaced: int(k.unplaced), UnplacedBound: int(hopeless), Effort: k.effort, Stopped: search.Limit}
	b.AddedCost = c.money(k.cost)
	if r != nil {
		b.UnplacedBound = int(min(r.fewest(), k.unplaced))
		b.AddedCostBound = c.money(min(k.cost, r.cheapest(k.unplaced-hopeless, k.cost)))
	}
	b.EffortBound = max(0, min(k.effort, least))
	if alike(b.Effort, b.EffortBound) {
		b.EffortBound = b.Effort // the same within rounding
	}
	b.Optimal = b.Unplaced == b.UnplacedBound && b.AddedCost == b.AddedCostBound && b.Effort == b.EffortBound
	switch {
	case stop():
		b.Stopped = search.Cancelled
	case b.Optimal:
		b.Stopped = search.Proved
	}
	return st, b
}

// prove proves a bound on effort, whatever is moved, and returns a layout of
// less effort where it finds one.
func (c *cell) prove(st *state, r *relaxed, stop func() bool) (float64, *state) {
	p := &proof{c: c, best: st, stop: stop, steps: c.proofSteps(c.proof)}
	least := 0.0
	c.unpriced(func() {
		if p.key = st.key(); p.key == c.proved {
			least = p.key.effort
			return
		}
		least = p.leastEffort(r)
	})
	return least, p.best
}

// unpriced does something while moves have no price.
func (c *cell) unpriced(do func()) {
	price, pull := c.movePrice, c.pull
	c.movePrice, c.pull = 0, c.effort
	defer func() { c.movePrice, c.pull = price, pull }()
	do()
}

// money returns a cost in the plant's currency, or a frontage in millimetres
// where the plant gives no costs.
func (c *cell) money(cost int64) float64 { return float64(cost) / 1e6 }
