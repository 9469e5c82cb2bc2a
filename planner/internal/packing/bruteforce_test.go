package packing

import (
	"context"
	"math/bits"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/internal/patterns"
)

// fewest is the least number of bins for single pieces, by the best way to
// reach every subset of them: full bins first, then the load of the last. It
// shares no code with the search.
func fewest(room int64, sizes []int64) int64 {
	type reach struct{ bins, load int64 }
	best := make([]reach, 1<<len(sizes))
	for set := 1; set < len(best); set++ {
		best[set] = reach{bins: 1 << 30}
		for left := set; left > 0; left &= left - 1 {
			i := bits.TrailingZeros(uint(left))
			r := best[set&^(1<<i)]
			if r.bins == 0 || r.load+sizes[i] > room {
				r.bins++
				r.load = 0
			}
			r.load += sizes[i]
			if o := best[set]; r.bins < o.bins || (r.bins == o.bins && r.load < o.load) {
				best[set] = r
			}
		}
	}
	return best[len(best)-1].bins
}

// drawTiny draws a capacity and up to 11 sizes of it.
func drawTiny(t *rapid.T) (room int64, sizes []int64) {
	room = rapid.SampledFrom([]int64{1, 2, 7, 10, 12, 30, 100, 997, 1_000_000_007}).Draw(t, "room")
	low := max(1, room/rapid.Int64Range(2, 20).Draw(t, "parts"))
	sizes = rapid.SliceOfN(rapid.Int64Range(low, room), 0, 11).Draw(t, "sizes")
	if rapid.Bool().Draw(t, "small") {
		for i := range sizes {
			sizes[i] = max(1, sizes[i]/2)
		}
	}
	return room, sizes
}

func TestBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		room, sizes := drawTiny(t)
		best := fewest(room, sizes)
		p := Of(room, sizes...)
		r, err := Solve(context.Background(), p, Options{Seed: 1, Steps: 20_000_000})
		require.NoError(t, err)
		require.NoError(t, Check(p, r.Bins))
		assert.Equal(t, best, r.Count)
		assert.LessOrEqual(t, r.Bound, best, "the bound of the search")
		bound, err := LowerBound(p)
		require.NoError(t, err)
		assert.LessOrEqual(t, bound, best, "the fast bound")
	})
}

func TestBruteForceOfParts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		room, sizes := drawTiny(t)
		best := fewest(room, sizes)
		k := newKinds(Of(room, sizes...))
		m := patterns.NewMeter(context.Background(), 1<<40)
		assert.LessOrEqual(t, dualBound(k), best)
		assert.LessOrEqual(t, newRelaxation(k, m).solve(k.need, nil, reached).bound, best)
		b, found, certain := packInto(k, best, worth{}, m)
		assert.True(t, found && certain, "a packing that exists is found")
		assert.Equal(t, best, b.count)
		if best > 0 {
			_, found, certain = packInto(k, best-1, worth{}, m)
			assert.True(t, certain && !found, "one that does not is ruled out")
		}
		fixed := k.reduce()
		var rest []int64
		for i, n := range k.need {
			rest = append(rest, slices.Repeat([]int64{k.size[i]}, int(n))...)
		}
		assert.Equal(t, best, fixed.count+fewest(k.room, rest), "a reduction loses nothing")
	})
}

// worthMost is the greatest value of a fill, by trying all.
func worthMost(k kinds, value []int64, i int, room int64) int64 {
	if i == len(k.size) {
		return 0
	}
	best := int64(0)
	for n := int64(0); n <= k.need[i] && n*k.size[i] <= room; n++ {
		best = max(best, n*value[i]+worthMost(k, value, i+1, room-n*k.size[i]))
	}
	return best
}

func TestBestFillAgainstAllFills(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		room, sizes := drawTiny(t)
		k := newKinds(Of(room, sizes...))
		value := make([]int64, len(k.size))
		for i := range value {
			value[i] = rapid.Int64Range(0, 50).Draw(t, "value")
		}
		best := worthMost(k, value, 0, k.room)
		m := patterns.NewMeter(context.Background(), 1<<40)
		above := rapid.Int64Range(0, 60).Draw(t, "above")
		nodes := rapid.SampledFrom([]int64{0, 1, 5, 1000}).Draw(t, "nodes")
		for _, cells := range []int64{0, 1 << 20} {
			uses, got, upper := bestFill(k, value, above, effort{nodes, cells}, m)
			assert.GreaterOrEqual(t, upper, best, "no fill exceeds the upper value")
			if nodes == 1000 || (cells > 0 && k.room < 1000) {
				assert.Equal(t, max(best, above), got)
				assert.Equal(t, got, upper)
			}
			load, sum := int64(0), int64(0)
			for _, u := range uses {
				assert.LessOrEqual(t, u.N, k.need[u.Kind])
				load += u.N * k.size[u.Kind]
				sum += u.N * value[u.Kind]
			}
			assert.LessOrEqual(t, load, k.room)
			if uses != nil {
				assert.Equal(t, got, sum)
			}
		}
	})
}
