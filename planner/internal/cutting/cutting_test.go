package cutting

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/search"
)

func solved(t require.TestingT, p Problem, steps int64) Result {
	r, err := Solve(context.Background(), p, Options{Steps: steps, Seed: 1})
	require.NoError(t, err)
	require.NoError(t, Verify(p, r))
	return r
}

// random is a problem of so many items of lengths up to the longest stock, with
// a few of each, stocks of several lengths of which some are few, and a kerf.
func random(rng *rand.Rand, items, stocks, each int) Problem {
	p := Problem{Kerf: rng.Int64N(4), LastCut: rng.IntN(2) == 0}
	for range items {
		p.Items = append(p.Items, Item{5 + rng.Int64N(50), 1 + rng.Int64N(int64(each))})
	}
	for n := range stocks {
		s := Stock{Length: 40 + rng.Int64N(60), Count: Unlimited}
		s.Cost = s.Length
		switch {
		case rng.IntN(3) == 0:
			s.Cost = 1 + rng.Int64N(120)
		case n > 0 && rng.IntN(2) == 0:
			s.Count, s.Cost = 1+rng.Int64N(3), s.Length/2*rng.Int64N(2)
		}
		p.Stocks = append(p.Stocks, s)
	}
	return p
}

// TestEveryPieceOnce: Verify holds each result, the bound is kept, and the same
// problem gives the same result.
func TestEveryPieceOnce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		p := random(rng, 1+rng.IntN(12), 1+rng.IntN(6), 1+rng.IntN(30))
		if rng.IntN(4) == 0 {
			for i := range p.Stocks {
				p.Stocks[i].Count = min(p.Stocks[i].Count, rng.Int64N(4))
			}
		}
		r := solved(t, p, 2_000_000)
		assert.Equal(t, r, solved(t, p, 2_000_000))
		assert.LessOrEqual(t, r.Bound, r.Value)
	})
}

func TestKerf(t *testing.T) {
	t.Parallel()
	one := func(kerf int64, last bool, length int64) Problem {
		return Problem{Items: []Item{{1000, 3}}, Stocks: []Stock{{length, 1, Unlimited}}, Kerf: kerf, LastCut: last}
	}
	for _, c := range []struct {
		name       string
		p          Problem
		cost, rest int64
	}{
		{"no kerf, nothing left", one(0, false, 3000), 1, 0},
		{"two cuts fit", one(3, false, 3006), 1, 0},
		{"a third cut leaves less than it takes", one(3, false, 3008), 1, 0},
		{"a third cut leaves an offcut", one(3, false, 3019), 1, 10},
		{"two cuts do not fit", one(3, false, 3005), 2, 0},
		{"the last piece is cut too", one(3, true, 3008), 2, 0},
		{"the last piece is cut too and fits", one(3, true, 3009), 1, 0},
	} {
		r := solved(t, c.p, 0)
		assert.Equal(t, c.cost, r.Cost, c.name)
		assert.True(t, r.Proved(), c.name)
		if c.cost == 1 {
			assert.Equal(t, c.rest, r.Patterns[0].Rest, c.name)
		}
	}
}

// TestStocks: offcuts on hand first, then what costs least; too few stocks leave
// pieces uncut, the fewest.
func TestStocks(t *testing.T) {
	t.Parallel()
	bars := Stock{6000, 6000, Unlimited}
	for _, c := range []struct {
		name          string
		p             Problem
		cost, missing int64
	}{
		{"one stock", Problem{Items: []Item{{2000, 3}}, Stocks: []Stock{bars}}, 6000, 0},
		{"an offcut on hand", Problem{Items: []Item{{2000, 4}}, Stocks: []Stock{bars, {2100, 0, 1}}}, 6000, 0},
		{"too short an offcut", Problem{Items: []Item{{2000, 4}}, Stocks: []Stock{bars, {1900, 0, 1}}}, 12000, 0},
		{"a short stock is enough for the rest", Problem{Items: []Item{{2000, 4}}, Stocks: []Stock{bars, {3000, 3000, Unlimited}}}, 9000, 0},
		{"a short one may be cheaper for all", Problem{Items: []Item{{2000, 4}}, Stocks: []Stock{bars, {2000, 1500, Unlimited}}}, 6000, 0},
		{"one piece finds no stock", Problem{Items: []Item{{2000, 4}}, Stocks: []Stock{{6000, 6000, 1}}}, 6000, 1},
		{"no stock at all", Problem{Items: []Item{{2000, 4}}}, 0, 4},
		{"too long", Problem{Items: []Item{{7000, 2}, {1000, 6}}, Stocks: []Stock{bars}}, 6000, 2},
		{"nothing to cut", Problem{Items: []Item{{2000, 0}}, Stocks: []Stock{bars}}, 0, 0},
		{"what is thrown away costs nothing", Problem{Items: []Item{{2000, 7}}, Stocks: []Stock{{6000, 0, Unlimited}}}, 0, 0},
	} {
		r := solved(t, c.p, 0)
		assert.Equal(t, c.cost, r.Cost, c.name)
		assert.Equal(t, c.missing, r.Missing, c.name)
		assert.True(t, r.Proved(), "%s: %d, bound %d", c.name, r.Value, r.Bound)
		assert.Equal(t, search.Proved, r.Stopped, c.name)
	}
}

func TestWhatIsNoProblem(t *testing.T) {
	t.Parallel()
	for _, p := range []Problem{
		{Items: []Item{{0, 1}}}, {Items: []Item{{1, -1}}}, {Items: []Item{{1, MostPieces}}},
		{Stocks: []Stock{{0, 1, 1}}}, {Stocks: []Stock{{1, -1, 1}}}, {Stocks: []Stock{{1, 1, -1}}}, {Kerf: -1},
		{Items: []Item{{1, 1000}}, Stocks: []Stock{{1, MostCost / 10, 1}}},
	} {
		_, err := Solve(context.Background(), p, Options{})
		assert.ErrorIs(t, err, ErrProblem, "%v", p)
	}
}

// TestACancelledSearchKeepsWhatThereIs: the result is a cutting still.
func TestACancelledSearchKeepsWhatThereIs(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := random(rand.New(rand.NewPCG(3, 3)), 12, 4, 20)
	r, err := Solve(ctx, p, Options{})
	require.NoError(t, err)
	require.NoError(t, Verify(p, r))
}
