package routing

import (
	"math"
	"slices"
)

// journal remembers what was before a kick.
type journal struct {
	kick   int
	slots  []int32
	rounds []round
}

// note must be called for each round before it changes in a kick.
func (s *posts) note(at int32) {
	r := &s.rounds[at]
	if r.noted == s.before.kick {
		return
	}
	r.noted = s.before.kick
	s.before.slots = append(s.before.slots, at)
	s.before.rounds = append(s.before.rounds, *r)
}

// space is room for so many stops, cut from a longer piece.
func (s *posts) space(stops int) []int32 {
	if cap(s.spare)-len(s.spare) < stops {
		s.spare = make([]int32, 0, max(spareStops, stops))
	}
	from := len(s.spare)
	s.spare = s.spare[:from+stops]
	return s.spare[from : from : from+stops]
}

// spareStops is how long a piece is that lists of stops are cut from.
const spareStops = 8192

// begin starts a kick.
func (s *posts) begin() {
	b := &s.before
	b.kick++
	b.slots, b.rounds = b.slots[:0], b.rounds[:0]
}

// undo goes back to before the kick.
func (s *posts) undo() {
	for _, at := range s.before.slots {
		for _, x := range s.rounds[at].stops {
			s.on[x] = out
		}
	}
	for i, at := range s.before.slots {
		r := &s.rounds[at]
		s.count(r, -1)
		*r = s.before.rounds[i]
		r.noted = s.before.kick
		s.count(r, 1)
	}
	for _, at := range s.before.slots {
		for _, x := range s.rounds[at].stops {
			s.on[x] = at
		}
	}
	s.absent = s.absent[:0]
}

// The kicks take so many stops on average, in strings of at most so many, half of
// them with a gap; a place is overlooked with a small chance; and two handlers share
// their rounds anew after so many kicks.
const (
	takenMean   = 10.0
	stringMost  = 10.0
	gapChance   = 0.5
	blinkChance = 0.01
	crowded     = 8
)

// kick takes strings of stops out and puts them back. The result is kept where all of
// them are back and it costs less, or little more.
func (s *posts) kick(heat float64) {
	s.begin()
	before := s.value()
	s.ruin()
	s.recreate()
	if len(s.absent) > 0 || float64(s.value()-before) > -heat*math.Log(1-s.rnd.Float64()) {
		s.undo()
	}
	if s.before.kick%crowded == 0 {
		s.crowd()
	}
}

// ruin takes strings of stops out of rounds near one stop.
func (s *posts) ruin() {
	mean := 2 * float64(s.Stops) / float64(s.open)
	longest := min(stringMost, mean)
	rounds := 1 + int(s.rnd.Float64()*max(4*takenMean/(1+longest)-1, 1))
	seed := int32(1 + s.rnd.IntN(s.Stops))
	s.takeString(seed, longest)
	for _, x := range s.nearTo(seed) {
		if rounds--; rounds <= 0 {
			return
		}
		if at := s.on[x]; at != out && s.rounds[at].noted != s.before.kick {
			s.takeString(x, longest)
		} else {
			rounds++
		}
	}
}

// takeString takes a string of stops that holds x out of its round, or one with a gap.
func (s *posts) takeString(x int32, longest float64) {
	at := s.on[x]
	s.note(at)
	old := s.rounds[at].stops
	n := len(old)
	take := min(1+int(s.rnd.Float64()*min(longest, float64(n))), n)
	span, gap := take, -1
	if take > 1 && take < n && s.rnd.Float64() < gapChance {
		span, gap = take+1, 1+s.rnd.IntN(take-1)
	}
	place := slices.Index(old, x)
	low, high := max(0, place-span+1), min(place, n-span)
	from := low + s.rnd.IntN(high-low+1)
	kept := s.space(n)
	for i, y := range old {
		if i < from || i >= from+span || i == from+gap {
			kept = append(kept, y)
			continue
		}
		s.on[y] = out
		s.absent = append(s.absent, y)
	}
	s.fill(at, kept)
}

// crowd shares the rounds of two handlers anew, so that one is as busy as can be and
// the other has room.
func (s *posts) crowd() {
	a, b := int32(s.rnd.IntN(len(s.hands))), int32(s.rnd.IntN(len(s.hands)))
	var list []int32
	for at := range s.rounds {
		if r := &s.rounds[at]; len(r.stops) > 0 && (r.hand == a || r.hand == b) {
			list = append(list, int32(at))
		}
	}
	if a == b || len(list) > mostCrowded || len(list) < 2 {
		return
	}
	best, least, most := -1, s.tooMuch(s.hands[a])+s.tooMuch(s.hands[b])+1, int64(-1)
	for set := range 1 << len(list) {
		var sums [2]ticks
		for i, at := range list {
			h := &sums[set>>i&1]
			h.busy, h.slots = h.busy+s.rounds[at].spent, h.slots+s.rounds[at].spent+s.minute
		}
		if over := s.tooMuch(sums[0]) + s.tooMuch(sums[1]); over < least || over == least && sums[0].busy > most {
			best, least, most = set, over, sums[0].busy
		}
	}
	for i, at := range list {
		if best >= 0 {
			r := &s.rounds[at]
			s.count(r, -1)
			r.hand = [2]int32{a, b}[best>>i&1]
			s.count(r, 1)
		}
	}
}

// mostCrowded is for how many rounds all ways to share them are tried.
const mostCrowded = 9
