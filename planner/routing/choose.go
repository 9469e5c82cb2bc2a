package routing

import (
	"cmp"
	"slices"

	"lanewright/planner/plant"
)

// candidate is one way to serve a group: by the routes of one vehicle type,
// followed by others where it can not serve all.
type candidate []*part

// candidates returns one candidate for each vehicle type that can serve any
// site of g, with the routes of a quick construction.
func (w *work) candidates(g *group) []candidate {
	var list []candidate
	for i, v := range w.fleet {
		if c := w.cover(g, g.sites, v, slices.Delete(slices.Clone(w.fleet), i, i+1)); c != nil {
			list = append(list, c)
		}
	}
	return list
}

// cover serves sites with v as far as v can, and the rest with the best of the
// others. It returns nil when v serves none. Every site has a type that serves
// it.
func (w *work) cover(g *group, sites []site, v *vehicle, others []*vehicle) candidate {
	var stops []stop
	var rest []site
	for _, s := range sites {
		if v.serves(s) {
			stops = append(stops, v.stops(s)...)
		} else {
			rest = append(rest, s)
		}
	}
	if len(stops) == 0 {
		return nil
	}
	c := candidate{newPart(newProblem(g, v, stops, w.wishes))}
	if len(rest) == 0 {
		return c
	}
	var best candidate
	for i, u := range others {
		more := w.cover(g, rest, u, slices.Delete(slices.Clone(others), i, i+1))
		if more != nil && (best == nil || more.cost().compare(best.cost()) < 0) {
			best = more
		}
	}
	return append(c, best...)
}

// cost is what candidates are chosen by, in this order: stops moved beyond what is
// allowed, handlers beyond the vehicles that a type has, then the score.
type cost struct {
	beyond int
	score
}

func (a cost) compare(b cost) int {
	return cmp.Or(cmp.Compare(a.excess, b.excess), cmp.Compare(a.beyond, b.beyond), a.score.compare(b.score))
}

// cost adds up the parts of c, as if none shared a handler with another.
func (c candidate) cost() cost {
	var sum cost
	handlers := map[plant.VehicleCode]int{}
	for _, p := range c {
		handlers[p.vehicle.code()] += p.score.handlers
	}
	for _, p := range c {
		sum.add(p, handlers)
	}
	return sum
}

// hopeless reports whether one of the others has no more handlers beyond its vehicles
// than c and so much fewer handlers that a short search would not make up for them: it
// takes some in a hundred off.
func (c candidate) hopeless(others []candidate) bool {
	mine := c.cost()
	return slices.ContainsFunc(others, func(o candidate) bool {
		yours := o.cost()
		return yours.excess <= mine.excess && yours.beyond <= mine.beyond && 5*(yours.handlers+1) < 4*mine.handlers
	})
}

// add adds the routes of p and, once for its vehicle type, the handlers.
func (a *cost) add(p *part, handlers map[plant.VehicleCode]int) {
	a.excess += p.score.excess
	a.routes += p.score.routes
	a.length += p.score.length
	code := p.vehicle.code()
	a.handlers += handlers[code]
	a.beyond += max(0, handlers[code]-p.vehicle.Count)
	delete(handlers, code)
}

// chooser weighs the candidates of all groups against each other.
type chooser struct {
	rota *rota
	made map[*part][]tour
}

// tally adds up the candidates chosen for several groups, whose routes share
// handlers as first fit gives them.
func (c *chooser) tally(chosen []candidate) cost {
	var parts []*part
	tours := map[plant.VehicleCode][]tour{}
	apart := map[plant.VehicleCode]int{}
	for _, candidate := range chosen {
		for _, p := range candidate {
			parts = append(parts, p)
			code := p.vehicle.code()
			tours[code] = append(tours[code], c.made[p]...)
			apart[code] += p.score.handlers
		}
	}
	handlers := map[plant.VehicleCode]int{}
	for code, all := range tours {
		handlers[code] = min(apart[code], c.rota.firstFit(all))
	}
	var sum cost
	for _, p := range parts {
		sum.add(p, handlers)
	}
	return sum
}

// choose picks a candidate for each group: first the best of each for itself,
// then, as long as that helps all groups together, another one for one group.
func (w *work) choose(groups [][]candidate) []candidate {
	c := chooser{newRota(w.in.Plant.BusyLimit.Float64()), map[*part][]tour{}}
	chosen := make([]candidate, len(groups))
	several := false
	for i, list := range groups {
		chosen[i] = slices.MinFunc(list, func(a, b candidate) int { return a.cost().compare(b.cost()) })
		several = several || len(list) > 1
		for _, candidate := range list {
			for _, p := range candidate {
				c.made[p] = p.tours(p.routes)
			}
		}
	}
	for now := c.tally(chosen); several; {
		best, group, pick := now, -1, candidate(nil)
		for i, list := range groups {
			kept := chosen[i]
			for _, other := range list {
				chosen[i] = other
				if t := c.tally(chosen); t.compare(best) < 0 {
					best, group, pick = t, i, other
				}
			}
			chosen[i] = kept
		}
		if group < 0 {
			break
		}
		now, chosen[group] = best, pick
	}
	return chosen
}
