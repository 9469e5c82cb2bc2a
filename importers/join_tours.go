package importers

import "lanewright/planner/plant"

// Codes of findings about turns, today's routes and rules about routes that name
// something unknown.
const (
	CodeTurnPoint      = "turns.unknown-point"
	CodeVehicleParking = "vehicles.unknown-parking"
	CodeTourUnknown    = "current-routes.unknown-code"
	CodeRuleUnknown    = "route-rules.unknown-code"
)

func (j *joiner) joinTurns() {
	for _, f := range j.rd.facts.turns {
		t := f.v
		if f.row.state == reported {
			continue
		}
		from, okFrom := j.optionalRef(j.points, f.row, "From point", "", string(t.From), CodeTurnPoint)
		at, okAt := j.ref(j.points, f.row, "At point", "", string(t.At), CodeTurnPoint)
		to, okTo := j.optionalRef(j.points, f.row, "To point", "", string(t.To), CodeTurnPoint)
		if okFrom && okAt && okTo && !j.repeats(f.row) {
			t.From, t.At, t.To = plant.PointCode(from), plant.PointCode(at), plant.PointCode(to)
			f.row.state = used
			j.plant.Turns = append(j.plant.Turns, t)
		}
	}
}

// joinCurrentRoutes resolves today's routes. Rows about something unknown are
// reported and left out; a plan can be made without them.
func (j *joiner) joinCurrentRoutes() {
	for _, f := range j.rd.facts.currentRoutes {
		s := f.v
		if f.row.state == reported {
			continue
		}
		rack, ok := j.weakRef(j.racks, f.row, "Rack", "", string(s.Rack), CodeTourUnknown)
		if !ok {
			continue
		}
		s.Rack = plant.RackCode(rack)
		if trim(string(s.Vehicle)) != "" {
			vehicle, ok := j.weakRef(j.vehicles, f.row, "Vehicle type", "", string(s.Vehicle), CodeTourUnknown)
			if !ok {
				continue
			}
			s.Vehicle = plant.VehicleCode(vehicle)
		}
		if j.repeats(f.row) {
			continue
		}
		s.Route = plant.TourCode(j.tours.name(f.row.must("Route"), "", string(s.Route), false))
		f.row.state = used
		j.plant.CurrentRoutes = append(j.plant.CurrentRoutes, s)
	}
}

func (j *joiner) joinRouteRules() {
	for _, f := range j.rd.facts.routeRules {
		r := f.v
		if f.row.state == reported {
			continue
		}
		rack, okRack := j.optionalRef(j.racks, f.row, "Rack", "", string(r.Rack), CodeRuleUnknown)
		other, okOther := j.optionalRef(j.racks, f.row, "Other rack", "", string(r.Other), CodeRuleUnknown)
		from, okFrom := j.optionalRef(j.points, f.row, "From", "", string(r.From), CodeRuleUnknown)
		to, okTo := j.optionalRef(j.points, f.row, "To", "", string(r.To), CodeRuleUnknown)
		if !okRack || !okOther || !okFrom || !okTo || j.repeats(f.row) {
			continue
		}
		if trim(string(r.Route)) != "" {
			r.Route = plant.TourCode(j.tours.name(f.row.may("Route"), "", string(r.Route), false))
		}
		r.Rack, r.Other, r.From, r.To = plant.RackCode(rack), plant.RackCode(other), plant.PointCode(from), plant.PointCode(to)
		f.row.state = used
		j.plant.RouteRules = append(j.plant.RouteRules, r)
	}
}
