package routing

import (
	"slices"

	"lanewright/planner/tours"
)

// never is the price of what may not be.
const never = tours.Never

// partners are, for each stop, those it may not share a round with, those that come
// after it and those that come before it where they share one.
type partners struct{ apartOf, afterOf, beforeOf map[int32][]int32 }

func newPartners(side tours.Side) partners {
	l := partners{map[int32][]int32{}, map[int32][]int32{}, map[int32][]int32{}}
	for _, p := range side.Apart {
		l.apartOf[p[0]] = append(l.apartOf[p[0]], p[1])
		l.apartOf[p[1]] = append(l.apartOf[p[1]], p[0])
	}
	for _, p := range side.Before {
		l.afterOf[p[0]] = append(l.afterOf[p[0]], p[1])
		l.beforeOf[p[1]] = append(l.beforeOf[p[1]], p[0])
	}
	return l
}

// price is what x costs on a round with a label.
func (s *posts) price(x, label int32) int64 {
	if s.Labels == 0 {
		return 0
	}
	return s.Prices[int(x)*(s.Labels+1)+int(label)]
}

// apart reports whether x may not be on r.
func (s *posts) apart(x int32, r *round) bool {
	list := s.apartOf[x]
	return len(list) > 0 && slices.ContainsFunc(r.stops, func(y int32) bool { return slices.Contains(list, y) })
}

// inTurn reports whether x may stand at a place of r.
func (s *posts) inTurn(x int32, r *round, place int) bool {
	after, before := s.afterOf[x], s.beforeOf[x]
	if len(after)+len(before) == 0 {
		return true
	}
	for i, y := range r.stops {
		if i < place && slices.Contains(after, y) || i >= place && slices.Contains(before, y) {
			return false
		}
	}
	return true
}

// labelFor is the label, not in use, that costs x least.
func (s *posts) labelFor(x int32) int32 {
	best := int32(0)
	for l := int32(1); int(l) <= s.Labels; l++ {
		if s.bear[l] == 0 && s.price(x, l) < s.price(x, best) {
			best = l
		}
	}
	return best
}
