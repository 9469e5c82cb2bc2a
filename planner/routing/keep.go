package routing

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/units"
)

// withinLimit searches parts anew where all of them together move more stops than may
// be: each may move what those before it have left.
func (w *work) withinLimit(ctx context.Context, parts []*part) {
	if !w.wishes.limited {
		return
	}
	left := w.wishes.most
	for i, p := range parts {
		if p.moved() > left {
			p.problem = p.priced(0)
			p.most = left
			p.score, p.shared = p.judge(p.tours(p.routes)), nil
			p.improve(ctx, w.steps(p), search.Stream(w.seed, fmt.Sprintf("limit/%d", i)).Uint64(), w.threads)
		}
		left = max(0, left-p.moved())
	}
}

// given are today's routes as they are, where all of them keep the rules of a plan and
// serve everything between them; nil else.
func (w *work) given(served []site) []staff {
	bySite := map[plant.RackCode]site{}
	for _, s := range served {
		bySite[s.rack] = s
	}
	tours := map[*vehicle][]tour{}
	var groups []*group
	stops := 0
	for _, rows := range w.wishes.current {
		r, t := w.judge(rows, bySite)
		if len(r.Stops) == 0 {
			continue
		}
		if !w.stands(r, t, bySite) {
			return nil
		}
		t.group, groups = same(t.group, groups)
		t.code = rows[0].Route
		stops += len(t.stops)
		for _, s := range t.stops {
			delete(bySite, s.rack)
		}
		tours[t.vehicle] = append(tours[t.vehicle], t)
	}
	if stops != len(served) || len(bySite) > 0 {
		return nil
	}
	var list []staff
	for _, v := range w.fleet {
		list = append(list, newRota(w.in.Plant.BusyLimit.Float64()).crews(v, tours[v])...)
	}
	return list
}

// same returns a group of the list that is like g, or g as one more.
func same(g *group, list []*group) (*group, []*group) {
	if i := slices.IndexFunc(list, func(o *group) bool { return o.interval == g.interval && o.name == g.name }); i >= 0 {
		return list[i], list
	}
	return g, append(list, g)
}

// stands reports whether a route of today keeps what a route of a plan does, and
// serves none of the racks that others do.
func (w *work) stands(r TodayRoute, t tour, bySite map[plant.RackCode]site) bool {
	rules := w.wishes.rules
	if len(r.Over) > 0 || len(r.Apart) > 0 || slices.ContainsFunc(rules.Apart, t.joins) {
		return false
	}
	place := map[plant.RackCode]int{}
	for i, s := range t.stops {
		at, known := bySite[s.rack]
		pin := rules.Pins[s.rack]
		if _, twice := place[s.rack]; twice || !known || at.interval < t.group.interval || shiftNames(at.shifts) != t.group.name || pin != "" && string(pin) != r.Route.Route {
			return false
		}
		place[s.rack] = i
	}
	return rules.inTurn(place)
}

// better returns today's routes where what was found is worse: it lacks more vehicles,
// needs more handlers, routes or metres.
func (w *work) better(found, today []staff) []staff {
	if len(today) > 0 && w.costOf(today).compare(w.costOf(found)) <= 0 {
		return today
	}
	return found
}

// costOf is what all handlers together cost.
func (w *work) costOf(list []staff) cost {
	var c cost
	used := map[plant.VehicleCode]int{}
	for _, h := range list {
		used[h.vehicle.code()]++
		c.routes += len(h.turns)
		for _, t := range h.turns {
			c.length += t.drive.Length
		}
	}
	moved := 0
	for _, d := range w.named(list) {
		d.code = plant.TourCode(d.name)
		moved += w.wishes.moved(d.tour)
	}
	c.handlers = len(list)
	c.length += w.wishes.move * units.Length(moved)
	if w.wishes.limited {
		c.excess = max(0, moved-w.wishes.most)
	}
	for _, v := range w.fleet {
		c.beyond += max(0, used[v.code()]-v.Count)
	}
	return c
}

// codes names tours: by the route of today that they continue, else by letters. No
// name is used twice; of tours with one label the largest bears it.
func (w *wishes) codes(list []tour) []string {
	names := make([]string, len(list))
	used := map[string]bool{}
	for _, i := range largestFirst(list) {
		if name := string(list[i].code); name != "" && !used[name] {
			names[i], used[name] = name, true
		}
	}
	for i, t := range list {
		if name := w.continues(t); names[i] == "" && name != "" && !used[name] {
			names[i], used[name] = name, true
		}
	}
	next := 0
	for i := range names {
		for ; names[i] == ""; next++ {
			if name := letters(next); !used[name] {
				names[i] = name
			}
		}
	}
	return names
}

// largestFirst are the places of tours in a list, those with most stops first.
func largestFirst(list []tour) []int {
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(list[b].stops), len(list[a].stops)) })
	return order
}

// continues is the route of today of which t keeps most stops: more than half of them,
// and more than of any other.
func (w *wishes) continues(t tour) string {
	best, most := "", 0
	for _, rows := range w.current {
		has := 0
		for _, row := range rows {
			if slices.ContainsFunc(t.stops, func(s stop) bool { return s.rack == row.Rack }) {
				has++
			}
		}
		if 2*has > len(rows) && has > most {
			best, most = string(rows[0].Route), has
		}
	}
	return best
}
