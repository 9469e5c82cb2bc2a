package routing

import (
	"time"
)

// staggerPasses bounds how often the first departures of all handlers are looked at
// anew.
const staggerPasses = 3

// stagger lets handlers begin some minutes later where that keeps their rounds from
// meeting those of others in a single-file aisle, or from standing at a market that
// has no place left. Where the sheets mark neither, nothing changes.
func (w *work) stagger(list []staff) {
	s := newStaggerer(w, list)
	if !s.rules() {
		return
	}
	for range staggerPasses {
		better := false
		for i := range list {
			better = s.shift(i) || better
		}
		if !better {
			return
		}
	}
}

// staggerer weighs the offsets of all handlers against each other.
type staggerer struct {
	*occupier
	rota *rota
	list []staff
	// held are the holds of each handler's rounds.
	held [][][]hold
}

func newStaggerer(w *work, list []staff) *staggerer {
	s := &staggerer{newOccupier(w.in), newRota(w.in.Plant.BusyLimit.Float64()), list, nil}
	for _, h := range list {
		var rounds [][]hold
		for _, t := range h.turns {
			rounds = append(rounds, s.holds(t.tour))
		}
		s.held = append(s.held, rounds)
	}
	return s
}

// rules reports whether the sheets say anything about narrow aisles or loading
// places.
func (s *staggerer) rules() bool {
	if len(s.network.Strips()) > 0 {
		return true
	}
	for _, h := range s.list {
		if s.index.Points[h.vehicle.market].Places > 0 {
			return true
		}
	}
	return false
}

// shift looks for the delay of a handler with the fewest meetings, the shortest of
// those, and reports whether there are fewer than before.
func (s *staggerer) shift(i int) bool {
	turns := s.list[i].turns
	room, lead := time.Duration(1<<62), time.Duration(1<<62)
	for _, t := range turns {
		room = min(room, s.rota.latest(t.tour)-t.offset)
		lead = min(lead, t.offset)
	}
	now := s.meetings(i, 0)
	best, delay := now, time.Duration(0)
	for d := -lead; d <= room && best > 0; d += time.Minute {
		if n := s.meetings(i, d); n < best {
			best, delay = n, d
		}
	}
	for k := range turns {
		turns[k].offset += delay
	}
	return best < now
}

// meetings counts how often rounds of a handler would be where there is no place for
// them, if he began so much later.
func (s *staggerer) meetings(i int, later time.Duration) int {
	count := 0
	for k, t := range s.list[i].turns {
		for _, h := range s.held[i][k] {
			places := s.places(h.place)
			if places == 0 {
				continue
			}
			count += max(0, s.others(i, t, h, later)-places+1)
		}
	}
	return count
}

// others counts the holds of other handlers that overlap one of a round.
func (s *staggerer) others(i int, t turn, h hold, later time.Duration) int {
	n := 0
	for j, other := range s.list {
		for k, u := range other.turns {
			if i == j {
				continue
			}
			for _, g := range s.held[j][k] {
				if g.place == h.place && s.overlap(t, h, later, u, g) {
					n++
				}
			}
		}
	}
	return n
}

// overlap reports whether two holds of rounds that come again and again are ever at
// the same time. They come as close as their beginnings are modulo the greatest
// common divisor of the intervals.
func (s *staggerer) overlap(t turn, h hold, later time.Duration, u turn, g hold) bool {
	p := s.rota.pair(t.group, u.group)
	if !p.meet {
		return false
	}
	since := (u.begins() + g.from - t.begins() - later - h.from) % p.cycle
	if since < 0 {
		since += p.cycle
	}
	return since < h.to-h.from || since+g.to-g.from > p.cycle
}

// begins is the net time of a shift at which a turn first leaves.
func (t turn) begins() time.Duration { return slot(t.parked.out) + t.offset }
