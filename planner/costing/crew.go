package costing

import (
	"maps"
	"slices"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/units"
)

// post is a handler in one shift: each shift staffs the post anew.
type post struct {
	handler string
	shift   plant.ShiftCode
}

// posts returns every handler and shift in which one of his routes leaves, with
// the vehicle type he drives.
func posts(routes []routing.Route) map[post]plant.VehicleCode {
	staffed := map[post]plant.VehicleCode{}
	for _, r := range routes {
		for _, t := range r.Timetable {
			if len(t.Departures) > 0 {
				staffed[post{r.Handler, t.Shift}] = r.Vehicle
			}
		}
	}
	return staffed
}

// handlers counts paid hours: the net hours of every shift of the week in which a
// handler drives, times the weeks of the year. A handler is paid for the whole
// shift, whatever share of it his rounds fill.
func handlers(in Input) Line {
	var week time.Duration
	names := map[string]bool{}
	for p := range posts(in.Routes) {
		names[p.handler] = true
		if s := in.Index.Shifts[p.shift]; s != nil {
			week += time.Duration(workings(s)) * s.Net()
		}
	}
	hours := units.R(int64(week), int64(time.Hour)).Mul(in.Plant.WeeksPerYear)
	l := Line{Kind: Handlers, Unit: "hours", Quantity: hours, Items: len(names)}
	return priced(l, currency(in.Plant.Prices.HandlerHour))
}

// workings is the number of days of the week on which s starts.
func workings(s *plant.Shift) int {
	n := 0
	for _, on := range s.Days {
		if on {
			n++
		}
	}
	return n
}

// vehicles counts for each type how many are driven at once at most. Shifts that
// overlap by the clock need theirs side by side.
func vehicles(in Input) Line {
	staffed := posts(in.Routes)
	types := map[plant.VehicleCode]map[plant.ShiftCode]int{}
	for p, v := range staffed {
		if types[v] == nil {
			types[v] = map[plant.ShiftCode]int{}
		}
		types[v][p.shift]++
	}
	n := 0
	for _, perShift := range types {
		n += atOnce(in.Index, perShift)
	}
	l := Line{Kind: Vehicles, Unit: "vehicles", Quantity: units.Int(int64(n)), Items: n}
	return priced(l, currency(in.Plant.Prices.VehicleYear))
}

const week = 7 * 24 * time.Hour

// atOnce returns the largest number at any moment of the week, with so many in
// each shift. A largest number is always reached when some shift starts.
func atOnce(x *plant.Index, perShift map[plant.ShiftCode]int) int {
	most := 0
	var worked []plant.Shift
	for _, code := range slices.Sorted(maps.Keys(perShift)) {
		if s := x.Shifts[code]; s != nil {
			worked = append(worked, *s)
		}
	}
	for _, s := range worked {
		for _, at := range starts(s) {
			n := 0
			for _, o := range worked {
				if on(o, at) {
					n += perShift[o.Shift]
				}
			}
			most = max(most, n)
		}
	}
	return most
}

// starts returns the moments of the week at which s starts, from Sunday's
// midnight.
func starts(s plant.Shift) []time.Duration {
	var list []time.Duration
	for d, on := range s.Days {
		if on {
			list = append(list, time.Duration(d)*24*time.Hour+s.Start)
		}
	}
	return list
}

// on reports whether s is worked at a moment of the week; a shift that runs past
// Saturday's midnight is on again at the beginning of the week.
func on(s plant.Shift, at time.Duration) bool {
	return slices.ContainsFunc(starts(s), func(start time.Duration) bool {
		passed := (at - start + week) % week
		return passed < s.End-s.Start
	})
}
