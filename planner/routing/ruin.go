package routing

import (
	"cmp"
	"slices"

	"lanewright/planner/units"
)

// The parameters of the ruin are those of the paper named at improver, from
// memory: on average so many stops are taken, in strings of at most so many,
// half of them with a gap; a place is overlooked with a small chance.
const (
	takenMean  = 10
	stringMost = 10
	gapChance  = 0.5
	blink      = 0.01
)

// ruin takes strings of stops out of neighbouring routes.
func (s *improver) ruin() {
	s.taken = s.taken[:0]
	n := len(s.p.stops)
	mean := float64(n) / float64(s.t.routes())
	longest := min(stringMost, mean)
	routes := 1 + int(s.rnd.Float64()*max(4*takenMean/(1+longest)-1, 1))
	seed := int32(1 + s.rnd.IntN(n))
	s.takeString(seed, longest)
	for _, a := range s.p.nearTo(seed) {
		if routes--; routes <= 0 {
			break
		}
		if r := s.t.route[a]; r == out || s.ruined[r] == s.step {
			routes++
			continue
		}
		s.takeString(a, longest)
	}
}

// takeString takes a string of stops that holds a out of a's route, or one with
// a gap in it.
func (s *improver) takeString(a int32, longest float64) {
	r := s.t.route[a]
	s.ruined[r] = s.step
	size := s.t.sums[r].stops
	take := 1 + int(s.rnd.Float64()*min(longest, float64(size)))
	take = min(take, size)
	span, gap := take, 0
	if take > 1 && take < size && s.rnd.Float64() < gapChance {
		span++
		gap = 1 + s.rnd.IntN(take-1)
	}
	from := len(s.taken)
	at := s.start(a, span)
	for i := range span {
		if gap == 0 || i != gap {
			s.taken = append(s.taken, at)
		}
		at = s.t.next[at]
	}
	for _, x := range s.taken[from:] {
		s.t.take(x)
	}
}

// start chooses the first stop of a string of span stops that holds a.
func (s *improver) start(a int32, span int) int32 {
	before, after := 0, 0
	for x := s.t.prev[a]; x != home && before < span-1; x = s.t.prev[x] {
		before++
	}
	for x := s.t.next[a]; x != home && after < span-1; x = s.t.next[x] {
		after++
	}
	least := max(0, span-1-after)
	for range least + s.rnd.IntN(before-least+1) {
		a = s.t.prev[a]
	}
	return a
}

// recreate puts the stops that are out back, each where it costs least; a
// route of its own costs open more.
func (s *improver) recreate(open units.Length) {
	s.sortTaken()
	for _, a := range s.taken {
		route, after := s.place(a, open)
		s.t.put(a, route, after)
	}
}

// sortTaken chooses the order of return: by chance, the largest, the farthest
// or the nearest first.
func (s *improver) sortTaken() {
	way := s.rnd.IntN(11)
	for _, a := range s.taken {
		switch {
		case way < 4:
			s.rank[a] = s.rnd.Float64()
		case way < 8:
			s.rank[a] = -float64(s.p.loads[a].mean)
		case way < 10:
			s.rank[a] = -float64(s.p.leg(home, a).Length)
		default:
			s.rank[a] = float64(s.p.leg(home, a).Length)
		}
	}
	slices.SortFunc(s.taken, func(a, b int32) int { return cmp.Or(cmp.Compare(s.rank[a], s.rank[b]), cmp.Compare(a, b)) })
}

// place finds the cheapest place for a stop next to one of its neighbours, or
// on a route of its own.
func (s *improver) place(a int32, open units.Length) (route, after int32) {
	route, after = s.t.fresh(), home
	least := s.p.trip(a).Length + open
	for _, b := range s.p.nearTo(a) {
		r := s.t.route[b]
		if r == out {
			continue
		}
		for _, x := range [2]int32{b, s.t.prev[b]} {
			way := s.t.detour(a, x, s.t.follower(r, x))
			if way.Length < least && s.rnd.Float64() >= blink && s.t.fits(a, r, way.Time) {
				least, route, after = way.Length, r, x
			}
		}
	}
	return route, after
}
