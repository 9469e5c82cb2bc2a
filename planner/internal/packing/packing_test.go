package packing

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/search"
)

// drawProblem draws a problem with counts.
func drawProblem(t *rapid.T) Problem {
	room := rapid.Int64Range(20, 500).Draw(t, "room")
	p := Problem{Capacity: room}
	for range rapid.IntRange(1, 12).Draw(t, "kinds") {
		p.Pieces = append(p.Pieces, Piece{rapid.Int64Range(max(1, room/8), room*2/3).Draw(t, "size"), rapid.Int64Range(0, 9).Draw(t, "count")})
	}
	return p
}

func solved(t require.TestingT, p Problem) Result {
	r, err := Solve(context.Background(), p, Options{Seed: 3, Steps: 10_000_000})
	require.NoError(t, err)
	require.NoError(t, Check(p, r.Bins))
	require.LessOrEqual(t, r.Bound, r.Count)
	return r
}

func TestSameSeedSameBins(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		assert.Equal(t, solved(t, p), solved(t, p))
	})
}

// TestUnitsAndOrderChangeNothing: sizes and capacity in another unit, or the
// pieces in another order, are the same problem.
func TestUnitsAndOrderChangeNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		r := solved(t, p)
		other := Problem{Capacity: p.Capacity * 1000}
		for _, c := range rapid.Permutation(p.Pieces).Draw(t, "order") {
			other.Pieces = append(other.Pieces, Piece{c.Size * 1000, c.Count})
		}
		o := solved(t, other)
		assert.Equal(t, [2]int64{r.Count, r.Bound}, [2]int64{o.Count, o.Bound})
	})
}

// TestMorePiecesNeedNoFewerBins compares with bounds, which hold whatever the
// search has found.
func TestMorePiecesNeedNoFewerBins(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		r := solved(t, p)
		more := Problem{Capacity: p.Capacity, Pieces: append([]Piece{{rapid.Int64Range(1, p.Capacity).Draw(t, "more"), 1}}, p.Pieces...)}
		o := solved(t, more)
		assert.GreaterOrEqual(t, o.Count, r.Bound)
		assert.LessOrEqual(t, o.Bound, r.Count+1)
		if r.Proved() && o.Proved() {
			assert.GreaterOrEqual(t, o.Count, r.Count)
		}
	})
}

func TestNoProblem(t *testing.T) {
	t.Parallel()
	many := make([]Piece, MostSizes+1)
	for i := range many {
		many[i] = Piece{int64(i + 1), 1}
	}
	for _, c := range []struct {
		name, says string
		p          Problem
	}{
		{"no capacity", "capacity must be 1 to", Of(0, 1)},
		{"capacity below zero", "got -5", Of(-5)},
		{"capacity beyond all", "capacity must be", Of(math.MaxInt64, 1)},
		{"size zero", "piece 2 has size 0", Of(10, 4, 0)},
		{"size below zero", "size -3", Of(10, -3)},
		{"too large", "piece 3 of size 11 fits no bin of capacity 10", Of(10, 4, 4, 11)},
		{"count below zero", "count -1", Problem{10, []Piece{{3, -1}}}},
		{"too many", "more than 1000000000 pieces", Problem{10, []Piece{{3, 900_000_000}, {4, 100_000_001}}}},
		{"too many by far", "more than 1000000000 pieces", Problem{10, []Piece{{3, math.MaxInt64}, {4, math.MaxInt64}}}},
		{"too many sizes", "more than 20000 different sizes", Problem{1 << 30, many}},
	} {
		_, err := Solve(t.Context(), c.p, Options{})
		require.ErrorIs(t, err, ErrProblem, c.name)
		require.ErrorContains(t, err, c.says, c.name)
		_, err = LowerBound(c.p)
		require.ErrorIs(t, err, ErrProblem, c.name)
	}
}

func TestEdges(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		p     Problem
		count int64
	}{
		{"nothing", Of(10), 0},
		{"none of something", Problem{10, []Piece{{3, 0}}}, 0},
		{"one", Of(10, 10), 1},
		{"all alike", Problem{10, []Piece{{3, 10}}}, 4},
		{"a thousand million", Problem{7, []Piece{{2, 300_000_000}, {3, 700_000_000}}}, 425_000_000},
		{"largest numbers", Problem{MostCapacity, []Piece{{MostCapacity, 400_000_000}, {1, 600_000_000}}}, 400_000_001},
		{"halves", Problem{MostCapacity, []Piece{{MostCapacity / 2, 999_999_999}}}, 500_000_000},
		{"one size twice in the list", Problem{10, []Piece{{5, 3}, {2, 1}, {5, 2}}}, 3},
	} {
		r := solved(t, c.p)
		assert.Equal(t, c.count, r.Count, c.name)
		assert.True(t, r.Proved(), c.name)
		assert.Equal(t, search.Proved, r.Stopped, c.name)
	}
}

func TestCancelledSearchKeepsAPacking(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	p := triplets(120)(search.Stream(5, "cancel"))
	r, err := Solve(ctx, p, Options{Seed: 1})
	require.NoError(t, err)
	require.NoError(t, Check(p, r.Bins))
	assert.Equal(t, search.Cancelled, r.Stopped)
}

func TestLimitIsKept(t *testing.T) {
	t.Parallel()
	p := triplets(501)(search.Stream(5, "limit"))
	r := solved(t, p)
	assert.Equal(t, search.Limit, r.Stopped)
	assert.Less(t, r.Steps, int64(40_000_000))
}

func TestCheckFindsWhatIsWrong(t *testing.T) {
	t.Parallel()
	p := Problem{10, []Piece{{6, 1}, {4, 2}}}
	for _, c := range []struct {
		name, says string
		bins       []Bin
	}{
		{"too full", "filled to 14 of 10", []Bin{{1, []Part{{0, 1}, {1, 2}}}}},
		{"one missing", "1 of 2 pieces number 2", []Bin{{1, []Part{{0, 1}, {1, 1}}}}},
		{"one too often", "3 of 2 pieces number 2", []Bin{{1, []Part{{0, 1}}}, {3, []Part{{1, 1}}}}},
		{"no such piece", "bin 1 holds 1 of piece 3", []Bin{{1, []Part{{2, 1}}}}},
		{"less than nothing", "bin 1 holds -1", []Bin{{1, []Part{{1, -1}}}}},
	} {
		require.ErrorContains(t, Check(p, c.bins), c.says, c.name)
	}
	require.NoError(t, Check(p, []Bin{{1, []Part{{0, 1}, {1, 1}}}, {1, []Part{{1, 1}}}}))
}
