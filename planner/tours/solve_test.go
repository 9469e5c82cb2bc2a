package tours_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/search"
	"lanewright/planner/tours"
)

func solve(t *testing.T, p *tours.Problem, steps int, set tours.Settings) tours.Result {
	t.Helper()
	r, err := tours.Solve(t.Context(), p, tours.Limits{Steps: steps}, set)
	require.NoError(t, err)
	cost, ok := check(p, r.Routes)
	require.Equal(t, cost, r.Cost)
	require.Equal(t, ok, r.Feasible)
	return r
}

func TestThreadsChangeNothing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		has   shape
		steps int
	}{{shape{}, 60_000}, {shape{directed: true, timed: true}, 60_000}, {shape{directed: true}, 3000}, {shape{sides: true, variance: true}, 3000}} {
		p := random(40, 7, c.has)
		one := solve(t, p, c.steps, tours.Settings{Seed: 3, Trajectories: 3, Threads: 1})
		two := solve(t, p, c.steps, tours.Settings{Seed: 3, Trajectories: 3, Threads: 2})
		assert.Equal(t, one, two)
		assert.Equal(t, c.steps, one.Steps)
		assert.Equal(t, search.Limit, one.Stop)
	}
}

// TestNeverWorseThanGiven: good routes to begin with are not lost, however
// little is searched.
func TestNeverWorseThanGiven(t *testing.T) {
	t.Parallel()
	for seed := range uint64(5) {
		p := random(30, seed, shape{directed: true, timed: true, sides: seed%2 == 0})
		good := solve(t, p, 3000, tours.Settings{Seed: seed})
		if !good.Feasible {
			continue
		}
		for _, steps := range []int{5, 20_000} {
			again := solve(t, p, steps, tours.Settings{Seed: seed + 1, Start: good.Routes})
			assert.True(t, again.Feasible)
			assert.LessOrEqual(t, again.Cost, good.Cost)
		}
	}
}

func TestAStartMayLackStops(t *testing.T) {
	t.Parallel()
	p := random(12, 2, shape{})
	r := solve(t, p, 200, tours.Settings{Seed: 1, Start: []tours.Route{{Stops: []int32{3, 4}}}})
	assert.True(t, r.Feasible)
}

func TestFewerRoutesThanSavingsMake(t *testing.T) {
	t.Parallel()
	p := random(40, 4, shape{directed: true})
	var total int64
	for _, x := range p.Loads[0].Mean {
		total += x
	}
	p.Fixed = 0
	p.MaxRoutes = int(math.Ceil(float64(total)/float64(p.Loads[0].Capacity))) + 1
	r := solve(t, p, 20_000, tours.Settings{Seed: 1})
	assert.True(t, r.Feasible)
	assert.LessOrEqual(t, len(r.Routes), p.MaxRoutes)
}

// TestAWayComputesWhatATableHolds: a problem whose legs are computed has the
// same routes as one with a table.
func TestAWayComputesWhatATableHolds(t *testing.T) {
	t.Parallel()
	p := plane(300, 5)
	table := solve(t, p, 2000, tours.Settings{Seed: 1})
	computed := *p
	computed.Costs, computed.Way = nil, func(a, b int32) int32 { return p.Costs[int(a)*(p.Stops+1)+int(b)] }
	r, err := tours.Solve(t.Context(), &computed, tours.Limits{Steps: 2000}, tours.Settings{Seed: 1})
	require.NoError(t, err)
	assert.Equal(t, table, r)
}

func TestTheBudgetEndsTheSearch(t *testing.T) {
	t.Parallel()
	p := random(30, 1, shape{})
	asked := 0
	r, err := tours.Solve(t.Context(), p, tours.Limits{Elapsed: func() float64 { asked++; return float64(asked) / 20 }}, tours.Settings{Trajectories: 2})
	require.NoError(t, err)
	assert.Equal(t, search.Cancelled, r.Stop)
	assert.True(t, r.Feasible)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	r, err = tours.Solve(ctx, p, tours.Limits{Steps: 1 << 40}, tours.Settings{})
	require.NoError(t, err)
	assert.Equal(t, search.Cancelled, r.Stop)
	_, ok := check(p, r.Routes)
	assert.True(t, ok)
}

func TestFewStops(t *testing.T) {
	t.Parallel()
	for n := range 3 {
		r := solve(t, random(n, 1, shape{timed: true}), 100, tours.Settings{})
		assert.True(t, r.Feasible)
		if n < 2 {
			assert.Equal(t, search.Proved, r.Stop)
		}
	}
}

// TestTooMuchForARoute: what no route can hold is an answer that says so.
func TestTooMuchForARoute(t *testing.T) {
	t.Parallel()
	p := random(8, 1, shape{})
	p.Loads[0].Mean[3] = 2 * p.Loads[0].Capacity
	assert.False(t, solve(t, p, 500, tours.Settings{}).Feasible)
}

func TestProblemsWithoutSense(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		says  string
		spoil func(p *tours.Problem)
	}{
		{"costs for 4 stops", func(p *tours.Problem) { p.Costs = p.Costs[1:] }},
		{"times for 4 stops", func(p *tours.Problem) { p.Times = p.Costs[1:] }},
		{"load 1 has 2 means", func(p *tours.Problem) { p.Loads[0].Mean = p.Loads[0].Mean[:2] }},
		{"pair [1 1]", func(p *tours.Problem) { p.Apart = [][2]int32{{1, 1}} }},
		{"cost -1 of the leg from 0 to 1", func(p *tours.Problem) { p.Costs[1] = -1 }},
		{"3 loads", func(p *tours.Problem) { p.Loads = make([]tours.Load, 3) }},
		{"prices for 4 stops", func(p *tours.Problem) { p.Labels = 1 }},
	} {
		p := random(4, 1, shape{})
		c.spoil(p)
		_, err := tours.Solve(t.Context(), p, tours.Limits{Steps: 1}, tours.Settings{})
		require.ErrorIs(t, err, tours.ErrProblem, c.says)
		require.ErrorContains(t, err, c.says)
	}
	for _, start := range [][]tours.Route{{{Stops: []int32{1, 1}}}, {{Stops: []int32{9}}}, {{Label: 1}}} {
		_, err := tours.Solve(t.Context(), random(4, 1, shape{}), tours.Limits{Steps: 1}, tours.Settings{Start: start})
		require.ErrorIs(t, err, tours.ErrProblem)
	}
}

// TestOneWayStreets: on road-like directed costs every route is what the checker
// recomputes, more kicks find no worse routes, and a population none that are
// much worse than annealing does.
func TestOneWayStreets(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		p := roads(60, seed)
		few := solve(t, p, 1, tours.Settings{Seed: seed})
		more := solve(t, p, 20_000, tours.Settings{Seed: seed})
		assert.True(t, few.Feasible && more.Feasible)
		assert.Less(t, more.Cost, few.Cost)
		sided := *p
		sided.Before = [][2]int32{{1, 2}}
		annealed := solve(t, &sided, 20_000, tours.Settings{Seed: seed})
		assert.LessOrEqual(t, float64(more.Cost), 1.01*float64(annealed.Cost))
	}
}
