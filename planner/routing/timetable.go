package routing

import (
	"time"

	"lanewright/planner/plant"
)

// timetable returns the departures of a route in each of its shifts: the first
// when the vehicle has come from where it is parked and offset of net time has
// passed, then one every interval of net time, as long as the round can end, and the
// vehicle be parked again, in the shift. Net time stands still in a break, so
// a departure that would fall on its start happens at its end. The count starts
// anew in each shift. An interval under a second, which no plant means, gives no
// departures.
func timetable(shifts []plant.Shift, p parking, offset, interval, round time.Duration) []ShiftTimes {
	table := make([]ShiftTimes, 0, len(shifts))
	for _, s := range shifts {
		times := ShiftTimes{Shift: s.Shift}
		for _, leaves := range departures(s, p, offset, interval, round) {
			if t, ok := s.Clock(leaves); ok {
				times.Departures = append(times.Departures, t)
			}
		}
		table = append(table, times)
	}
	return table
}

// departures are those of timetable in one shift, in net time.
func departures(s plant.Shift, p parking, offset, interval, round time.Duration) (list []time.Duration) {
	net := p.within(s.Net())
	for n := offset; interval >= time.Second && n+round <= net; n += interval {
		list = append(list, slot(p.out)+n)
	}
	return list
}

// letters numbers routes from 0: A to Z, AA, AB...
func letters(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}
