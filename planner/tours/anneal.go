package tours

import (
	"context"
	"math"
)

// trajectory is one search that goes from routes to neighbouring ones. It
// accepts worse ones with a chance that shrinks to nothing over the budget.
type trajectory struct {
	kicks
	best  best
	steps int
	// population is nil where there is none; soft are its prices of breaches.
	population *population
	soft       prices
	// most is the number of kicks it may do.
	most int
	// judged: it was decided whether limits are soft at first, mild: they are.
	judged, mild bool
	// breached counts the kicks since prices were set that began with a breach,
	// counted all of them.
	breached, counted int
}

// span is a part of the budget: a trajectory works through it while the share
// that is used up goes from its from to its to.
type span struct {
	limits   *Limits
	from, to float64
	// begin and end are the shares of elapsed time that it is given of it.
	begin, end float64
}

// share is how much of the budget t has used up.
func (sp *span) share(t *trajectory) float64 {
	var share float64
	if sp.limits.Steps > 0 {
		share = float64(t.steps) / float64(t.most)
	}
	if sp.limits.Elapsed != nil {
		gone := (sp.limits.Elapsed() - sp.begin) / (sp.end - sp.begin)
		share = max(share, sp.from+gone*(sp.to-sp.from))
	}
	return share
}

// between is after how many kicks the budget is looked at.
const between = 64

// search works through sp.
func (t *trajectory) search(ctx context.Context, sp span) {
	t.anneal(ctx, sp)
	if t.population != nil && sp.share(t) >= annealed {
		t.evolve(ctx, sp)
	}
}

// last is the share of the budget at which annealing is cold.
func (t *trajectory) last() float64 {
	if t.population != nil {
		return annealed
	}
	return 1
}

// anneal searches through sp, but not beyond where it is cold.
func (t *trajectory) anneal(ctx context.Context, sp span) {
	share := sp.share(t)
	for share < min(sp.to, t.last()) && ctx.Err() == nil {
		expected := float64(t.most)
		if share > 0 && t.steps > 0 {
			expected = float64(t.steps) / share
		}
		if !t.judged && (t.steps >= judgedAfter || t.most < math.MaxInt) {
			t.judge(expected)
		}
		expected *= t.last()
		share /= t.last()
		hot := t.hot(expected)
		heat := t.f.meanLeg * hot * math.Pow(t.cold()/hot, share)
		if !t.hard && share >= hardFrom {
			t.harden()
		}
		for range between {
			t.steps++
			t.reconsider()
			t.step(heat)
			if t.steps == t.most {
				break
			}
		}
		share = sp.share(t)
	}
}

// harden lets no more breaches be; those there are cost so much that the next
// kicks mend them.
func (t *trajectory) harden() {
	t.hard = true
	t.reprice(t.f.hardPrices())
}

// step does one kick and keeps it or not.
func (t *trajectory) step(heat float64) {
	before := t.value()
	t.begin()
	if t.f.Labels > 0 && t.n(relabelled) == 0 {
		t.relabel()
	} else {
		t.ruin()
		t.recreate()
	}
	v := t.value()
	if t.promising(v) {
		t.polish()
		v = t.value()
	}
	if float64(v-before) > -heat*math.Log(1-t.unit()) {
		t.undo()
		return
	}
	t.keep()
	t.note()
}

// relabelled is in how many kicks one exchanges labels, where there are any.
const relabelled = 16

// relabel exchanges the slots of a route and another one, which may be empty.
func (t *trajectory) relabel() {
	a := t.nodes[1+t.n(t.f.Stops)].route
	b := t.vacant()
	if l := int32(t.n(t.f.Labels + 1)); int(l) < t.f.Labels {
		b = l
	}
	t.taken, t.gaps = t.taken[:0], t.gaps[:0]
	if a == b {
		return
	}
	t.save(a)
	t.save(b)
	t.seqA = t.sequence(&t.routes[a], t.seqA[:0])
	t.seqB = t.sequence(&t.routes[b], t.seqB[:0])
	t.load(a, t.seqB)
	t.load(b, t.seqA)
	t.settleRoute(a)
	t.settleRoute(b)
}

// promising reports whether routes of value v are worth the local search.
func (t *trajectory) promising(v int64) bool { return t.best.found && v < t.best.total }

// note keeps the routes if they are the best so far.
func (t *trajectory) note() {
	if t.feasible() && (!t.best.found || t.total() < t.best.total) {
		t.best.record(t.state)
	}
}

// polish improves the routes around what a kick changed.
func (k *kicks) polish() {
	for _, x := range k.taken {
		k.touch(x)
		k.touch(k.nodes[x].link[0])
		k.touch(k.nodes[x].link[1])
	}
	for _, x := range k.gaps {
		k.touch(x)
	}
	k.descend()
}
