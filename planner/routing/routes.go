package routing

import (
	"context"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/search"
)

// work is one making of a plan.
type work struct {
	in       Input
	settings Settings
	seed     uint64
	threads  int
	progress search.Progress
	fleet    []*vehicle
	wishes   wishes
	plan     Plan
}

// Routes decides who refills which racks on which round (planning rules,
// section 6): sites are grouped by interval and shifts; each group is given
// routes by a search, once for each vehicle type, and the types are chosen for
// all groups together. Then the routes of each type are given to handlers, who
// may drive routes of several groups (see rota). Goals in order: no more
// handlers of a type than it has vehicles, handlers, routes, metres.
//
// The same input, settings and seed give the same plan with any number of
// threads (below 1 counts as 1). Where that costs none of them, the busiest
// handler is relieved, and handlers begin so that rounds do not meet in narrow
// aisles. When ctx ends, the best routes so far are
// returned: they keep all limits.
func Routes(ctx context.Context, in Input, s Settings, seed uint64, threads int, progress search.Progress) Plan {
	w := &work{in: in, settings: s, seed: seed, threads: max(1, threads), progress: progress, wishes: newWishes(in.Index.Plant, s)}
	w.plan.Stopped = search.Exhausted
	list := sites(in)
	if len(list) == 0 {
		return w.plan
	}
	points := make([]plant.PointCode, 0, len(list))
	for _, s := range list {
		if in.Network.Has(s.point) {
			points = append(points, s.point)
		}
	}
	w.fleet = fleet(in, points, w.threads)
	if f, idle := w.idle(list); idle {
		w.leaveAll(list, f)
		return w.plan
	}
	w.noteParking()
	served := w.settle(list)
	crews := w.better(w.crews(w.search(ctx, groups(served))), w.given(served))
	w.relieve(crews)
	w.balance(crews)
	w.stagger(crews)
	w.name(crews)
	w.noteSplits(served)
	w.noteTurns()
	w.noteRules()
	w.noteToday(list)
	w.bound(served)
	return w.plan
}

// idle returns the one reason, if there is one, why no round can drive at all.
func (w *work) idle(list []site) (finding.Finding, bool) {
	p := w.in.Index.Plant
	switch {
	case len(p.Vehicles) == 0:
		return noVehicles(len(list)), true
	case len(w.fleet) == 0:
		return noMarket(len(list)), true
	}
	for _, s := range list {
		if w.reached(s) {
			return finding.Finding{}, false
		}
	}
	if w.in.Network.Aisles() == 0 {
		return noAisles(len(list)), true
	}
	return finding.Finding{}, false
}

// leaveAll leaves every site without a round, for one reason.
func (w *work) leaveAll(list []site, f finding.Finding) {
	w.plan.Findings = append(w.plan.Findings, f)
	for _, s := range list {
		w.plan.Unserved = append(w.plan.Unserved, Unserved{Rack: s.rack, Loops: keys(s.demands), Reason: f.Code, Detail: f.Summary})
	}
}
