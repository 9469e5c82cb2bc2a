package routing_test

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// wide makes a plant that needs more than thirty handlers.
func wide(seed uint64, intervals []time.Duration) routing.Input {
	return random(rand.New(rand.NewPCG(seed, 5)), size{columns: 16, rows: 12, racks: 330, loops: 16, vehicles: 1, intervals: intervals, used: 1})
}

// TestManyHandlers are plants where dealing the engine's routes needs a handler more
// than the least work does, and on one of which no bound but the dues shows that there
// can not be fewer.
func TestManyHandlers(t *testing.T) {
	t.Parallel()
	for seed, handlers := range map[uint64]int{0: 32, 1: 31, 2: 34} {
		p := plan(t, wide(seed, hourly), routing.DefaultSettings())
		assert.Equal(t, handlers, p.Bounds.Handlers, "seed %d", seed)
		assert.Equal(t, handlers, p.Bounds.HandlersBound, "seed %d", seed)
	}
}

// TestManyHandlersKeepTheRules: with racks pinned, kept apart and in an order, and with
// few stops to be moved from today's routes, also at two intervals.
func TestManyHandlersKeepTheRules(t *testing.T) {
	t.Parallel()
	for _, intervals := range [][]time.Duration{hourly, {30 * time.Minute, time.Hour}} {
		in := wide(3, intervals)
		name := func(i int) plant.RackCode { return in.Racks[i].Rack }
		rules := []plant.RouteRule{{Kind: plant.RulePin, Rack: name(0), Route: "N"}}
		for i := 2; i < 60; i += 2 {
			rules = append(rules, plant.RouteRule{Kind: []plant.RuleKind{plant.RuleApart, plant.RuleBefore}[i/2%2], Rack: name(i), Other: name(i + 1)})
		}
		first := plan(t, in, routing.Settings{Steps: 3})
		require.Greater(t, first.Bounds.Handlers, 30)
		p := plan(t, withToday(in, nil, rules...), routing.Settings{Steps: 5})
		assert.Empty(t, broken(rules, p))
		today := withToday(in, driven(rand.New(rand.NewPCG(1, 1)), first, 3))
		p = plan(t, today, routing.Settings{Steps: 2, Limited: true, MoveLimit: 10})
		assert.LessOrEqual(t, movedStops(today, p), 10)
	}
}

// TestManyHandlersOnAnyThreads: the same plan on one thread and on several, and one that
// keeps its limits when the search is cancelled.
func TestManyHandlersOnAnyThreads(t *testing.T) {
	t.Parallel()
	in := wide(4, []time.Duration{30 * time.Minute, time.Hour})
	one := routing.Routes(context.Background(), in, routing.Settings{Steps: 2}, 7, 1, nil)
	assert.Equal(t, one, routing.Routes(context.Background(), in, routing.Settings{Steps: 2}, 7, 3, nil))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := routing.Routes(ctx, in, routing.DefaultSettings(), 7, 2, nil)
	assert.Empty(t, check(in, p))
}
