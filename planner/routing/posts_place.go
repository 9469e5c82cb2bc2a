package routing

import (
	"cmp"
	"math"
	"slices"
)

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
