package routing_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// driven makes today's routes of a plan's, of which some racks are exchanged.
func driven(r *rand.Rand, p routing.Plan, exchanges int) []plant.CurrentStop {
	var list []plant.CurrentStop
	for _, route := range p.Routes {
		for i, s := range route.Stops {
			list = append(list, plant.CurrentStop{Route: plant.TourCode("T" + route.Route), Order: i + 1, Rack: s.Rack, Vehicle: route.Vehicle, Interval: route.Interval})
		}
	}
	for range exchanges {
		a, b := r.IntN(len(list)), r.IntN(len(list))
		list[a].Rack, list[b].Rack = list[b].Rack, list[a].Rack
	}
	return list
}

// movedStops counts the racks that are on no route of their name of today.
func movedStops(in routing.Input, p routing.Plan) int {
	on := map[plant.RackCode][]string{}
	for _, r := range p.Routes {
		for _, s := range r.Stops {
			on[s.Rack] = append(on[s.Rack], r.Route)
		}
	}
	moved := 0
	for _, s := range in.Index.Plant.CurrentRoutes {
		if len(on[s.Rack]) > 0 && !slices.Contains(on[s.Rack], string(s.Route)) {
			moved++
		}
	}
	return moved
}

// goals are what a plan is judged by.
func goals(in routing.Input, p routing.Plan) result {
	r := result{handlers: p.Bounds.Handlers, routes: p.Bounds.Routes, metres: p.Bounds.Travel.Metres()}
	used := map[plant.VehicleCode]map[string]bool{}
	for _, route := range p.Routes {
		if used[route.Vehicle] == nil {
			used[route.Vehicle] = map[string]bool{}
		}
		used[route.Vehicle][route.Handler] = true
	}
	for v, handlers := range used {
		r.beyond += max(0, len(handlers)-in.Index.Vehicles[v].Count)
	}
	return r
}

// withToday is an input with today's routes.
func withToday(in routing.Input, today []plant.CurrentStop, rules ...plant.RouteRule) routing.Input {
	p := *in.Index.Plant
	p.CurrentRoutes, p.RouteRules = today, append(slices.Clone(p.RouteRules), rules...)
	return input(&p, in.Racks, in.Demands)
}

func plan(t require.TestingT, in routing.Input, s routing.Settings) routing.Plan {
	p := routing.Routes(context.Background(), in, s, 1, 2, nil)
	require.Empty(t, check(in, p))
	return p
}

// TestNeverWorseThanToday: a plan that is driven today is the least that comes back,
// and with no stop to be moved exactly its routes do.
func TestNeverWorseThanToday(t *testing.T) {
	t.Parallel()
	judged := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 3))
		in := random(r, size{columns: 4, rows: 4, racks: 6 + r.IntN(20), loops: 3, vehicles: 1 + r.IntN(3), intervals: []time.Duration{time.Hour, 30 * time.Minute}[:1+r.IntN(2)], used: 1})
		good := plan(t, in, routing.Settings{Steps: 40})
		if !whole(good, len(in.Racks)) {
			continue
		}
		judged++
		again := withToday(in, driven(r, good, 0))
		for _, s := range []routing.Settings{{Steps: 0}, {Steps: 20, MovePrice: 5}, {Steps: 5, Limited: true}} {
			p := plan(t, again, s)
			assert.False(t, goals(in, good).less(goals(in, p)), "seed %d, %+v: %+v is worse than %+v", seed, s, goals(in, p), goals(in, good))
			if s.Limited {
				assert.Zero(t, movedStops(again, p), "seed %d", seed)
			}
		}
	}
	assert.Greater(t, judged, 40)
}

// TestMoveLimit: however the routes of today are, no more stops move than may, unless
// the plan says that they do not fit.
func TestMoveLimit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 5))
		in := random(r, size{columns: 4, rows: 3, racks: rapid.IntRange(2, 18).Draw(t, "racks"), loops: 3, vehicles: 1, intervals: hourly, used: 1})
		first := routing.Routes(context.Background(), in, routing.Settings{Steps: 3}, 1, 2, nil)
		if len(first.Routes) == 0 {
			return
		}
		in = withToday(in, driven(r, first, rapid.IntRange(0, 4).Draw(t, "exchanges")))
		most := rapid.IntRange(0, 4).Draw(t, "limit")
		p := plan(t, in, routing.Settings{Steps: 3, Limited: true, MoveLimit: most})
		if slices.ContainsFunc(p.Findings, codeIs(routing.CodeTodayDoesNotFit)) || slices.ContainsFunc(p.Findings, codeIs(routing.CodeRackSplit)) {
			return
		}
		require.LessOrEqual(t, movedStops(in, p), most)
		require.False(t, slices.ContainsFunc(p.Findings, codeIs(routing.CodeMoreMoved)))
	})
}

// TestDearerMovesAreNoMore: on plants small enough for the best routes to be found.
func TestDearerMovesAreNoMore(t *testing.T) {
	t.Parallel()
	fell := 0
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 8))
		in := tinyOf(seed, 6, time.Hour)
		in.Index.Plant.Vehicles = in.Index.Plant.Vehicles[:1]
		first := plan(t, in, routing.DefaultSettings())
		if !whole(first, len(in.Racks)) {
			continue
		}
		in = withToday(in, driven(r, first, 2))
		last := len(in.Racks)
		for i, price := range []float64{0.001, 10, 50, 1000} {
			p := plan(t, in, routing.Settings{Steps: 100, MovePrice: price})
			moved := movedStops(in, p)
			assert.LessOrEqual(t, moved, last, "seed %d, price %v", seed, price)
			if i > 0 && moved < last {
				fell++
			}
			last = moved
		}
	}
	assert.Positive(t, fell)
}

// TestRulesHold: racks pinned to a name, kept apart and in an order, on plants where a
// round of its own for each rack is possible.
func TestRulesHold(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 6))
		in := random(r, size{columns: 4, rows: 3, racks: rapid.IntRange(4, 20).Draw(t, "racks"), loops: 2, vehicles: rapid.IntRange(1, 2).Draw(t, "vehicles"), intervals: hourly, used: 0.5})
		rack := func() plant.RackCode { return in.Racks[r.IntN(len(in.Racks))].Rack }
		rules := []plant.RouteRule{{Kind: plant.RulePin, Rack: in.Racks[0].Rack, Route: "N"}, {Kind: plant.RulePin, Rack: in.Racks[1].Rack, Route: "N"}, {Kind: plant.RulePin, Rack: in.Racks[2].Rack, Route: "S"}}
		for range rapid.IntRange(0, 5).Draw(t, "pairs") {
			a, b := rack(), rack()
			if min(a, b) > in.Racks[2].Rack && a != b {
				kind := []plant.RuleKind{plant.RuleApart, plant.RuleBefore}[r.IntN(2)]
				rules = append(rules, plant.RouteRule{Kind: kind, Rack: min(a, b), Other: max(a, b)})
			}
		}
		in = withToday(in, nil, rules...)
		p := plan(t, in, routing.Settings{Steps: 3})
		for _, f := range p.Findings {
			require.NotEqual(t, routing.CodeRuleBroken, f.Code, f.Summary)
		}
		require.Empty(t, broken(rules, p))
	})
}

// broken lists the rules that routes do not keep.
func broken(rules []plant.RouteRule, p routing.Plan) (list []string) {
	type at struct {
		route string
		stop  int
	}
	where := map[plant.RackCode]at{}
	for _, r := range p.Routes {
		for i, s := range r.Stops {
			where[s.Rack] = at{r.Route, i}
		}
	}
	for _, r := range rules {
		a, b := where[r.Rack], where[r.Other]
		switch {
		case r.Kind == plant.RulePin && a.route != string(r.Route),
			r.Kind == plant.RuleApart && a.route == b.route,
			r.Kind == plant.RuleBefore && a.route == b.route && a.stop > b.stop:
			list = append(list, fmt.Sprint(r))
		}
	}
	return list
}

// TestNamesContinue: what keeps most stops of a route of today bears its name, what is
// new has a letter that today has not.
func TestNamesContinue(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R1", "P1", 3).rack("R2", "P2", 3).rack("R3", "P3", 3).rack("R4", "P4", 18).rack("R5", "P5", 18)
	y.p.CurrentRoutes = []plant.CurrentStop{
		{Route: "A", Order: 1, Rack: "R1"}, {Route: "A", Order: 2, Rack: "R2"}, {Route: "A", Order: 3, Rack: "R3"},
		{Route: "EAST", Order: 1, Rack: "R5"},
	}
	p := y.routes(t)
	names := map[plant.RackCode]string{}
	for _, r := range p.Routes {
		for _, s := range r.Stops {
			names[s.Rack] = r.Route
		}
	}
	assert.Equal(t, map[plant.RackCode]string{"R1": "A", "R2": "A", "R3": "A", "R4": "B", "R5": "EAST"}, names)
	assert.Contains(t, byCode(t, p, routing.CodeTodayCompared).Detail, "Of the 4 stops that today's routes serve the plan moves 0")
}

// TestMoreMovedThanAllowed: 24 containers are on a route of today that may plan 18.
func TestMoreMovedThanAllowed(t *testing.T) {
	t.Parallel()
	y := newYard().rack("R1", "P1", 12).rack("R2", "P2", 12)
	y.p.CurrentRoutes = []plant.CurrentStop{{Route: "1", Order: 1, Rack: "R1"}, {Route: "1", Order: 2, Rack: "R2"}}
	in := input(y.p, y.racks, y.demands)
	p := plan(t, in, routing.Settings{Steps: 10, Limited: true})
	assert.Equal(t, "The plan moves 1 stop to other routes than today's, and may move 0", byCode(t, p, routing.CodeMoreMoved).Summary)
}

func codeIs(code string) func(finding.Finding) bool {
	return func(f finding.Finding) bool { return f.Code == code }
}
