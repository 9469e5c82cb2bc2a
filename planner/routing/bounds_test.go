package routing

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestPartsOfARound: whatever a round carries within its capacity, its parts add up to
// at most 1, and the round is planned for at least the capacity times their sum.
func TestPartsOfARound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := &bounder{z: rapid.Float64Range(0, 4).Draw(t, "z")}
		capacity := rapid.Float64Range(1, 60).Draw(t, "capacity")
		var all need
		parts := 0.0
		for range rapid.IntRange(1, 12).Draw(t, "racks") {
			n := need{mean: rapid.Float64Range(0, 20).Draw(t, "mean")}
			n.variance = n.mean * rapid.Float64Range(0, 9).Draw(t, "variance by mean")
			if with := all.plus(n); with.planned(d.z) <= capacity {
				all = with
				parts += d.part(n, capacity)
			}
		}
		require.LessOrEqual(t, parts, 1+1e-9)
		require.GreaterOrEqual(t, all.planned(d.z), capacity*parts-1e-9)
	})
}

// TestPartOfAFullRound: what fills a round alone is the whole of it.
func TestPartOfAFullRound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := &bounder{z: rapid.Float64Range(0, 4).Draw(t, "z")}
		n := need{mean: rapid.Float64Range(0.1, 20).Draw(t, "mean"), variance: rapid.Float64Range(0, 30).Draw(t, "variance")}
		require.InDelta(t, 1, d.part(n, n.planned(d.z)), 1e-9)
		require.Less(t, d.part(n, 2*n.planned(d.z)), 1.0)
	})
	require.Zero(t, (&bounder{z: -1}).part(need{mean: 3}, 10))
	require.False(t, math.IsNaN((&bounder{z: 3}).part(need{}, 10)))
}
