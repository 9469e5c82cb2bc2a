package routing

import "lanewright/planner/tours"

// keep makes routes those of p, and the handlers those that they were found with, if
// they are better.
func (p *part) keep(routes []tours.Route, hands [][]int) bool {
	taken := p.take(routes)
	if len(hands) >= p.score.handlers || !p.manage(routes, hands) {
		return taken
	}
	found := p.judge(p.tours(routes))
	found.handlers = len(hands)
	if found.compare(p.score) >= 0 {
		return taken
	}
	p.routes, p.score, p.shared = routes, found, hands
	return true
}

// manage reports whether every round keeps the limits, and every handler has time for his.
func (p *problem) manage(routes []tours.Route, hands [][]int) bool {
	for _, bin := range hands {
		var all hand
		for _, i := range bin {
			if !p.can(routes[i].Stops) {
				return false
			}
			all = all.plus(handOf(p.tour(routes[i].Stops).round))
		}
		if all.over(p.room()) > 0 {
			return false
		}
	}
	return true
}

// dealt gives p's routes to so many handlers, who may have too much.
func (p *part) dealt(handlers int) [][]int {
	if len(p.shared) == handlers {
		return p.shared
	}
	var list []tour
	for _, r := range p.routes {
		list = append(list, p.tour(r.Stops))
	}
	return newDealer(list, p.room()).forced(handlers)
}

// crewsOf gives the tours of p to handlers: to those that they were found with, where
// these can leave one after the other and are fewer.
func (r *rota) crewsOf(p *part) []staff {
	anew := r.crews(p.vehicle, p.tours(p.routes))
	if len(p.shared) == 0 || len(p.shared) >= len(anew) {
		return anew
	}
	list := make([]staff, 0, len(p.shared))
	for _, bin := range p.shared {
		var routes []tours.Route
		for _, i := range bin {
			routes = append(routes, p.routes[i])
		}
		turns, ok := r.turns(hardestFirst(p.tours(routes)))
		if !ok {
			return anew
		}
		list = append(list, staff{p.vehicle, r.inOrder(turns)})
	}
	return list
}
