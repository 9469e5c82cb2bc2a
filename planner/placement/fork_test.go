package placement

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Forks alone, without a search through bundles, prove no more than the best of all
// layouts has, loops in parts or not, and mostly come to an end.
func TestForksAgainstEnumeration(t *testing.T) {
	t.Parallel()
	cells, proved, split, limited := 0, 0, 0, 0
	for seed, in := range tinyCells(50_000, math.MaxInt) {
		if cells == 400 {
			break
		}
		best, lightest := enumerate(in)
		c := cellOf(in)
		sets := c.racksWithin(int64(math.Round(best.cost * 1e6)))
		if int64(best.unplaced) != c.hopeless() || c.anyFree() || len(sets) != 1 || best.splits == 0 && seed%4 > 0 {
			continue
		}
		cells++
		least := lightest(best.unplaced, best.cost, best.splits)
		k := key{unplaced: c.hopeless(), cost: int64(math.Round(best.cost * 1e6)), splits: best.splits, effort: least*1.3 + 1}
		steps := 1_000_000
		a := c.newAuction(sets, 0, best.splits, &steps)
		a.start(c.relax(sets, 0, k.effort, 20, 0))
		b := newBranching(&proof{c: c, key: k, stop: func() bool { return false }}, a, sets[0])
		b.look, b.last = 0, 0
		bound := b.prove()
		require.LessOrEqual(t, bound, least*(1+1e-9)+1e-9, "seed %d", seed)
		if best.splits > 0 {
			split++
		}
		if alike(bound, least) {
			proved++
		}
		if b.short != nil {
			for _, j := range b.short.jams {
				if j.sign != 0 {
					limited++
					break
				}
			}
		}
	}
	t.Logf("of %d cells, %d with loops in parts, %d were proved, %d by limits on lots", cells, split, proved, limited)
	assert.GreaterOrEqual(t, proved, cells*8/10)
	assert.Greater(t, split, cells/10)
	assert.Positive(t, limited)
}

// Every way to lay two loops is on one side of the fork that asks whether they share a
// level, and on no more.
func TestPairing(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(7, 1))
	for range 2000 {
		// Both loops lie whole on a level, or in two or three parts on as many.
		whole, parts := make([]crowd, 4), make([]crowd, 4)
		for i := range 2 {
			if levels := rng.Perm(4)[:1+rng.IntN(3)]; len(levels) == 1 {
				whole[levels[0]] = whole[levels[0]].with(i)
			} else {
				for _, s := range levels {
					parts[s] = parts[s].with(i)
				}
			}
		}
		for _, q := range []pairing{{0, 1, false}, {0, 1, true}, {1, 0, true}} {
			together, apart := true, true
			for s := range whole {
				together = together && q.together(s, whole[s], parts[s])
				apart = apart && q.apart(s, whole[s], parts[s])
			}
			share := slices.ContainsFunc([]int{0, 1, 2, 3}, func(s int) bool {
				with := whole[s]
				if q.inParts {
					with = parts[s]
				}
				return whole[s].has(q.first) && with.has(q.second)
			})
			require.Equal(t, !share, apart, "%v %v %v", q, whole, parts)
			if share {
				require.True(t, together, "%v %v %v", q, whole, parts)
			}
		}
	}
}
