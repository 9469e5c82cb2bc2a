package tours

import "context"

// evolve lets the population bear children through sp.
func (t *trajectory) evolve(ctx context.Context, sp span) {
	p := t.population
	t.hard = false
	t.admit()
	for sp.share(t) < sp.to && ctx.Err() == nil {
		t.reprice(t.soft)
		t.bear()
		t.steps = min(t.steps+stepsOfChild*t.f.Stops, t.most)
		t.settleIn()
		p.restart()
		if by := p.follow(t.feasible()); by != 1 {
			t.soft = t.soft.times(by)
			p.reprice(t.soft)
		}
		if !t.feasible() && t.n(2) == 0 {
			t.mend()
		}
	}
}

// populous reports whether a population searches f after a first part of the
// budget. Problems with wishes are left to the annealing: an order of all stops
// has no room for labels, and cutting it knows nothing of pairs. So are those
// without a table, which are large.
func (f *frozen) populous() bool {
	return f.Stops >= populousLeast && f.Stops <= populousMost && !f.sided && f.cost != nil
}

const (
	// A population searches problems of so many stops; with 300 it found less in
	// five seconds than annealing.
	populousLeast, populousMost = 8, 250
	// annealed is the share of the budget that it leaves to annealing; measured.
	annealed = 0.3
	// firstPrice is how many times dearer breaches are for the first children
	// than for annealing: at its price nearly all of them breach limits.
	firstPrice = 8
	// The birth of a child takes as long as so many kicks for each stop.
	stepsOfChild = 1
	// leastChildren is for how many there must be time.
	leastChildren = 300
)

// admit adds the best routes of annealing to a population that has none.
func (t *trajectory) admit() {
	if len(t.population.halves[0])+len(t.population.halves[1]) > 0 || !t.best.found {
		return
	}
	t.restore(&t.best)
	t.reprice(t.soft)
	t.educate()
	t.settleIn()
}

// bear sets the routes to those of a child, or of a member without parents.
func (t *trajectory) bear() {
	p := t.population
	if p.first > 0 {
		p.first--
		t.makeUp()
	} else {
		p.halves[0].rank()
		p.halves[1].rank()
		a := p.parent(t.dice)
		b := p.parent(t.dice)
		for range 8 {
			if a != b {
				break
			}
			b = p.parent(t.dice)
		}
		t.split(&p.splitter, p.cross(a, b, t.dice))
	}
	t.educate()
}

// makeUp lays out new routes: all stops put where they cost least, in an order
// by chance.
func (t *trajectory) makeUp() {
	t.clear()
	t.begin()
	t.taken = t.taken[:0]
	for x := int32(1); int(x) < t.f.w; x++ {
		t.taken = append(t.taken, x)
	}
	for i := range t.taken {
		j := i + t.n(len(t.taken)-i)
		t.taken[i], t.taken[j] = t.taken[j], t.taken[i]
	}
	t.hard = true
	t.reprice(t.f.hardPrices())
	t.putBack()
	t.hard = false
	t.reprice(t.soft)
}

// educate brings the routes to where no move and no exchange improves them.
func (t *trajectory) educate() {
	for t.open > t.f.maxRoutes {
		t.dissolve()
	}
	t.begin()
	list := t.taken[:0]
	for x := int32(1); int(x) < t.f.w; x++ {
		list = append(list, x)
	}
	for i := range list {
		j := i + t.n(len(list)-i)
		list[i], list[j] = list[j], list[i]
		t.touch(list[i])
	}
	t.taken = list
	clear(t.tried)
	for {
		t.descend()
		if !t.exchangeAll() {
			return
		}
	}
}

// settleIn adds the routes to the population and keeps them if they are the best
// so far.
func (t *trajectory) settleIn() {
	t.population.add(t.population.member(t.state), t.soft)
	t.population.idle++
	if t.feasible() && (!t.best.found || t.total() < t.best.total) {
		t.markAll()
		t.note()
		t.population.idle = 0
	}
}

// dearer is how many times dearer breaches are when a child is mended.
const dearer = 10

// mend looks for routes without breaches near those there are.
func (t *trajectory) mend() {
	t.reprice(t.soft.times(dearer))
	t.educate()
	if t.feasible() {
		t.settleIn()
	}
}
