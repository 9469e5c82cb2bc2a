package placement

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// occupied makes a small cell with a careless layout of today, which new loops,
// racks too few and grown loops have outgrown.
func occupied(d dice) Input {
	r := smallRecipe(d)
	r.loops, r.today, r.pins, r.racks = d.from(1, 9), 0, 0, d.from(1, 3)
	in := made(d, r)
	today := in
	today.Loops = today.Loops[:d.from(1, len(in.Loops))]
	in.Index.Plant.Current = todayOf(carelessly(today, uint64(d(1000))))
	in.Loops = varied(in, d(3))
	return in
}

// costsNoMore holds a plan that prices moves against one that does not, goal by
// goal up to splits.
func costsNoMore(t require.TestingT, in Input, price float64) (fewer bool) {
	free := placedAs(in, func(s *Settings) { s.MovePrice = 0 })
	l := placedAs(in, func(s *Settings) { s.MovePrice = price })
	require.Empty(t, broken(in, l))
	require.LessOrEqual(t, compareFirst(l, free), 0, "%+v split %d, free %+v split %d", l.Bounds[0], splitsOf(l), free.Bounds[0], splitsOf(free))
	b := l.Bounds[0]
	require.LessOrEqual(t, b.EffortBound, b.Effort)
	if compareFirst(l, free) == 0 {
		require.LessOrEqual(t, b.EffortBound, free.Bounds[0].Effort*(1+1e-9)+1e-9, "the bound is on effort alone")
		require.False(t, b.Optimal && b.Effort > free.Bounds[0].Effort*(1+1e-9)+1e-9, "not optimal")
	}
	return elsewhere(in.Index.Plant.Current, l) < elsewhere(in.Index.Plant.Current, free)
}

// What keeps containers where they lie costs effort at the most: never a
// container without a lane, a rack or a split.
func TestMovePriceCostsNothingElse(t *testing.T) {
	t.Parallel()
	fewer := 0
	for seed := range uint64(pricedCells) {
		d := seeded(seed)
		if costsNoMore(t, occupied(d), []float64{0.01, 0.1, 5, 1000}[d(4)]) {
			fewer++
		}
	}
	t.Logf("in %d of %d cells less is moved", fewer, pricedCells)
	assert.Greater(t, fewer, pricedCells/8)
}

// pricedCells are the cells that are planned with and without a price.
const pricedCells = 150

func TestMovePriceProperty(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		costsNoMore(t, occupied(d), []float64{0.01, 0.1, 5, 1000}[d(4)])
	})
}
