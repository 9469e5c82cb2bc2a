package tours_test

import (
	"cmp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/tours"
)

// TestPlacesChangeNothing: stops at few places have the same routes whether the tables
// are by places or by stops.
func TestPlacesChangeNothing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		stops, places int
		has           shape
	}{
		{40, 9, shape{directed: true, timed: true}},
		{700, 30, shape{}},
		{700, 90, shape{directed: true, timed: true, variance: true}},
		{700, 600, shape{directed: true}},
		{700, 50, shape{directed: true, timed: true, second: true, sides: true}},
	} {
		compact, full := crammed(random(c.stops, 5, c.has), c.places)
		want, err := tours.Solve(t.Context(), full, tours.Limits{Steps: 3000}, tours.Settings{Seed: 2})
		require.NoError(t, err)
		got, err := tours.Solve(t.Context(), compact, tours.Limits{Steps: 3000}, tours.Settings{Seed: 2})
		require.NoError(t, err)
		assert.Equal(t, want, got, "%+v", c)
		_, ok := check(full, got.Routes)
		assert.Equal(t, ok, got.Feasible)
		assert.Equal(t, full.Nearest(11), compact.Nearest(11))
	}
}

// TestNearest: the nearest of each stop are those that a sort of all others has first.
func TestNearest(t *testing.T) {
	t.Parallel()
	p := random(60, 3, shape{directed: true})
	near := p.Nearest(9)
	for a := int32(1); a <= 60; a++ {
		cost := func(b int32) int32 { return min(p.Costs[int(a)*61+int(b)], p.Costs[int(b)*61+int(a)]) }
		var all []int32
		for b := int32(1); b <= 60; b++ {
			if a != b {
				all = append(all, b)
			}
		}
		slices.SortFunc(all, func(b, c int32) int { return cmp.Or(cmp.Compare(cost(b), cost(c)), cmp.Compare(b, c)) })
		assert.Equal(t, all[:9], near[9*(a-1):9*a])
	}
}
