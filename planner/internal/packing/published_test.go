package packing

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/internal/patterns"
	"lanewright/planner/search"
)

// fivesixhundred is the cutting example with stocks of 5600: widths and counts
// seen at https://graphsearch.epfl.ch/en/concept/826868, with the bound 73.
func fivesixhundred() Problem {
	return Problem{Capacity: 5600, Pieces: []Piece{
		{1380, 22}, {1520, 25}, {1560, 12}, {1710, 14}, {1820, 18}, {1880, 18}, {1930, 20},
		{2000, 10}, {2050, 12}, {2100, 14}, {2140, 16}, {2150, 18}, {2200, 20},
	}}
}

func TestStocksOf5600(t *testing.T) {
	t.Parallel()
	p := fivesixhundred()
	k := newKinds(p)
	assert.EqualValues(t, 219, k.pieces(), "pieces (seen)")
	assert.EqualValues(t, 82, k.pack(firstFit).count, "first-fit-decreasing (recomputed)")
	bound, err := LowerBound(p)
	require.NoError(t, err)
	assert.EqualValues(t, 73, bound, "the bound (seen)")
	r, err := Solve(t.Context(), p, Options{Seed: 1})
	require.NoError(t, err)
	assert.EqualValues(t, 73, r.Count, "stocks (from memory)")
	assert.True(t, r.Proved())
	require.NoError(t, Check(p, r.Bins))
}

// TestTripletsReachTheirOptimum: the bins were full when they were cut up
// (Falkenauer 1996; parameters from memory).
func TestTripletsReachTheirOptimum(t *testing.T) {
	t.Parallel()
	rng := search.Stream(2, "triplets")
	for _, n := range []int{60, 120} {
		for range 4 {
			r, err := Solve(t.Context(), triplets(n)(rng), Options{Seed: 1})
			require.NoError(t, err)
			assert.EqualValues(t, n/3, r.Bound)
			assert.EqualValues(t, n/3, r.Count, "%d triplets", n)
		}
	}
}

// TestClassesWithinOneBin: a problem of every class is packed with at most one
// bin above the bound, and the promised optimum is never beaten.
func TestClassesWithinOneBin(t *testing.T) {
	t.Parallel()
	for _, c := range classes() {
		p := c.make(search.Stream(7, c.name))
		r, err := Solve(t.Context(), p, Options{Seed: 1, Steps: 40_000_000})
		require.NoError(t, err)
		require.NoError(t, Check(p, r.Bins), c.name)
		assert.LessOrEqual(t, r.Count, r.Bound+1, c.name)
		if c.optimum > 0 {
			assert.LessOrEqual(t, r.Bound, c.optimum, c.name)
		}
	}
}

// TestBoundsOfRisingStrength: what size alone does not know, dual-feasible
// functions and the relaxation do (recomputed).
func TestBoundsOfRisingStrength(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name              string
		p                 Problem
		size, dual, relax int64
	}{
		{"halves and a little", Problem{100, []Piece{{51, 3}, {52, 1}}}, 3, 4, 4},
		{"thirds and a little", Problem{100, []Piece{{34, 6}, {35, 1}}}, 3, 4, 4},
		{"only fractions of fills know", Problem{100, []Piece{{23, 1}, {51, 5}, {53, 1}, {27, 6}}}, 5, 6, 7},
		{"stocks of 5600", fivesixhundred(), 73, 73, 73},
	} {
		k := newKinds(c.p)
		m := patterns.NewMeter(t.Context(), 1<<40)
		assert.Equal(t, c.size, sizeBound(k), c.name)
		assert.Equal(t, c.dual, dualBound(k), c.name)
		assert.Equal(t, c.relax, newRelaxation(k, m).solve(k.need, nil, reached).bound, c.name)
	}
}
