package routing

import (
	"cmp"
	"slices"

	"lanewright/planner/plant"
)

// part is the routes of one vehicle type in one group.
type part struct {
	*problem
	solution
}

// candidate is one way to serve a group: by the routes of one vehicle type,
// followed by others where it can not serve all.
type candidate []*part

// candidates returns one candidate for each vehicle type that can serve any
// site of g, with the routes of a quick construction.
func (w *work) candidates(g *group) []candidate {
	var list []candidate
	for i, v := range w.fleet {
		if c := cover(g, g.sites, v, slices.Delete(slices.Clone(w.fleet), i, i+1)); c != nil {
			list = append(list, c)
		}
	}
	return list
}

// cover serves sites with v as far as v can, and the rest with the best of the
// others. It returns nil when v serves none. Every site has a type that serves
// it.
func cover(g *group, sites []site, v *vehicle, others []*vehicle) candidate {
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
	c := candidate{newPart(g, v, stops)}
	if len(rest) == 0 {
		return c
	}
	var best candidate
	for i, u := range others {
		more := cover(g, rest, u, slices.Delete(slices.Clone(others), i, i+1))
		if more != nil && (best == nil || more.cost().compare(best.cost()) < 0) {
			best = more
		}
	}
	return append(c, best...)
}

func newPart(g *group, v *vehicle, stops []stop) *part {
	p := newProblem(g, v, stops)
	order := p.savings()
	t := newTours(p)
	t.load(order)
	var c crew
	handlers, _ := c.count(t, 0)
	return &part{p, solution{order, score{handlers, t.routes(), t.length}}}
}

// cost is what candidates are chosen by, in this order: handlers beyond the
// vehicles that a type has, then the score.
type cost struct {
	beyond int
	score
}

func (a cost) compare(b cost) int {
	return cmp.Or(cmp.Compare(a.beyond, b.beyond), a.score.compare(b.score))
}

func (c candidate) cost() cost { return tally([]candidate{c}) }

// tally adds up the candidates chosen for several groups.
func tally(chosen []candidate) cost {
	var c cost
	handlers := map[plant.VehicleCode]int{}
	for _, candidate := range chosen {
		for _, p := range candidate {
			v := p.vehicle
			handlers[v.code()] += p.score.handlers
			c.handlers += p.score.handlers
			c.routes += p.score.routes
			c.length += p.score.length
			if handlers[v.code()] > v.Count {
				before := handlers[v.code()] - p.score.handlers
				c.beyond += handlers[v.code()] - max(v.Count, before)
			}
		}
	}
	return c
}

// choose picks a candidate for each group: first the best of each for itself,
// then, as long as that helps all groups together, another one for one group.
func choose(groups [][]candidate) []candidate {
	chosen := make([]candidate, len(groups))
	for i, list := range groups {
		chosen[i] = slices.MinFunc(list, func(a, b candidate) int { return a.cost().compare(b.cost()) })
	}
	for now := tally(chosen); ; {
		best, group, pick := now, -1, candidate(nil)
		for i, list := range groups {
			kept := chosen[i]
			for _, c := range list {
				chosen[i] = c
				if t := tally(chosen); t.compare(best) < 0 {
					best, group, pick = t, i, c
				}
			}
			chosen[i] = kept
		}
		if group < 0 {
			return chosen
		}
		now, chosen[group] = best, pick
	}
}
