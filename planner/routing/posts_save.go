package routing

import (
	"context"
	"math"
	"math/rand/v2"
	"time"

	"lanewright/planner/search"
)

// manyHandlers is from how many on the least work is searched for first: what all
// rounds take together then says how many handlers there must be, and how rounds fit
// into what one has matters little.
const manyHandlers = 20

// toiling is how many times the steps of one search of the engine that takes.
const toiling = 16

// toil looks for the rounds that take the least time all together, whoever drives them,
// saves handlers from there, and makes the routes shorter. It does not ask the engine,
// which knows the time of a round only as one price for all.
func (p *part) toil(ctx context.Context, steps int, rnd *rand.Rand) search.Stop {
	start := *p
	s := newPosts(&start, byWork, 1, rnd)
	s.room, s.over = ticks{math.MaxInt64 / 4, math.MaxInt64 / 4}, 0
	best := s.cost
	s.anneal(ctx, steps*toiling, toilPace, func() bool {
		if s.cost < best {
			best = s.cost
			start.routes, _ = s.found()
		}
		return false
	})
	start.routes, start.shared = p.mend(start.routes), nil
	p.take(start.routes)
	list := start.tours(start.routes)
	for goal := newDealer(list, p.room()).least(); goal < p.score.handlers && ctx.Err() == nil; goal++ {
		s := newPosts(&start, byWork, goal, rnd)
		s.anneal(ctx, steps*saving, savePace, func() bool { return s.over == 0 })
		if p.keep(s.found()) {
			break
		}
	}
	p.hold(ctx, steps, rnd)
	if ctx.Err() != nil {
		return search.Cancelled
	}
	return search.Limit
}

// saving is how many times those steps are spent on a number of handlers.
const saving = 4

// save looks for routes with fewer handlers: as many as the time of today's rounds
// would need without a gap; where that fails once, one less each time, until the steps
// are used up.
func (p *part) save(ctx context.Context, steps int, rnd *rand.Rand) {
	for last := false; steps > 0 && p.score.handlers > p.leastHandlers() && ctx.Err() == nil; {
		goal := p.score.handlers - 1
		if !last {
			goal = min(goal, newDealer(p.tours(p.routes), p.room()).least())
		}
		s := newPosts(p, byWork, goal, rnd)
		try := min(steps, max(leastTry, patience*len(p.stops)))
		used := s.anneal(ctx, try, fewPace, func() bool { return s.over == 0 })
		if !p.keep(s.found()) {
			last, used = true, try
		}
		steps -= used
	}
}

// So many steps for each stop are spent on one handler, and no fewer than the least.
const (
	patience = 8
	leastTry = 2000
)

// hold makes the routes shorter with as many handlers.
func (p *part) hold(ctx context.Context, steps int, rnd *rand.Rand) {
	s := newPosts(p, byWay, p.score.handlers, rnd)
	best := s.cost
	routes, hands := s.found()
	s.anneal(ctx, steps, holdPace, func() bool {
		if s.over == 0 && s.cost < best {
			best = s.cost
			routes, hands = s.found()
		}
		return false
	})
	p.keep(routes, hands)
}

// pace is how a search cools down: its temperature in mean legs at the begin and at the
// end, and the price of a tick that a handler has too much, which rises.
type pace struct{ hot, cold, cheap, dear float64 }

// Where many handlers are, those of the least work are saved cold, so that they stay
// near it; and what they have too much costs as much as work at first.
var (
	toilPace = pace{0.2, 0.01, 0, 0}
	savePace = pace{0.03, 0.01, 1, 10}
	fewPace  = pace{0.5, 0.01, 10, 10}
	holdPace = pace{0.5, 0.01, 0, 0}
)

const stepsBetween = 64

// anneal kicks for so many steps or until done, and returns how many it used.
func (s *posts) anneal(ctx context.Context, steps int, at pace, done func() bool) int {
	leg := float64(s.cost-s.Fixed*int64(s.open)) / float64(s.Stops+s.open)
	each := 1 / float64(max(steps, 1))
	heat, cooling, rise := at.hot*leg, math.Pow(at.cold/at.hot, each), 1.0
	if s.soft = at.cheap; s.soft > 0 {
		rise = math.Pow(at.dear/at.cheap, each)
	}
	for i := range steps {
		if done() || i%stepsBetween == 0 && ctx.Err() != nil {
			return i
		}
		s.kick(heat)
		heat, s.soft = heat*cooling, s.soft*rise
	}
	done()
	return steps
}

// leastHandlers returns a number of handlers below which no routes of p can
// get: the time at the stops, with the shortest way to each point, over the busy
// limit. (Loading and unloading count at their mean.)
func (p *problem) leastHandlers() int {
	if p.limit.z < 0 {
		return 1
	}
	var all time.Duration
	for _, s := range p.stops {
		all += roundTime(p.vehicle.Vehicle, 0, 1, s.need.mean, s.need.empties)
	}
	for at := home + 1; at < len(p.rows); at++ {
		all += p.vehicle.entering(p.rows, at)
	}
	return ceil(all, p.limit.round)
}
