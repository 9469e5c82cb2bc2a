package routing

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"lanewright/planner/search"
)

// trial is the share of its steps, one in so many, that each vehicle type is
// tried with before types are chosen.
const trial = 8

// leastSteps is what even a small group is given, also to try a vehicle type: with a
// quarter of it one search in fifteen of six racks with rules kept a route too many.
const leastSteps = 8000

// search finds routes for all groups: short searches with each vehicle type,
// the choice of types for all groups together, long searches with those chosen.
func (w *work) search(ctx context.Context, list []group) []*part {
	tried := make([][]candidate, len(list))
	w.parallel(len(list), func(i int) { tried[i] = w.candidates(&list[i]) })
	if len(w.fleet) > 1 {
		var all []*part
		for _, candidates := range tried {
			for _, c := range candidates {
				if !c.hopeless(candidates) {
					all = append(all, c...)
				}
			}
		}
		w.improve(ctx, all, "vehicles", func(p *part) int { return max(w.steps(p)/trial, leastSteps) },
			func(ctx context.Context, p *part, n int, seed uint64) search.Stop {
				return p.sketch(ctx, n, seed, w.threads)
			})
	}
	var chosen []*part
	for _, c := range w.choose(tried) {
		chosen = append(chosen, c...)
	}
	w.improve(ctx, chosen, "routes", w.steps, func(ctx context.Context, p *part, n int, seed uint64) search.Stop {
		return p.improve(ctx, n, seed, w.threads)
	})
	w.withinLimit(ctx, chosen)
	return chosen
}

// manyStops is where the number of steps stops rising with the stops: a step takes
// longer where there are more handlers to give a round to.
const manyStops = 800

// steps are the engine's for a part.
func (w *work) steps(p *part) int {
	return max(w.settings.Steps*min(len(p.stops), manyStops), leastSteps)
}

// look is a search for the routes of one part.
type look func(ctx context.Context, p *part, steps int, seed uint64) search.Stop

// improve searches each part for itself, with a stream of its own. Phase is the
// stage that progress is told of.
func (w *work) improve(ctx context.Context, parts []*part, phase string, steps func(*part) int, how look) {
	total := 0
	for _, p := range parts {
		total += steps(p)
	}
	var done atomic.Int64
	var stopped sync.Mutex
	w.parallel(len(parts), func(i int) {
		p := parts[i]
		name := fmt.Sprintf("%s/%d/%s/%s", phase, p.group.interval, p.group.name, p.vehicle.code())
		stop := how(ctx, p, steps(p), search.Stream(w.seed, name).Uint64())
		w.progress.Report(phase, int(done.Add(int64(steps(p)))), total)
		stopped.Lock()
		defer stopped.Unlock()
		w.plan.Stopped = later(w.plan.Stopped, stop)
	})
}

// later joins the reasons of two searches: a cancelled one outweighs one that
// used up its steps, and that one a proved result.
func later(a, b search.Stop) search.Stop {
	for _, s := range []search.Stop{search.Cancelled, search.Limit} {
		if a == s || b == s {
			return s
		}
	}
	return b
}

// parallel does n tasks on the threads of w.
func (w *work) parallel(n int, task func(i int)) {
	var tasks errgroup.Group
	tasks.SetLimit(w.threads)
	for i := range n {
		tasks.Go(func() error {
			task(i)
			return nil
		})
	}
	_ = tasks.Wait() // no task can fail
}
