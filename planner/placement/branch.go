package placement

import (
	"math"
	"slices"

	"lanewright/planner/internal/patterns"
)

// branching proves that no layout on a set of racks has less effort than the
// best known, or finds one: branch and bound. The bids of a linear programme bound
// what is left, lots that cost more than the gap are closed, and where few bundles
// are left a search through them ends it; else a loop that the programme parts
// between levels has to lie on some of them, or on the others.
type branching struct {
	p   *proof
	a   *auction
	g   *programme
	set []int
	// short is the programme of shortlists.
	short *programme
	// root is how it was at the root of the last one.
	root *patterns.Simplex
	// target is the effort to beat, doubt the least bound of layouts of which
	// it is not known whether they are valid.
	target, doubt float64
	// aim is the effort below which layouts are looked for now, at most the target.
	aim float64
	// bid is what was bid at first, back how many steps are kept back.
	bid  float64
	back int
	// look is what may be spent on the search through bundles at one node, last the same
	// where there is nothing left to fork.
	look, last int
	// lots is the number of lots.
	lots int
	// twigs are what has yet to be looked at.
	twigs []twig
}

// newBranching prepares the proof on one set of racks.
func newBranching(p *proof, a *auction, set []int) *branching {
	b := &branching{p: p, a: a, g: newProgramme(a, p.key.effort), set: set, look: nodeSteps, last: lastSteps, target: beaten(p.key.effort), doubt: math.Inf(1)}
	for s := range a.stalls {
		b.lots += len(a.stalls[s].lots)
	}
	return b
}

// beaten is the effort of a layout that is better than one of an effort.
func beaten(effort float64) float64 { return effort * (1 - 9e-10) }

// firstAim is the part of the gap in which the first layouts are looked for: most are
// much nearer to the bound than the best known, and the nearer, the fewer need be
// looked at. If there are none, nextAim times as much is added to it, or dearAim times
// where that took more than one of dearPass of the steps that were left: the work grows
// by a factor with what is added. Where no more than lastAim of the gap is left, all of
// it is aimed at.
const (
	firstAim = 1. / 16
	nextAim  = 1.6
	dearAim  = 0.6
	dearPass = 50
	lastAim  = 0.1
)

// nodeSteps and lastSteps are how long a branching searches through bundles.
const (
	nodeSteps = 20_000
	lastSteps = 10_000_000
)

// mostRoundUps is how often conditions on loops in parts are looked for, goodPart the
// part of the gap that they have to close.
const (
	mostRoundUps = 4
	goodPart     = 0.05
)

// twig is a part of the tree that has yet to be looked at: what is known of its
// bound, the lots that are closed in it, and the bids to begin with.
type twig struct {
	bound  float64
	off    []lotAt
	offers []float64
}

// prove returns the least effort that layouts can have, as far as it is proved. It
// follows a branch to its end, for what layouts are there, and then goes on with
// the twig of the least bound.
func (b *branching) prove() float64 {
	b.aim = b.target
	value := b.g.improve(b.target)
	value = b.roundUp(value)
	root := twig{bound: value, offers: b.a.offers(nil)}
	b.bid = value
	b.keepBack()
	defer func() { *b.a.steps += b.back }()
	b.aim = value
	least := firstAim * (b.target - value)
	for step := least; ; {
		if b.aim += step; b.aim > b.target-lastAim*(b.target-value) {
			b.aim = b.target
		}
		left := *b.a.steps
		b.twigs = append(b.twigs[:0], root)
		root.bound = max(root.bound, b.pass())
		if root.bound < b.aim || b.aim >= b.target {
			return min(root.bound, b.doubt)
		}
		if left-*b.a.steps < left/dearPass {
			step *= nextAim
		} else {
			step = max(step*dearAim, least)
		}
	}
}

// keepBack keeps steps back by the gap that there is now.
func (b *branching) keepBack() {
	all := *b.a.steps + b.back
	b.back = b.p.c.keepBack((b.target-b.bid)/b.target, all)
	*b.a.steps = all - b.back
}

// roundUp adds conditions on loops in parts while they raise what is bid, value so far,
// by a good part of the gap; where they do not, the programme is quicker without them.
func (b *branching) roundUp(value float64) float64 {
	for range mostRoundUps {
		had, offers := len(b.a.ups), b.a.offers(nil)
		g := b.g.roundUp(b.p.key.effort)
		if g == b.g || value >= b.target || !b.on() {
			break
		}
		v := g.improve(b.target)
		if v-value < goodPart*(b.target-value) {
			b.a.forget(had)
			b.a.offer(offers)
			return max(value, v)
		}
		b.g, value = g, v
	}
	return value
}

// pass proves that no layout has less effort than is aimed at, or finds one, and
// returns the least effort that layouts can have, as far as it is proved.
func (b *branching) pass() float64 {
	for {
		k := b.least()
		if k < 0 || b.twigs[k].bound >= b.aim {
			return b.aim
		}
		if !b.on() {
			return b.twigs[k].bound
		}
		t := b.twigs[k]
		b.twigs = slices.Delete(b.twigs, k, k+1)
		b.a.open(0)
		for _, at := range t.off {
			b.a.close(at)
		}
		b.a.offer(t.offers)
		b.follow(t.bound)
	}
}

// leave keeps the lots that are open for later.
func (b *branching) leave(bound float64) {
	b.twigs = append(b.twigs, twig{bound, slices.Clone(b.a.off), b.a.offers(nil)})
}

// least is the twig of the least bound, −1 without any.
func (b *branching) least() int {
	best := -1
	for k := range b.twigs {
		if best < 0 || b.twigs[k].bound < b.twigs[best].bound {
			best = k
		}
	}
	return best
}

// follow looks for layouts in the lots that are open until there is nothing better
// than the target in them, and leaves what it turns away from.
func (b *branching) follow(bound float64) {
	for {
		value, open := b.tighten(bound)
		bound = max(bound, value)
		if !open {
			return
		}
		if p := b.newShortlist(value); p != nil {
			if bound = max(bound, p.prove(bound)); bound < b.aim {
				b.leave(bound)
			}
			return
		}
		if !b.on() {
			b.leave(bound)
			return
		}
		forks := b.forks(b.g, func(_ int, l *lot) bool { return !l.off })
		if len(forks) == 0 {
			b.doubt = min(b.doubt, bound)
			return
		}
		f := forks[0]
		mark := len(b.a.off)
		b.only(f.loop, f.sides[1])
		b.leave(bound)
		b.a.open(mark)
		b.only(f.loop, f.sides[0])
	}
}

// on reports whether there are steps left.
func (b *branching) on() bool { return *b.a.steps >= 0 && !b.p.stop() }

// tighten moves the bids and closes lots until neither brings much, and returns
// what is bid; false where that, or the bound that is known, leaves nothing better
// than the target.
func (b *branching) tighten(bound float64) (float64, bool) {
	for {
		value := b.g.improve(b.aim)
		if max(value, bound) >= b.aim {
			return value, false
		}
		if !b.on() {
			return value, true
		}
		if b.complete() {
			continue
		}
		closed := len(b.a.off)
		if !b.fix(value) {
			return value, false
		}
		if len(b.a.off)-closed <= (b.lots-closed)/20 {
			return value, true
		}
	}
}

// complete takes what the programme has found where that is a better layout.
func (b *branching) complete() bool {
	path, ok := b.g.whole()
	if !ok {
		return false
	}
	st, _ := b.a.layout(path, b.set)
	return st != nil && b.take(st)
}

// take makes a layout the one to beat, if it is better; it reports whether less
// effort is to be beaten now.
func (b *branching) take(st *state) bool {
	k := st.key()
	if k.compare(b.p.key) >= 0 {
		return false
	}
	b.p.best, b.p.key = st, k
	if beaten(k.effort) >= b.target {
		return false
	}
	b.target = beaten(k.effort)
	b.aim = min(b.aim, b.target)
	b.keepBack()
	b.twigs = slices.DeleteFunc(b.twigs, func(t twig) bool { return t.bound >= b.target })
	return true
}

// inParts is the place of a loop that does not lie whole on one stall.
const inParts = -1

// only closes all lots of loop i but those of some places: stalls on which it lies
// whole, or in parts.
func (b *branching) only(i int, places []int) {
	k := b.a.c.loops[i].k
	for s := range b.a.stalls {
		for at := range b.a.stalls[s].lots {
			l := &b.a.stalls[s].lots[at]
			place := s
			if l.n < k {
				place = inParts
			}
			if l.loop == i && !slices.Contains(places, place) {
				b.a.close(lotAt{int32(s), int32(at)})
			}
		}
	}
}

// fix closes the lots that no layout better than the target has, value being what
// is bid; false where a loop has none left.
func (b *branching) fix(value float64) bool {
	left := make([]int, len(b.a.c.loops))
	for s := range b.a.stalls {
		if t := &b.a.stalls[s]; t.times > 0 {
			b.fixStall(s, t, value, left)
		}
	}
	return !slices.ContainsFunc(b.a.loops, func(i int) bool { return left[i] == 0 })
}

func (b *branching) fixStall(s int, t *stall, value float64, left []int) {
	p := &b.a.pick
	*b.a.steps -= len(t.lots) * len(t.lots) / workPerStep
	b.a.pay(t)
	p.lots, p.list = t.lots, p.list[:0]
	for k := range t.lots {
		if l := &t.lots[k]; l.profit > 0 && !l.off {
			p.list = append(p.list, k)
		}
	}
	p.prepare(true)
	p.sort()
	for k := range t.lots {
		l := &t.lots[k]
		if l.off {
			continue
		}
		p.used[l.loop] = true
		less := max(0, -t.value-l.profit-p.fractions(0, t.room-l.width))
		p.used[l.loop] = false
		if value+less >= b.aim {
			b.a.close(lotAt{int32(s), int32(k)})
		} else {
			left[l.loop]++
		}
	}
}
