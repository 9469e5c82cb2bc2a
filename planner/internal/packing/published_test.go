package packing

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
