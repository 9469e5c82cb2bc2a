package routing

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"time"

	"lanewright/planner/search"
	"lanewright/planner/units"
)

// score is what a set of routes is judged by, in this order.
type score struct {
	handlers, routes int
	length           units.Length
}

func (a score) compare(b score) int {
	return cmp.Or(cmp.Compare(a.handlers, b.handlers), cmp.Compare(a.routes, b.routes), cmp.Compare(a.length, b.length))
}

// solution is a set of routes as the order of their stops, home after each
// route, with its score.
type solution struct {
	order []int32
	score score
}

// aim is what one phase of the search weighs against length.
type aim struct {
	// route is the cost of a route.
	route units.Length
	// fewer looks for one handler less than the best: the time of rounds that
	// the others have no room for is made smaller, whatever it costs. Without
	// it, more handlers than the best has are refused.
	fewer bool
}

// improver searches by ruin and recreate: it takes strings of neighbouring
// stops out and puts them back where they cost least, and accepts a worse
// result with a chance that shrinks to nothing (Christiaens, Vanden Berghe,
// Slack induction by string removals for vehicle routing problems,
// Transportation Science 54, 2020, 417-433; from memory, own code).
type improver struct {
	p    *problem
	t    *tours
	rnd  *rand.Rand
	best solution
	// taken are the stops that are out, rank their order of return.
	taken []int32
	rank  []float64
	// ruined says in which step a string was taken from a route.
	ruined []int
	step   int
	crew   crew
	// handlers is the last count; least is a number nobody gets below.
	handlers, least int
}

// improve returns the best routes found in the given number of steps, never
// worse than order, and why it stopped. Tick is told of steps done.
func (p *problem) improve(ctx context.Context, order []int32, steps int, rnd *rand.Rand, tick func(steps int)) (solution, search.Stop) {
	s := &improver{p: p, t: newTours(p), rnd: rnd, rank: make([]float64, len(p.stops)+1), ruined: make([]int, len(p.stops))}
	s.t.load(order)
	handlers, _ := s.crew.count(s.t, 0)
	s.best = solution{order, score{handlers, s.t.routes(), s.t.length}}
	if len(p.stops) == 1 {
		return s.best, search.Proved
	}
	stop, first := search.Limit, 0
	s.least = p.leastHandlers()
	if handlers > s.least {
		first = steps / 3
		stop = s.anneal(ctx, aim{fewer: true}, first, tick)
	}
	if stop != search.Cancelled {
		stop = s.anneal(ctx, aim{route: p.open}, steps-first, tick)
	}
	return s.best, stop
}

// The temperature starts and ends at these shares of the mean leg.
const (
	hot  = 1.0
	cold = 0.01
)

// anneal runs steps from the best tours so far.
func (s *improver) anneal(ctx context.Context, a aim, steps int, tick func(int)) search.Stop {
	const chunk = 256
	s.t.clear()
	s.t.load(s.best.order)
	mean := float64(s.t.length) / float64(len(s.p.stops)+s.t.routes())
	heat, cooling := hot*mean, math.Pow(cold/hot, 1/float64(max(steps, 1)))
	value := s.value(a)
	for i := range steps {
		if i%chunk == 0 {
			if ctx.Err() != nil {
				return search.Cancelled
			}
			tick(min(chunk, steps-i))
		}
		s.step++
		s.ruin()
		s.recreate(a.route)
		v := s.value(a)
		if v <= value-heat*math.Log(1-s.rnd.Float64()) && s.allowed(a) {
			value = v
			s.t.keep()
			if s.record() {
				value = s.value(a)
			}
		} else {
			s.t.undo()
		}
		heat *= cooling
	}
	return search.Limit
}

// worth is what a second of a handler is worth in the search for fewer of them:
// several metres for each that is driven in it.
const worth = 10

// value is what the phase minimises.
func (s *improver) value(a aim) float64 {
	v := float64(s.t.length) + float64(a.route)*float64(s.t.routes())
	if a.fewer {
		var over time.Duration
		s.handlers, over = s.crew.count(s.t, max(s.best.score.handlers-1, s.least))
		v += worth * over.Seconds() * float64(s.p.vehicle.Speed)
	}
	return v
}

// allowed refuses tours that need more handlers than the best, where value does
// not weigh them.
func (s *improver) allowed(a aim) bool {
	if a.fewer {
		return true
	}
	s.handlers, _ = s.crew.count(s.t, 0)
	return s.handlers <= s.best.score.handlers
}

// record keeps the tours when they are the best so far.
func (s *improver) record() bool {
	found := score{s.handlers, s.t.routes(), s.t.length}
	if found.compare(s.best.score) >= 0 {
		return false
	}
	s.best = solution{s.t.order(make([]int32, 0, len(s.best.order))), found}
	return true
}
