package routing

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"lanewright/planner/tours"
)

// posts searches routes and their handlers together, which the engine does not: each
// round belongs to a handler, and a stop fits a round only while its handler has time
// for all of his. It ruins and recreates as the engine does (Christiaens, Vanden
// Berghe, Slack induction by string removals for vehicle routing problems,
// Transportation Science 54, 2020, 417-433; from memory, own code), and to save a
// handler it lets the others have too much for a while, at a price.
type posts struct {
	*tours.Problem
	partners
	rnd *rand.Rand
	// row is where the row of each stop begins in the tables.
	row []int
	// near are the k nearest stops of each.
	near []int32
	k    int
	// room is what a handler has, minute the length of one. All times are in the
	// engine's ticks.
	room   ticks
	minute int64
	rounds []round
	hands  []ticks
	// on is the round of each stop, out where it has none.
	on []int32
	// absent are the stops that are out.
	absent []int32
	// cost is that of all rounds in use, open their number; over is what handlers
	// have too much, soft the cost of a tick of it, 0 where none is allowed.
	cost, over int64
	soft       float64
	open       int
	looked     int
	// exact: a round costs the time that it takes, and nothing beside. With few
	// handlers the engine's price of a round leaves fuller rounds, which fit better.
	exact bool
	// bear is how many rounds bear each label.
	bear []int
	// spare is what lists of stops are cut from.
	spare []int32
	// blink counts the places until one is overlooked.
	blink  int
	before journal
}

// out marks a stop that is on no round.
const out = -1

// ticks is a handler's time as hand is, in ticks.
type ticks struct{ busy, slots int64 }

// round is a slot for one; it is unused while it has no stops.
type round struct {
	stops       []int32
	label, hand int32
	// goods are means and variances of both loads.
	goods [4]int64
	// drive is all time but the handling of what may be more than the mean, spent all.
	drive, spent int64
	cost         int64
	// noted is the kick that noted it, looked the stop that looked at it last.
	noted, looked int
}

// neighbours is how many of each stop the search looks at.
const neighbours = 24

// spareRounds is how many more rounds there may be than half as many again as at first.
const spareRounds = 8

// newPosts makes a state of p's routes and so many handlers.
func newPosts(p *part, a aim, handlers int, rnd *rand.Rand) *posts {
	q := p.ask(a)
	s := &posts{Problem: q, partners: newPartners(q.Side), rnd: rnd, minute: int64(time.Minute / p.tick())}
	s.exact = a == byWork && p.score.handlers >= manyHandlers
	s.room = ticks{q.MaxTime, int64(p.room().slots / p.tick())}
	s.bear = make([]int, q.Labels+1)
	s.on, s.k = make([]int32, q.Stops+1), min(neighbours, s.Stops-1)
	for _, at := range q.Places {
		s.row = append(s.row, int(at)*len(p.rows))
	}
	if p.near == nil {
		p.near = q.Nearest(s.k)
	}
	s.near = p.near
	s.load(p.routes, p.dealt(handlers))
	return s
}

// nearTo returns the nearest stops of a.
func (s *posts) nearTo(a int32) []int32 { return s.near[int(a-1)*s.k : int(a)*s.k] }

func (s *posts) leg(a, b int32) int32 { return s.Costs[s.row[a]+int(s.Places[b])] }

func (s *posts) drives(a, b int32) int64 { return int64(s.Times[s.row[a]+int(s.Places[b])]) }

// load sets the rounds and their handlers.
func (s *posts) load(routes []tours.Route, bins [][]int) {
	s.rounds = make([]round, min(len(routes)+len(routes)/2+spareRounds, s.Stops+1))
	s.hands = make([]ticks, len(bins))
	for i := range s.on {
		s.on[i] = out
	}
	for h, bin := range bins {
		for _, i := range bin {
			r := &s.rounds[i]
			r.label, r.hand = int32(routes[i].Label), int32(h)
			s.fill(int32(i), slices.Clone(routes[i].Stops))
		}
	}
}

// fill gives a round other stops and sums it up anew.
func (s *posts) fill(at int32, stops []int32) {
	r := &s.rounds[at]
	s.count(r, -1)
	r.stops, r.goods, r.drive, r.cost = stops, [4]int64{}, 0, 0
	last := int32(home)
	for _, x := range stops {
		s.on[x] = at
		r.goods = s.plus(r.goods, x)
		r.drive += s.Service[x] + s.drives(last, x)
		r.cost += int64(s.leg(last, x)) + s.price(x, r.label)
		last = x
	}
	if len(stops) > 0 {
		r.drive += s.drives(last, home)
		r.cost += int64(s.leg(last, home)) + s.Fixed
	}
	handling := s.handling(r.goods)
	r.spent = r.drive + handling
	if s.exact && len(stops) > 0 {
		r.cost += handling - s.Fixed
	}
	s.count(r, 1)
}

// count adds a round to what its handler does, or takes it away.
func (s *posts) count(r *round, times int64) {
	if len(r.stops) == 0 {
		return
	}
	s.open += int(times)
	s.bear[r.label] += int(times)
	s.cost += times * r.cost
	h := &s.hands[r.hand]
	s.over -= s.tooMuch(*h)
	h.busy, h.slots = h.busy+times*r.spent, h.slots+times*(r.spent+s.minute)
	s.over += s.tooMuch(*h)
}

// tooMuch is by how much a handler passes what he has.
func (s *posts) tooMuch(h ticks) int64 {
	return max(h.busy-s.room.busy, 0) + max(h.slots-s.room.slots, 0)
}

// value is what the search makes small.
func (s *posts) value() int64 { return s.cost + int64(s.soft*float64(s.over)) }

// plus adds the loads of a stop: means and variances of both.
func (s *posts) plus(g [4]int64, x int32) [4]int64 {
	for i, l := range s.Loads {
		g[2*i] += l.Mean[x]
		g[2*i+1] += l.Variance[x]
	}
	return g
}

// handling is the time that what is planned beyond the mean takes.
func (s *posts) handling(g [4]int64) int64 {
	return int64(math.Ceil(s.Loads[0].Handling * math.Ceil(s.Loads[0].Z*math.Sqrt(float64(g[1])))))
}

// carries reports whether the loads keep their limits.
func (s *posts) carries(g [4]int64) bool {
	for i, l := range s.Loads {
		if g[2*i]+int64(math.Ceil(l.Z*math.Sqrt(float64(g[2*i+1])))) > l.Capacity {
			return false
		}
	}
	return true
}

// extra is what it costs for his time that a round of a handler takes so long; ok is
// false where it may not.
func (s *posts) extra(r *round, spent int64) (cost int64, ok bool) {
	h := s.hands[r.hand]
	before := s.tooMuch(h)
	if len(r.stops) > 0 {
		h.busy, h.slots = h.busy-r.spent, h.slots-r.spent-s.minute
	}
	h.busy, h.slots = h.busy+spent, h.slots+spent+s.minute
	more := s.tooMuch(h) - before
	return int64(s.soft * float64(more)), spent <= s.MaxTime && (s.soft > 0 || more <= 0)
}

// found are the rounds in use, and which of them each handler drives.
func (s *posts) found() (routes []tours.Route, hands [][]int) {
	hands = make([][]int, len(s.hands))
	for _, r := range s.rounds {
		if len(r.stops) > 0 {
			hands[r.hand] = append(hands[r.hand], len(routes))
			routes = append(routes, tours.Route{Label: int(r.label), Stops: slices.Clone(r.stops)})
		}
	}
	return routes, slices.DeleteFunc(hands, func(bin []int) bool { return len(bin) == 0 })
}
