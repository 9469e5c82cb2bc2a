package tours

import (
	"context"

	"lanewright/planner/search"
)

// conclude returns the best routes of all trajectories.
func conclude(ctx context.Context, list []*trajectory, l Limits) Result {
	t := list[0]
	r := Result{Stop: stopped(ctx, l, t.f.Stops)}
	for _, o := range list {
		r.Steps += o.steps
		if o.better(t) {
			t = o
		}
	}
	if r.Feasible = t.best.found; r.Feasible {
		t.restore(&t.best)
	}
	t.reprice(t.f.hardPrices())
	if !r.Feasible {
		t.repair(ctx)
	}
	t.finish()
	r.Feasible = t.feasible()
	r.Cost = t.total()
	for i := range t.routes {
		if t.routes[i].size > 0 {
			r.Routes = append(r.Routes, Route{t.f.label(int32(i)), t.sequence(&t.routes[i], nil)})
		}
	}
	return r
}

// repairs is how many kicks are spent on routes that breach limits to the end.
const repairs = 2000

// repair looks for routes without a breach and takes the first it finds.
func (t *trajectory) repair(ctx context.Context) {
	t.hard = true
	for range repairs {
		if t.best.found || ctx.Err() != nil {
			return
		}
		t.step(coldHard * t.f.meanLeg)
	}
}

// finish leaves no move undone that the local search knows.
func (t *trajectory) finish() {
	t.begin()
	for x := int32(1); int(x) < t.f.w; x++ {
		t.touch(x)
	}
	t.descend()
	if t.best.found && !t.feasible() {
		t.undo()
	}
}

// stopped says why a search ended.
func stopped(ctx context.Context, l Limits, stops int) search.Stop {
	switch {
	case stops <= 1:
		return search.Proved
	case ctx.Err() != nil || l.Elapsed != nil && l.Elapsed() >= 1:
		return search.Cancelled
	}
	return search.Limit
}
