package routing

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/tours"
	"lanewright/planner/units"
)

// score is what a set of routes is judged by, in this order.
type score struct {
	// excess is how many stops are moved beyond what is allowed.
	excess, handlers, routes int
	// length is the metres of one round of each route, and what its moved stops cost.
	length units.Length
}

func (a score) compare(b score) int {
	return cmp.Or(cmp.Compare(a.excess, b.excess), cmp.Compare(a.handlers, b.handlers), cmp.Compare(a.routes, b.routes), cmp.Compare(a.length, b.length))
}

// part is the routes of one vehicle type in one group.
type part struct {
	*problem
	routes []tours.Route
	score  score
	// shared are the places in routes of those that each handler drives, where they are
	// fewer than they would be if the routes were dealt anew; else nil.
	shared [][]int
}

// newPart finds first routes: new ones or, where those are no better, today's.
func newPart(p *problem) *part {
	one := &part{problem: p}
	one.routes = one.mend(one.solve(context.Background(), byWay, tours.Limits{Steps: 1}, tours.Settings{}).Routes)
	one.score = p.judge(p.tours(one.routes))
	if start := one.mend(p.driven()); len(start) > 0 {
		one.take(one.solve(context.Background(), byWay, tours.Limits{Steps: 1}, tours.Settings{Start: start}).Routes)
	}
	one.forget()
	return one
}

// solve asks the engine, which knows no error but a broken question.
func (p *problem) solve(ctx context.Context, a aim, l tours.Limits, s tours.Settings) tours.Result {
	r, err := tours.Solve(ctx, p.ask(a), l, s)
	if err != nil {
		panic(fmt.Sprintf("routing: %v", err))
	}
	return r
}

// take makes routes those of p, if they are better.
func (p *part) take(routes []tours.Route) bool {
	routes = p.mend(routes)
	found := p.judge(p.tours(routes))
	if found.compare(p.score) >= 0 {
		return false
	}
	p.routes, p.score, p.shared = routes, found, nil
	return true
}

// judge scores tours by the rules of the plan.
func (p *problem) judge(list []tour) score {
	s := score{handlers: len(p.hands(list)), routes: len(list)}
	moved := 0
	for _, t := range list {
		s.length += t.drive.Length
		moved += p.moved(t)
	}
	s.length += p.move * units.Length(moved)
	if p.limited {
		s.excess = max(0, moved-p.most)
	}
	return s
}

// moved is how many stops of p are on another route than today.
func (p *part) moved() (n int) {
	for _, t := range p.tours(p.routes) {
		n += p.wishes.moved(t)
	}
	return n
}

// tours are the finished routes, in their order.
func (p *problem) tours(routes []tours.Route) []tour {
	labels := p.labels()
	list := make([]tour, 0, len(routes))
	for _, r := range routes {
		t := p.tour(r.Stops)
		if r.Label > 0 {
			t.code = labels[r.Label-1]
		} else if back := t.turned(); back.drive == t.drive && back.waiting() < t.waiting() && p.inTurn(back) {
			t = back
		}
		list = append(list, t)
	}
	slices.SortFunc(list, tour.compare)
	return list
}

// inTurn reports whether t keeps the rules of what comes before what.
func (p *problem) inTurn(t tour) bool {
	place := map[plant.RackCode]int{}
	for i, s := range t.stops {
		place[s.rack] = i
	}
	return p.rules.inTurn(place)
}

func (p *problem) tour(numbers []int32) tour {
	stops := make([]stop, 0, len(numbers))
	for _, x := range numbers {
		stops = append(stops, p.stops[x-1])
	}
	return newTour(p.vehicle, p.group, stops)
}

// mend takes routes apart that one round can not drive, or that join what a rule
// keeps apart, so that each piece keeps all limits.
func (p *problem) mend(routes []tours.Route) []tours.Route {
	var list []tours.Route
	for _, r := range routes {
		pieces := []tours.Route{{Label: r.Label}}
	next:
		for _, x := range r.Stops {
			for i := range pieces {
				if with := append(slices.Clone(pieces[i].Stops), x); p.can(with) {
					pieces[i].Stops = with
					continue next
				}
			}
			pieces = append(pieces, tours.Route{Stops: []int32{x}})
		}
		list = append(list, pieces...)
	}
	return slices.DeleteFunc(list, func(r tours.Route) bool { return len(r.Stops) == 0 })
}

// can reports whether one round drives stops; one stop alone is always driven.
func (p *problem) can(numbers []int32) bool {
	if len(numbers) == 1 {
		return true
	}
	t := p.tour(numbers)
	return t.fits() && !slices.ContainsFunc(p.rules.Apart, t.joins)
}

// joins reports whether both racks of a pair are on t.
func (t *tour) joins(pair RackPair) bool {
	has := func(rack plant.RackCode) bool {
		return slices.ContainsFunc(t.stops, func(s stop) bool { return s.rack == rack })
	}
	return has(pair.First) && has(pair.Second)
}

// driven are today's routes as far as they serve stops of p.
func (p *problem) driven() []tours.Route {
	labels := p.labels()
	var list []tours.Route
	seen := map[int32]bool{}
	for _, rows := range p.current {
		r := tours.Route{Label: 1 + slices.Index(labels, rows[0].Route)}
		for _, row := range rows {
			for i, s := range p.stops {
				if x := int32(i + 1); s.rack == row.Rack && !seen[x] {
					seen[x] = true
					r.Stops = append(r.Stops, x)
				}
			}
		}
		if len(r.Stops) > 0 {
			list = append(list, r)
		}
	}
	return list
}

// sketch searches p's routes for so many steps with the engine alone, to compare
// vehicle types.
func (p *part) sketch(ctx context.Context, steps int, seed uint64, threads int) search.Stop {
	return p.engine(ctx, steps/2, seed, threads)
}

// improve searches p's routes for so many steps; more stops than may be moved are
// moved back by rising prices, until no stop that today's routes serve may move.
func (p *part) improve(ctx context.Context, steps int, seed uint64, threads int) search.Stop {
	stop := p.look(ctx, steps, seed, threads)
	for _, price := range []units.Length{p.far / 16, p.far / 2, forbidding} {
		if p.score.excess == 0 {
			break
		}
		p.raise(price)
		if start := p.mend(p.driven()); price == forbidding && len(start) > 0 {
			p.take(p.solve(ctx, byWay, tours.Limits{Steps: 1}, tours.Settings{Start: start}).Routes)
		}
		stop = later(stop, p.look(ctx, steps, seed, threads))
	}
	return stop
}

// raise sets another raised price of a moved stop.
func (p *part) raise(price units.Length) {
	p.problem = p.priced(price)
	p.score, p.shared = p.judge(p.tours(p.routes)), nil
}

// look searches for half of the steps with the engine, with each aim, and for half of
// them with the handlers in mind.
func (p *part) look(ctx context.Context, steps int, seed uint64, threads int) search.Stop {
	if p.score.handlers >= manyHandlers {
		defer p.forget()
		return p.toil(ctx, steps/4, search.Stream(seed, "posts"))
	}
	stop := p.engine(ctx, steps/4, seed, threads)
	if len(p.stops) > 1 {
		rnd := search.Stream(seed, "posts")
		p.save(ctx, max(steps/4, 2*leastTry), rnd)
		p.hold(ctx, steps/4, rnd)
	}
	p.forget()
	return stop
}

// engine asks the engine twice, each time for so many steps: with each aim.
func (p *part) engine(ctx context.Context, steps int, seed uint64, threads int) search.Stop {
	stop := search.Proved
	for _, a := range []aim{byWork, byWay} {
		r := p.solve(ctx, a, tours.Limits{Steps: max(steps, 1)}, tours.Settings{
			Seed: seed, Trajectories: trajectories, Threads: threads, Start: p.routes,
		})
		p.forget()
		p.take(r.Routes)
		stop = later(stop, r.Stop)
	}
	return stop
}

// trajectories is how many searches of the engine share the steps of a part.
const trajectories = 2
