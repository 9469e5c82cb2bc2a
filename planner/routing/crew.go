package routing

import "time"

// crew counts how many handlers the routes of one part need while they are
// searched, by themselves: whom they share with other parts is decided when all
// are found (see rota). It keeps the routes in the order of the last count, which
// few steps of the search disturb much.
type crew struct {
	// byTime are all routes, the longest round first, those without stops last.
	byTime []int32
	// rounds are those of the routes with stops, in that order.
	rounds []hand
	// next leads from a round to itself or, when it has a handler, to a later
	// one; the last leads nowhere.
	next []int32
}

// hand is the time of one handler's rounds in an interval: as they are, and
// with each rounded up to whole minutes, which is when the next may leave.
type hand struct{ busy, slots time.Duration }

func (h hand) plus(round time.Duration) hand { return hand{h.busy + round, h.slots + slot(round)} }

// slot is a round's time rounded up to whole minutes.
func slot(round time.Duration) time.Duration {
	return (round + time.Minute - 1) / time.Minute * time.Minute
}

// count returns the handlers that the rounds of t need by first fit, longest
// round first, and how much of their time falls to others than the first k.
// It fills one handler after the other, which gives the same as first fit.
func (c *crew) count(t *tours, k int) (handlers int, over time.Duration) {
	c.sort(t)
	c.rounds, c.next = c.rounds[:0], append(c.next[:0], 0)
	for i, r := range c.byTime[:t.routes()] {
		c.rounds = append(c.rounds, hand{}.plus(t.rounds[r]))
		c.next = append(c.next, int32(i+1))
	}
	for i := c.free(0); i < len(c.rounds); i = c.free(i) {
		h := c.fill(i, hand{t.p.limit.round, t.p.group.interval})
		if handlers++; handlers > k {
			over += h.busy
		}
	}
	return handlers, over
}

// fill gives a new handler round i and then, again and again, the longest one
// that there is room for.
func (c *crew) fill(i int, room hand) hand {
	var h hand
	for i < len(c.rounds) {
		h.busy += c.rounds[i].busy
		h.slots += c.rounds[i].slots
		c.next[i] = int32(i + 1)
		low, high := i+1, len(c.rounds)
		for low < high {
			middle := (low + high) / 2
			if r := &c.rounds[middle]; h.busy+r.busy <= room.busy && h.slots+r.slots <= room.slots {
				high = middle
			} else {
				low = middle + 1
			}
		}
		i = c.free(low)
	}
	return h
}

// free returns the first round from i that has no handler yet.
func (c *crew) free(i int) int {
	end := i
	for int(c.next[end]) != end && end < len(c.rounds) {
		end = int(c.next[end])
	}
	for i < end {
		i, c.next[i] = int(c.next[i]), int32(end)
	}
	return end
}

// sort orders the routes by insertion: mostly they are in order but for a few.
func (c *crew) sort(t *tours) {
	for r := len(c.byTime); r < len(t.first); r++ {
		c.byTime = append(c.byTime, int32(r))
	}
	for i, r := range c.byTime {
		round, stops := t.rounds[r], t.first[r] != home
		for i > 0 && before(round, stops, t, c.byTime[i-1]) {
			c.byTime[i] = c.byTime[i-1]
			i--
		}
		c.byTime[i] = r
	}
}

// before reports whether a route with this round comes before route r.
func before(round time.Duration, stops bool, t *tours, r int32) bool {
	return round > t.rounds[r] || round == t.rounds[r] && stops && t.first[r] == home
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
