package routing

import (
	"slices"
	"time"
)

// crew counts how many handlers a set of routes needs; it keeps its buffers.
type crew struct {
	rounds []time.Duration
	hands  []hand
}

// hand is the time of one handler's rounds in an interval: as they are, and
// with each rounded up to whole minutes, which is when the next may leave.
type hand struct{ busy, slots time.Duration }

func (h hand) plus(round time.Duration) hand { return hand{h.busy + round, h.slots + slot(round)} }

// within reports whether the rounds fit one after the other: their slots in the
// interval, their times in the part of it that may be planned.
func (h hand) within(interval, limit time.Duration) bool {
	return h.slots <= interval && h.busy <= limit
}

// slot is a round's time rounded up to whole minutes.
func slot(round time.Duration) time.Duration {
	return (round + time.Minute - 1) / time.Minute * time.Minute
}

// count returns the handlers that the rounds of t need by first fit, longest
// round first, and how full the least busy of them is, 0 to 1.
func (c *crew) count(p *problem, t *tours) (handlers int, least float64) {
	c.rounds, c.hands = c.rounds[:0], c.hands[:0]
	for r, first := range t.first {
		if first != home {
			c.rounds = append(c.rounds, t.rounds[r])
		}
	}
	slices.Sort(c.rounds)
	for _, round := range slices.Backward(c.rounds) {
		c.assign(p, round)
	}
	idlest := p.limit.round
	for _, h := range c.hands {
		idlest = min(idlest, h.busy)
	}
	return len(c.hands), float64(idlest) / float64(max(p.limit.round, 1))
}

func (c *crew) assign(p *problem, round time.Duration) {
	for i, h := range c.hands {
		if with := h.plus(round); with.within(p.group.interval, p.limit.round) {
			c.hands[i] = with
			return
		}
	}
	c.hands = append(c.hands, hand{}.plus(round))
}

// crewBudget bounds the search for the least number of handlers.
const crewBudget = 50_000

// crews puts rounds into the fewest crews of one handler each that it finds;
// the result holds numbers of rounds, rising.
func crews(rounds []time.Duration, interval, limit time.Duration) [][]int {
	order := make([]int, len(rounds))
	var all time.Duration
	for i, r := range rounds {
		order[i] = i
		all += r
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(rounds[b] - rounds[a]) })
	fits := func(bin []int) bool {
		var h hand
		for _, i := range bin {
			h = h.plus(rounds[order[i]])
		}
		return h.within(interval, limit)
	}
	bins := pack(len(rounds), fits, ceil(all, limit), crewBudget)
	for _, b := range bins {
		for i := range b {
			b[i] = order[b[i]]
		}
		slices.Sort(b)
	}
	return bins
}

// ceil returns a/b rounded up, or 1 where b is not positive.
func ceil(a, b time.Duration) int {
	if b <= 0 {
		return 1
	}
	return int((a + b - 1) / b)
}

// leastHandlers returns a number of handlers below which no routes of p can
// get: the time at the stops, with the shortest way to each, over the busy
// limit. (Loading and unloading count at their mean.)
func (p *problem) leastHandlers() int {
	if p.limit.z < 0 {
		return 1
	}
	var all time.Duration
	for a := int32(1); int(a) <= len(p.stops); a++ {
		l := p.loads[a]
		l.variance = 0
		all += p.round(l, p.vehicle.entering(p.row, int(a)))
	}
	return ceil(all, p.limit.round)
}
