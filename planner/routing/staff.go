package routing

import (
	"slices"
	"strconv"
	"time"

	"lanewright/planner/plant"
)

// staff is one handler of a vehicle type and the tours he drives, one after
// another.
type staff struct {
	vehicle *vehicle
	tours   []tour
}

// crews gives the routes of each part to as few handlers as it can.
func (w *work) crews(parts []*part) []staff {
	var list []staff
	for _, p := range parts {
		tours := p.tours()
		rounds := make([]time.Duration, len(tours))
		for i, t := range tours {
			rounds[i] = t.round
		}
		for _, bin := range crews(rounds, p.group.interval, p.limit.round) {
			h := staff{vehicle: p.vehicle}
			for _, i := range bin {
				h.tours = append(h.tours, tours[i])
			}
			list = append(list, h)
		}
	}
	return list
}

// relieve gives handlers of a type that has too few vehicles to another type
// that has one to spare, where that one can drive the same rounds.
func (w *work) relieve(list []staff) {
	used := map[plant.VehicleCode]int{}
	for _, h := range list {
		used[h.vehicle.code()]++
	}
	for i := len(list) - 1; i >= 0; i-- {
		h := &list[i]
		code := h.vehicle.code()
		if used[code] <= h.vehicle.Count {
			continue
		}
		for _, v := range w.fleet {
			if used[v.code()] >= v.Count {
				continue
			}
			if other, ok := h.drive(v); ok {
				*h = other
				used[code]--
				used[v.code()]++
				break
			}
		}
	}
}

// drive returns h with another vehicle type, if that can do the same rounds in
// the same interval.
func (h staff) drive(v *vehicle) (staff, bool) {
	other := staff{vehicle: v}
	var all hand
	for _, t := range h.tours {
		u := newTour(v, t.group, t.stops)
		if !u.fits() {
			return staff{}, false
		}
		all = all.plus(u.round)
		other.tours = append(other.tours, u)
	}
	interval := h.tours[0].group.interval
	return other, all.within(interval, v.limit(interval).round)
}

// name orders, names and times the routes, and counts the vehicles.
func (w *work) name(list []staff) {
	type driven struct {
		tour
		handler int
	}
	var all []driven
	for i, h := range list {
		for _, t := range h.tours {
			all = append(all, driven{t, i})
		}
	}
	slices.SortFunc(all, func(a, b driven) int { return a.compare(b.tour) })
	handlers := map[int]string{}
	offset := make([]time.Duration, len(list))
	for i, d := range all {
		if handlers[d.handler] == "" {
			handlers[d.handler] = "H" + strconv.Itoa(len(handlers)+1)
		}
		r := d.route()
		r.Route, r.Handler = letters(i), handlers[d.handler]
		r.Timetable = timetable(d.group.shifts, offset[d.handler], r.Interval, r.Round)
		offset[d.handler] += slot(r.Round)
		w.plan.Findings = append(w.plan.Findings, noDepartures(d.group.shifts, r)...)
		w.plan.Routes = append(w.plan.Routes, r)
	}
	w.plan.Bounds.Handlers = len(list)
	w.noteVehicles(list)
}
