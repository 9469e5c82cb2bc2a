package placement

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The programme bids no less than the subgradient method does, no more than its own
// value, and neither is beaten by the best of all layouts.
func TestProgrammeAgainstEnumeration(t *testing.T) {
	t.Parallel()
	cells, reached := 0, 0
	for seed, in := range tinyCells(30_000, math.MaxInt) {
		if cells == 300 {
			break
		}
		best, lightest := enumerate(in)
		c := cellOf(in)
		sets := c.racksWithin(int64(math.Round(best.cost * 1e6)))
		if best.splits > 0 || int64(best.unplaced) != c.hopeless() || c.anyFree() || len(sets) != 1 {
			continue
		}
		cells++
		least := lightest(best.unplaced, best.cost, 0)
		above := least*1.3 + 1
		steps := 1_000_000
		a := c.newAuction(sets, 0, 0, &steps)
		a.start(c.relax(sets, 0, above, 20, 0))
		moved := a.improve(above, 60)
		g := newProgramme(a, above)
		bid := g.improve(above)
		require.GreaterOrEqual(t, bid, moved-1e-9*(1+moved), "seed %d: the bids it began with", seed)
		require.LessOrEqual(t, bid, least*(1+1e-9)+1e-9, "seed %d: the best layout", seed)
		if bid < above {
			require.LessOrEqual(t, bid, g.lp.Value()*(1+1e-6)+1e-6, "seed %d: the programme's own value", seed)
			if g.lp.Value()-bid <= 0.011*(above-bid)+1e-6 {
				reached++
			}
		}
		for r := range g.lp.IDs {
			require.GreaterOrEqual(t, g.lp.X[r], -1e-6, "seed %d: a share below nothing", seed)
		}
	}
	t.Logf("of %d cells the bids came to the programme's value in %d", cells, reached)
	assert.GreaterOrEqual(t, reached, cells*9/10)
}

// A proof that runs out of steps at any point says no more than one that ends.
func TestProofsCutShort(t *testing.T) {
	t.Parallel()
	for seed := range uint64(6) {
		d := seeded(seed)
		in := made(d, recipe{loops: 18, racks: 3, types: 1, stations: 3, levels: 3, width: 1800, frontage: 1, places: true, containers: 5})
		s := DefaultSettings()
		s.ProofSteps = 200_000
		ended := Place(t.Context(), in, s, 1, 1, nil).Bounds[0]
		if !ended.Optimal {
			continue
		}
		for _, steps := range []int{950, 1_000, 1_500, 2_500, 5_000} {
			s.ProofSteps = steps
			b := Place(t.Context(), in, s, 1, 1, nil).Bounds[0]
			require.LessOrEqual(t, b.EffortBound, ended.Effort*(1+1e-9), "seed %d, %d steps", seed, steps)
			require.GreaterOrEqual(t, b.Effort, ended.Effort*(1-1e-9), "seed %d, %d steps", seed, steps)
		}
	}
}
