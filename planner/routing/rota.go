package routing

import (
	"cmp"
	"math"
	"slices"
	"time"

	"lanewright/planner/plant"
)

// rota gives rounds to handlers, so that no two rounds of one handler overlap
// in any shift, from the start of loading to the return, and all of them fit one after
// the other into the shortest of their intervals. The routes of a handler may differ in interval and in
// shifts; routes that have no shift in common may leave at the same time. A
// handler is a post that each shift fills with a person of its own, so shifts
// that overlap by the clock count each for itself. It serves one goroutine.
type rota struct {
	// busy is the share of his time that a handler's rounds may fill.
	busy  float64
	pairs map[[2]*group]pair
	nets  map[*group][]time.Duration
}

// turn is a tour of a handler and the net time of a shift that has passed when
// it first leaves.
type turn struct {
	tour
	offset time.Duration
}

// pair is what matters when routes of two groups share a handler.
type pair struct {
	// meet is true where a shift is worked in both: only then can their rounds
	// overlap.
	meet bool
	// cycle is the greatest common divisor of the intervals. Rounds that leave
	// every a and every b come as close to each other as their offsets are
	// modulo cycle, and no closer.
	cycle time.Duration
}

func newRota(busy float64) *rota {
	return &rota{busy: busy, pairs: map[[2]*group]pair{}, nets: map[*group][]time.Duration{}}
}

func (r *rota) pair(a, b *group) pair {
	p, ok := r.pairs[[2]*group{a, b}]
	if !ok {
		p.cycle = divisor(a.interval, b.interval)
		p.meet = slices.ContainsFunc(a.shifts, func(s plant.Shift) bool { return works(b, s.Shift) })
		r.pairs[[2]*group{a, b}] = p
	}
	return p
}

// divisor returns the greatest common divisor of two positive times.
func divisor(a, b time.Duration) time.Duration {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}

func works(g *group, shift plant.ShiftCode) bool {
	return slices.ContainsFunc(g.shifts, func(s plant.Shift) bool { return s.Shift == shift })
}

// turns lets tours leave one after another, each as early as those before it
// allow, and reports whether one handler can drive them all. He can always drive
// a single one.
func (r *rota) turns(tours []tour) ([]turn, bool) {
	list := make([]turn, 0, len(tours))
	for _, t := range tours {
		offset, ok := r.offset(list, t)
		if !ok {
			return nil, false
		}
		list = append(list, turn{t, offset})
	}
	return list, true
}

// offset returns the earliest whole minute at which t may first leave beside
// what a handler drives already.
func (r *rota) offset(list []turn, t tour) (time.Duration, bool) {
	switch {
	case len(list) == 0:
		return 0, true
	case r.tooBusy(list, t):
		return 0, false
	}
	latest := r.latest(t)
	for at := time.Duration(0); at <= latest; {
		wait := r.wait(list, t, at)
		if wait == 0 {
			return at, true
		}
		at += slot(wait)
	}
	return 0, false
}

// tooBusy reports whether the rounds of list and t, one after the other, do not
// fit into the share of the shortest of their intervals that may be planned.
func (r *rota) tooBusy(list []turn, t tour) bool {
	shortest, all := t.group.interval, t.round
	for _, u := range list {
		shortest, all = min(shortest, u.group.interval), all+u.round
	}
	return float64(all) > r.busy*(1+tolerance)*float64(shortest)
}

func (t tour) busy() float64 { return float64(t.round) / float64(t.group.interval) }

// latest returns the offset up to which t is back within its first interval, and ends
// within each shift that is long enough for it at all: sharing a handler must
// not cost a shift its only departure.
func (r *rota) latest(t tour) time.Duration {
	nets, ok := r.nets[t.group]
	if !ok {
		for _, s := range t.group.shifts {
			nets = append(nets, s.Net())
		}
		r.nets[t.group] = nets
	}
	latest := t.group.interval - slot(t.round-t.loading)
	for _, net := range nets {
		if most := t.parked.within(net) - t.round; most >= 0 {
			latest = min(latest, most)
		}
	}
	return latest
}

// wait returns how much later t must leave so that the first of list whose
// rounds it meets is over; 0 where it meets none.
func (r *rota) wait(list []turn, t tour, at time.Duration) time.Duration {
	for _, u := range list {
		p := r.pair(u.group, t.group)
		if !p.meet {
			continue
		}
		// From the start of loading one round to the start of loading the other.
		since := (at - t.loading - u.offset + u.loading) % p.cycle
		if since < 0 {
			since += p.cycle
		}
		switch {
		case since < u.round:
			return u.round - since
		case since+t.round > p.cycle:
			return p.cycle - since + u.round
		}
	}
	return 0
}

// crewBudget bounds the search for the least number of handlers: it is how
// often that may ask whether a handler can drive some tours.
const crewBudget = 200_000

// hardestFirst orders tours by how hard they are to fit in: short intervals come
// first, then long rounds.
func hardestFirst(tours []tour) []tour {
	order := slices.Clone(tours)
	slices.SortFunc(order, func(a, b tour) int {
		return cmp.Or(cmp.Compare(a.group.interval, b.group.interval), cmp.Compare(b.round, a.round), a.compare(b))
	})
	return order
}

// firstFit counts the handlers of tours when each, the hardest first, goes to
// the first who can drive it.
func (r *rota) firstFit(tours []tour) int {
	var hands [][]turn
next:
	for _, t := range hardestFirst(tours) {
		for i, list := range hands {
			if offset, ok := r.offset(list, t); ok {
				hands[i] = append(list, turn{t, offset})
				continue next
			}
		}
		hands = append(hands, []turn{{t, 0}})
	}
	return len(hands)
}

// crews gives tours of one vehicle type to the fewest handlers that it finds.
// That some tours fit does not mean that fewer of them would fit in the same
// order, which costs nothing but a chance.
func (r *rota) crews(v *vehicle, tours []tour) []staff {
	order := hardestFirst(tours)
	pick := func(bin []int) []tour {
		list := make([]tour, 0, len(bin))
		for _, i := range bin {
			list = append(list, order[i])
		}
		return list
	}
	fits := func(bin []int) bool {
		_, ok := r.turns(pick(bin))
		return ok
	}
	bins := r.bins(order, fits)
	list := make([]staff, 0, len(bins))
	for _, bin := range bins {
		turns, _ := r.turns(pick(bin))
		list = append(list, staff{v, r.inOrder(turns)})
	}
	return list
}

// bins are the tours of each handler. Those of one group are dealt by their times
// alone, where the shifts leave room for that; the others, and few of them, are packed.
func (r *rota) bins(order []tour, fits func(bin []int) bool) [][]int {
	least, budget := r.least(order), crewBudget
	var dealt [][]int
	if len(order) > 0 && !slices.ContainsFunc(order, func(t tour) bool { return t.group != order[0].group }) {
		interval := order[0].group.interval
		dealt = newDealer(order, roomOf(time.Duration(r.busy*(1+tolerance)*float64(interval)), interval)).share()
		if slices.ContainsFunc(dealt, func(bin []int) bool { return !fits(bin) }) {
			dealt = nil
		}
		if dealt != nil && (len(dealt) == least || len(order) > fewTours) {
			return dealt
		}
	}
	if bins := pack(len(order), fits, least, budget); dealt == nil || len(bins) < len(dealt) {
		return bins
	}
	return dealt
}

// fewTours is for how many tours trying all ways may find fewer handlers.
const fewTours = 40

// inOrder lets the tours of a handler leave in the order of their names, where
// that is possible too.
func (r *rota) inOrder(turns []turn) []turn {
	var tours []tour
	for _, t := range turns {
		tours = append(tours, t.tour)
	}
	slices.SortFunc(tours, tour.compare)
	if named, ok := r.turns(tours); ok {
		return named
	}
	return turns
}

// least returns a number of handlers below which nobody can get: what the
// busiest shift needs.
func (r *rota) least(tours []tour) int {
	most := 0.0
	shares := map[plant.ShiftCode]float64{}
	for _, t := range tours {
		for _, s := range t.group.shifts {
			shares[s.Shift] += t.busy()
			most = max(most, shares[s.Shift])
		}
	}
	return int(math.Ceil(most/r.busy - slack))
}
