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
	settle(&j.rd.facts.turns, func(t *plant.Turn, r *row) bool {
		from := maybe(j, j.points, r, "From point", "", &t.From, CodeTurnPoint)
		at := named(j, j.points, r, "At point", "", &t.At, CodeTurnPoint)
		to := maybe(j, j.points, r, "To point", "", &t.To, CodeTurnPoint)
		return from && at && to && !j.repeats(r)
	}, into(&j.plant.Turns))
}

// joinCurrentRoutes resolves today's routes. Rows about something unknown are
// reported and left out; a plan can be made without them.
func (j *joiner) joinCurrentRoutes() {
	settle(&j.rd.facts.currentRoutes, func(s *plant.CurrentStop, r *row) bool {
		if !weakly(j, j.racks, r, "Rack", "", &s.Rack, CodeTourUnknown) {
			return false
		}
		if trim(string(s.Vehicle)) != "" && !weakly(j, j.vehicles, r, "Vehicle type", "", &s.Vehicle, CodeTourUnknown) {
			return false
		}
		if j.repeats(r) {
			return false
		}
		s.Route = j.tour(r, s.Route)
		return true
	}, into(&j.plant.CurrentRoutes))
}

func (j *joiner) joinRouteRules() {
	settle(&j.rd.facts.routeRules, func(rule *plant.RouteRule, r *row) bool {
		rack := maybe(j, j.racks, r, "Rack", "", &rule.Rack, CodeRuleUnknown)
		other := maybe(j, j.racks, r, "Other rack", "", &rule.Other, CodeRuleUnknown)
		from := maybe(j, j.points, r, "From", "", &rule.From, CodeRuleUnknown)
		to := maybe(j, j.points, r, "To", "", &rule.To, CodeRuleUnknown)
		if !rack || !other || !from || !to || j.repeats(r) {
			return false
		}
		if trim(string(rule.Route)) != "" {
			rule.Route = j.tour(r, rule.Route)
		}
		return true
	}, into(&j.plant.RouteRules))
}

// tour is the first spelling of the route that r names.
func (j *joiner) tour(r *row, route plant.TourCode) plant.TourCode {
	return plant.TourCode(j.tours.name(r.must("Route"), "", string(route), false))
}
