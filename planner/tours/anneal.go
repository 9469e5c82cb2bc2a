package tours

import (
	"math"

	"lanewright/planner/search"
)

// Limits end a search.
type Limits struct {
	// Steps is the number of kicks; 0 for no limit.
	Steps int
	// Elapsed is the share of the budget that is used up, from 0; at 1 the
	// search ends. Nil for a limit of steps only. It is asked now and then.
	Elapsed func() float64
}

const patience = 64

// trajectory is one search from routes to better ones.
type trajectory struct {
	kicks
	best  best
	steps int
	// share is how much of the budget is used up.
	share float64
}

func (t *trajectory) progress(l Limits, from, to float64) bool {
	if l.Steps > 0 {
		t.share = float64(t.steps) / float64(l.Steps)
	}
	if l.Elapsed != nil && t.steps%patience == 0 {
		t.share = l.Elapsed()
	}
	return t.share < to
}

func (t *trajectory) anneal(l Limits) search.Stop {
	hot, cold := t.hot*t.f.meanLeg, t.cold*t.f.meanLeg
	heat := hot
	feasible, tries := 0, 0
	for t.progress(l, 0, 1) {
		if t.steps%patience == 0 {
			heat = hot * math.Pow(cold/hot, t.share)
		}
		t.steps++
		before := t.value()
		t.begin()
		t.ruin()
		t.recreate()
		v := t.value()
		if float64(v-before) > -heat*math.Log(1-t.unit()) {
			t.undo()
			continue
		}
		t.keep()
		if t.feasible() && (!t.best.found || t.total() < t.best.total) {
			t.best.record(t.state)
		}
	}
	_, _ = feasible, tries
	return search.Limit
}
