package tours

import (
	"context"
	"sync"
)

// marks is after how many equal parts of the budget trajectories exchange.
const marks = 16

// runAll lets all trajectories work through the budget. After each part of it
// the one that has the worst routes goes on from the best ones.
func runAll(ctx context.Context, list []*trajectory, l Limits, threads int) {
	parts := marks
	if len(list) == 1 {
		parts = 1
	}
	threads = min(threads, len(list))
	groups := (len(list) + threads - 1) / threads
	for i := range parts {
		for g := range groups {
			sp := span{limits: &l, from: float64(i) / float64(parts), to: float64(i+1) / float64(parts)}
			width := (sp.to - sp.from) / float64(groups)
			sp.begin = sp.from + float64(g)*width
			sp.end = sp.begin + width
			together(list[g*threads:min((g+1)*threads, len(list))], func(t *trajectory) { t.search(ctx, sp) })
		}
		if i < parts-1 {
			exchange(list)
		}
	}
}

// together does the task for each of the list at once.
func together(list []*trajectory, task func(*trajectory)) {
	if len(list) == 1 {
		task(list[0])
		return
	}
	var all sync.WaitGroup
	for _, t := range list {
		all.Go(func() { task(t) })
	}
	all.Wait()
}

// better reports whether t has found more than o.
func (t *trajectory) better(o *trajectory) bool {
	if t.best.found != o.best.found {
		return t.best.found
	}
	return t.best.found && t.best.total < o.best.total
}

// exchange lets the trajectory with the worst routes go on from the best.
func exchange(list []*trajectory) {
	good, bad := list[0], list[0]
	for _, t := range list[1:] {
		if t.better(good) {
			good = t
		}
		if bad.better(t) {
			bad = t
		}
	}
	if good != bad && good.best.found {
		bad.restore(&good.best)
		bad.markAll()
		bad.note()
		if p := bad.population; p != nil && p.born > 0 {
			p.add(p.member(bad.state), bad.soft)
		}
	}
}
