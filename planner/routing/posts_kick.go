package routing

import (
	"cmp"
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

// recreate puts stops that are out back, each where it costs least; those that find no
// place stay out.
func (s *posts) recreate() {
	list := s.inOrder()
	s.absent = s.absent[:0]
	for _, x := range list {
		at, place := s.best(x)
		if at == out {
			s.absent = append(s.absent, x)
			continue
		}
		s.note(at)
		r := &s.rounds[at]
		if len(r.stops) == 0 {
			r.hand, _, _ = s.hand(s.alone(x))
			r.label = s.labelFor(x)
		}
		with := append(s.space(len(r.stops)+1), r.stops[:place]...)
		s.fill(at, append(append(with, x), r.stops[place:]...))
	}
}

// inOrder are the stops that are out in their order of return: by chance, the largest,
// the farthest or the nearest first.
func (s *posts) inOrder() []int32 {
	list, way := slices.Clone(s.absent), s.rnd.IntN(11)
	if way < 4 {
		s.rnd.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		return list
	}
	key := func(x int32) int64 {
		trip := int64(s.leg(home, x)) + int64(s.leg(x, home))
		switch {
		case way < 8:
			return -s.Loads[0].Mean[x]
		case way < 10:
			return -trip
		}
		return trip
	}
	slices.SortFunc(list, func(a, b int32) int { return cmp.Or(cmp.Compare(key(a), key(b)), cmp.Compare(a, b)) })
	return list
}

// best is the round and the place in it where x costs least, out where there is none.
func (s *posts) best(x int32) (at int32, place int) {
	least := int64(math.MaxInt64)
	at = out
	s.looked++
	for _, y := range s.nearTo(x) {
		if on := s.on[y]; on != out {
			least, at, place = s.try(x, on, least, at, place)
		}
	}
	for _, on := range s.before.slots {
		if len(s.rounds[on].stops) > 0 {
			least, at, place = s.try(x, on, least, at, place)
		}
	}
	if empty := s.opens(x, least); empty != out {
		return empty, 0
	}
	return at, place
}

// opens is an unused round where one for x alone costs less, out where it does not.
func (s *posts) opens(x int32, least int64) int32 {
	cost := int64(s.leg(home, x)) + int64(s.leg(x, home)) + s.Fixed
	if s.exact {
		cost += s.handling(s.plus([4]int64{}, x)) - s.Fixed
	}
	if cost >= least {
		return out
	}
	if cost += s.price(x, s.labelFor(x)); cost >= min(least, never) {
		return out
	}
	if _, extra, ok := s.hand(s.alone(x)); !ok || cost+extra >= min(least, never) {
		return out
	}
	return s.unused()
}

// try looks at all places of a round, once for each stop that looks for one.
func (s *posts) try(x, on int32, least int64, at int32, place int) (int64, int32, int) {
	r := &s.rounds[on]
	if r.looked == s.looked {
		return least, at, place
	}
	r.looked = s.looked
	goods := s.plus(r.goods, x)
	wish := s.price(x, r.label)
	if !s.carries(goods) || wish >= never || s.apart(x, r) {
		return least, at, place
	}
	handling := s.handling(goods)
	if s.exact {
		wish += handling + r.drive - r.spent
	}
	handling += s.Service[x]
	if extra, ok := s.extra(r, handling+r.drive); !ok || wish+extra > least { // no place is nearer than none
		return least, at, place
	}
	last := int32(home)
	for i := range len(r.stops) + 1 {
		next := int32(home)
		if i < len(r.stops) {
			next = r.stops[i]
		}
		cost := wish + int64(s.leg(last, x)) + int64(s.leg(x, next)) - int64(s.leg(last, next))
		if cost <= least && !s.overlook() && s.inTurn(x, r, i) {
			if extra, ok := s.extra(r, handling+r.drive+s.detour(last, x, next)); ok && s.less(cost+extra, least) {
				least, at, place = cost+extra, on, i
			}
		}
		last = next
	}
	return least, at, place
}

// overlook reports whether this place is overlooked.
func (s *posts) overlook() bool {
	if s.blink--; s.blink > 0 {
		return false
	}
	s.blink = 1 + int(math.Log(1-s.rnd.Float64())/math.Log(1-blinkChance))
	return true
}

// less reports whether a place is cheaper; of two that are alike chance decides.
func (s *posts) less(cost, least int64) bool {
	return cost < least || cost == least && s.rnd.IntN(2) == 0
}

func (s *posts) detour(a, x, b int32) int64 {
	return s.drives(a, x) + s.drives(x, b) - s.drives(a, b)
}

// alone is the time of a round that serves x and nothing else.
func (s *posts) alone(x int32) int64 {
	return s.Service[x] + s.drives(home, x) + s.drives(x, home) + s.handling(s.plus([4]int64{}, x))
}

// hand is the handler for a new round: the one for whom it costs least, of those the
// busiest; ok is false where nobody has time.
func (s *posts) hand(spent int64) (best int32, cost int64, ok bool) {
	most := int64(-1)
	r := round{}
	for i, h := range s.hands {
		r.hand = int32(i)
		if extra, can := s.extra(&r, spent); can && (!ok || extra < cost || extra == cost && h.busy > most) {
			best, cost, most, ok = int32(i), extra, h.busy, true
		}
	}
	return best, cost, ok
}

func (s *posts) unused() int32 {
	return int32(slices.IndexFunc(s.rounds, func(r round) bool { return len(r.stops) == 0 }))
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
