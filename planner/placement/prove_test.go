package placement

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cellOf freezes the one cell of a made-up plant.
func cellOf(in Input) *cell {
	g, s := split(in), DefaultSettings()
	s.MovePrice = 0 // a proof is about effort alone
	return newCell(in, s, &g[0], overall{today(in), heeded(in)})
}

// No layout of whole loops beats the bids of an auction, for any number of sets
// of racks at once, and the search that starts from them finds the best of all
// layouts where it ends.
func TestAuctionAgainstEnumeration(t *testing.T) {
	t.Parallel()
	cells, found := 0, 0
	for seed, in := range tinyCells(10_000, math.MaxInt) {
		if cells == 1000 {
			break
		}
		best, lightest := enumerate(in)
		c := cellOf(in)
		if best.splits > 0 || int64(best.unplaced) != c.hopeless() || c.anyFree() {
			continue
		}
		cells++
		least := lightest(best.unplaced, best.cost, 0)
		k := key{unplaced: c.hopeless(), cost: int64(math.Round(best.cost * 1e6)), effort: least*1.3 + 1}
		sets := c.racksWithin(k.cost)
		steps := 1_000_000
		a := c.newAuction(sets, 0, 0, &steps)
		a.start(c.relax(sets, 0, k.effort, 20, 0))
		require.LessOrEqual(t, a.improve(k.effort, 60), least*(1+1e-9)+1e-9, "seed %d: auction", seed)
		proved := math.Inf(1)
		for _, set := range sets {
			p := &proof{c: c, key: k, stop: func() bool { return false }, steps: 1_000_000}
			proved = min(proved, p.within([][]int{set}, 0))
			if p.best != nil {
				require.GreaterOrEqual(t, p.key.effort, least*(1-1e-9)-1e-9, "seed %d: a layout better than the best", seed)
			}
		}
		require.LessOrEqual(t, proved, least*(1+1e-9)+1e-9, "seed %d: search", seed)
		if alike(proved, least) {
			found++
		}
	}
	t.Logf("of %d cells the search proved the best effort in %d", cells, found)
	assert.GreaterOrEqual(t, found, cells*95/100)
}

// The quick mode gives weaker bounds and layouts, but breaks no rule and no
// bound of it is beaten.
func TestQuickModeAgainstEnumeration(t *testing.T) {
	t.Parallel()
	for seed, in := range tinyCells(20_000, 200) {
		best, lightest := enumerate(in)
		s := DefaultSettings()
		s.Steps = 0
		l := Place(context.Background(), in, s, 1, 1, nil)
		require.Empty(t, broken(in, l), "seed %d", seed)
		b := l.Bounds[0]
		require.LessOrEqual(t, b.UnplacedBound, best.unplaced, "seed %d: unplaced", seed)
		if b.Unplaced == best.unplaced {
			require.LessOrEqual(t, b.AddedCostBound, best.cost+1e-6, "seed %d: cost", seed)
		}
		require.LessOrEqual(t, b.EffortBound, lightest(b.Unplaced, b.AddedCost, splitsOf(l))*(1+1e-9)+1e-9, "seed %d: effort", seed)
	}
}

// A knapsack is never worth less than the best of all sets that fit, and no
// more where the search ends.
func TestPicker(t *testing.T) {
	t.Parallel()
	for seed := range uint64(500) {
		d := seeded(seed)
		lots := make([]lot, d.from(1, 12))
		p := picker{}
		for k := range lots {
			lots[k] = lot{loop: k, width: int64(d.from(100, 900)), mass: int64(d.from(1, 50)), profit: float64(d(1000))}
			p.list = append(p.list, k)
		}
		width, mass := int64(d.from(100, 3000)), int64(d.from(1, 300))
		most := 0.0
		for set := range 1 << len(lots) {
			w, m, sum := int64(0), int64(0), 0.0
			for k := range lots {
				if set>>k&1 == 1 {
					w, m, sum = w+lots[k].width, m+lots[k].mass, sum+lots[k].profit
				}
			}
			if w <= width && m <= mass {
				most = max(most, sum)
			}
		}
		got := p.most(lots, width, mass, 1, false)
		require.GreaterOrEqual(t, got, most, "seed %d", seed)
		if p.nodes >= 0 {
			require.InDelta(t, most, got, 1e-9, "seed %d", seed)
		}
		p.list, p.value = p.list[:0], 0
		for k := range lots {
			p.list = append(p.list, k)
		}
		require.GreaterOrEqual(t, p.inSteps(width, max(1, width/pickSteps)), most, "seed %d: in steps", seed)
		p.sort()
		require.GreaterOrEqual(t, p.anyMass(width), most, "seed %d: any mass", seed)
	}
}
