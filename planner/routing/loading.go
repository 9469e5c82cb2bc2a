package routing

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/plant"
)

// loadingAtOnce is how many rounds at most load at each market at the same moment, by
// the departures of each shift taken by itself.
func (s *staggerer) loadingAtOnce() map[plant.PointCode]int {
	most := map[plant.PointCode]int{}
	for _, shift := range s.shifts() {
		begins, ends := map[plant.PointCode][]time.Duration{}, map[plant.PointCode][]time.Duration{}
		for _, h := range s.list {
			m := h.vehicle.market
			for _, t := range h.turns {
				if !works(t.group, shift.Shift) {
					continue
				}
				for _, leaves := range departures(shift, t.parked, t.offset, t.group.interval, t.round) {
					begins[m], ends[m] = append(begins[m], leaves-t.loading), append(ends[m], leaves)
				}
			}
		}
		for m := range begins {
			most[m] = max(most[m], atOnce(begins[m], ends[m]))
		}
	}
	return most
}

// shifts are those in which anybody drives.
func (s *staggerer) shifts() map[plant.ShiftCode]plant.Shift {
	list := map[plant.ShiftCode]plant.Shift{}
	for _, h := range s.list {
		for _, t := range h.turns {
			for _, shift := range t.group.shifts {
				list[shift.Shift] = shift
			}
		}
	}
	return list
}

// atOnce is how many of the spans from begins to ends overlap at most. One that ends
// when another begins does not; one that has no length is alone.
func atOnce(begins, ends []time.Duration) (most int) {
	slices.SortFunc(begins, cmp.Compare)
	slices.SortFunc(ends, cmp.Compare)
	over := 0
	for i, b := range begins {
		for over < i && ends[over] <= b {
			over++
		}
		most = max(most, i+1-over)
	}
	return most
}
