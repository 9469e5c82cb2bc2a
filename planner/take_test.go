package planner_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
)

// TestTakeIsWhatTheStopsGet: the drops at each stop are its mean containers, every lane
// of a route's loops is filled, and addresses rise.
func TestTakeIsWhatTheStopsGet(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	for i := range in.Plant.Parts {
		in.Plant.Parts[i].MarketAddress = []string{"M-10-1", "M-2-1", "", "M-2-12", "A-1"}[i%5]
	}
	plan := run(t, in)
	require.NotEmpty(t, plan.Routes)
	for _, r := range plan.Routes {
		picks, ok := planner.Take(in.Plant, plan, r.Route)
		require.True(t, ok)
		got := make([]float64, len(r.Stops))
		for _, p := range picks {
			sum := 0.0
			for _, d := range p.Drops {
				got[d.Stop-1] += d.Containers
				sum += d.Containers
				assert.Equal(t, r.Stops[d.Stop-1].Rack, d.Rack)
			}
			assert.InDelta(t, sum, p.Containers, 1e-9)
			assert.True(t, slices.IsSortedFunc(p.Drops, func(a, b planner.Drop) int { return a.Stop - b.Stop }))
		}
		for i, s := range r.Stops {
			assert.LessOrEqual(t, math.Abs(s.Containers-got[i]), 1e-6, "route %s, stop %d", r.Route, i+1)
		}
		order := map[string]int{"A-1": 1, "M-2-1": 2, "M-2-12": 3, "M-10-1": 4, "": 5}
		assert.True(t, slices.IsSortedFunc(picks, func(a, b planner.Pick) int { return order[a.Address] - order[b.Address] }))
	}
	_, ok := planner.Take(in.Plant, plan, "ZZ")
	assert.False(t, ok)
}
