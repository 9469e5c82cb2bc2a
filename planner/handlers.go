package planner

import (
	"slices"

	"lanewright/planner/plant"
)

// HandlerUse is how far the rounds of a handler fill his time.
type HandlerUse struct {
	Handler string
	Vehicle plant.VehicleCode
	// Routes are those he drives, by name.
	Routes []string
	// Busy is the share of net time that rounds at the planned load take, in the shift
	// where it is largest: each route counts its round over its interval in the shifts
	// in which it leaves.
	Busy float64
}

// HandlerUses lists the handlers of p in the order of their routes.
func (p *Plan) HandlerUses() []HandlerUse {
	var list []HandlerUse
	at := map[string]int{}
	shifts := map[string]map[plant.ShiftCode]float64{}
	for _, r := range p.Routes {
		i, known := at[r.Handler]
		if !known {
			i = len(list)
			at[r.Handler], shifts[r.Handler] = i, map[plant.ShiftCode]float64{}
			list = append(list, HandlerUse{Handler: r.Handler, Vehicle: r.Vehicle})
		}
		u := &list[i]
		if !slices.Contains(u.Routes, r.Route) {
			u.Routes = append(u.Routes, r.Route)
		}
		for _, s := range r.Timetable {
			if len(s.Departures) > 0 {
				shifts[r.Handler][s.Shift] += r.Busy()
				u.Busy = max(u.Busy, shifts[r.Handler][s.Shift])
			}
		}
	}
	return list
}
