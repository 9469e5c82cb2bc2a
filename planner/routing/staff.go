package routing

import (
	"cmp"
	"slices"
	"strconv"

	"lanewright/planner/plant"
)

// staff is one handler of a vehicle type and the tours he drives, one after
// another. He is a post, which each shift fills with a person of its own.
type staff struct {
	vehicle *vehicle
	turns   []turn
}

// crews gives the routes of all parts to as few handlers as it can: those of
// each vehicle type, which also have the market in common, once for each part by
// itself and once for all parts together.
func (w *work) crews(parts []*part) []staff {
	r := newRota(w.in.Plant.BusyLimit.Float64())
	var list []staff
	for _, v := range w.fleet {
		var apart []staff
		var all []tour
		groups := 0
		for _, p := range parts {
			if p.vehicle == v {
				apart = append(apart, r.crewsOf(p)...)
				all = append(all, p.tours(p.routes)...)
				groups++
			}
		}
		if groups > 1 {
			if together := r.crews(v, all); len(together) < len(apart) {
				apart = together
			}
		}
		list = append(list, apart...)
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
			if other, ok := w.drive(*h, v); ok {
				*h = other
				used[code]--
				used[v.code()]++
				break
			}
		}
	}
}

// drive returns h with another vehicle type, if that can do the same rounds.
func (w *work) drive(h staff, v *vehicle) (staff, bool) {
	var tours []tour
	for _, t := range h.turns {
		u := newTour(v, t.group, t.stops)
		if u.code = t.code; !u.fits() {
			return staff{}, false
		}
		tours = append(tours, u)
	}
	turns, ok := newRota(w.in.Plant.BusyLimit.Float64()).turns(tours)
	return staff{v, turns}, ok
}

// driven is a round as it is named: whose it is, and which of his.
type driven struct {
	turn
	handler, place int
	name           string
}

// named lists the rounds of all handlers by their names.
func (w *work) named(list []staff) []driven {
	var all []driven
	for i, h := range list {
		for k, t := range h.turns {
			all = append(all, driven{turn: t, handler: i, place: k})
		}
	}
	slices.SortFunc(all, func(a, b driven) int { return a.compare(b.tour) })
	tours := make([]tour, len(all))
	for i := range all {
		tours[i] = all[i].tour
	}
	for i, name := range w.wishes.codes(tours) {
		all[i].name = name
	}
	slices.SortStableFunc(all, func(a, b driven) int { return byName(a.name, b.name) })
	return all
}

// byName puts short names first: Z before AA.
func byName(a, b string) int {
	return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b))
}

// name orders, names and times the routes, and counts the vehicles.
func (w *work) name(list []staff) {
	handlers := map[int]string{}
	names := make([][]string, len(list))
	for _, d := range w.named(list) {
		if handlers[d.handler] == "" {
			handlers[d.handler] = "H" + strconv.Itoa(len(handlers)+1)
			names[d.handler] = make([]string, len(list[d.handler].turns))
		}
		r := d.route()
		r.Route, r.Handler = d.name, handlers[d.handler]
		names[d.handler][d.place] = r.Route
		r.Timetable = timetable(d.group.shifts, d.parked, d.offset, r.Interval, r.Round)
		w.plan.Findings = append(w.plan.Findings, noDepartures(d.group.shifts, r)...)
		w.plan.Routes = append(w.plan.Routes, r)
	}
	w.plan.Bounds.Handlers = len(list)
	w.noteVehicles(list)
	w.noteMeetings(list, names)
}
