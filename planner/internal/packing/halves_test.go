package packing

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/internal/patterns"
)

// anyFew draws kinds of which at most four fit a bin, with values.
func anyFew(t *rapid.T) (kinds, []int64) {
	p := Problem{Capacity: int64(rapid.IntRange(20, 200).Draw(t, "room"))}
	for range rapid.IntRange(1, 12).Draw(t, "kinds") {
		size := rapid.Int64Range(p.Capacity/5+1, p.Capacity).Draw(t, "size")
		p.Pieces = append(p.Pieces, Piece{size, rapid.Int64Range(1, 5).Draw(t, "count")})
	}
	k := newKinds(p)
	value := make([]int64, len(k.size))
	for i := range value {
		value[i] = rapid.Int64Range(0, 60).Draw(t, "value")
	}
	return k, value
}

// Halves find what the table finds, in fills that may be packed.
func TestHalvesAreExact(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		k, value := anyFew(t)
		var list []good
		for i, v := range value {
			if most := k.most(i); v > 0 && most > 0 {
				list = append(list, good{i, k.size[i], v, most})
			}
		}
		if len(list) == 0 {
			return
		}
		require.True(t, fewFit(list, k.room))
		above := rapid.Int64Range(0, 120).Draw(t, "above")
		m := patterns.NewMeter(context.Background(), 1<<40)
		uses, best, upper := halfFill(slices.Clone(list), k.room, above, m)
		_, want, _ := tableFill(list, k.room, above, m)
		require.Equal(t, want, best)
		require.Equal(t, best, upper)
		if uses == nil {
			require.Equal(t, above, best)
			return
		}
		load, sum := int64(0), int64(0)
		for _, u := range uses {
			require.LessOrEqual(t, u.N, k.need[u.Kind])
			load, sum = load+u.N*k.size[u.Kind], sum+u.N*value[u.Kind]
		}
		require.LessOrEqual(t, load, k.room)
		require.Equal(t, best, sum)
	})
}

func TestFewFit(t *testing.T) {
	t.Parallel()
	assert.True(t, fewFit([]good{{0, 20, 1, 4}}, 100), "there are four only")
	assert.False(t, fewFit([]good{{0, 20, 1, 5}}, 100))
	assert.True(t, fewFit([]good{{0, 21, 1, 9}}, 100))
}

// Prices of the relaxation take no packing away from the exact search.
func TestPricesKeepEveryPacking(t *testing.T) {
	t.Parallel()
	priced := 0
	rapid.Check(t, func(t *rapid.T) {
		p := Problem{Capacity: int64(rapid.IntRange(20, 80).Draw(t, "room"))}
		for range rapid.IntRange(2, 10).Draw(t, "kinds") {
			p.Pieces = append(p.Pieces, Piece{rapid.Int64Range(3, p.Capacity).Draw(t, "size"), rapid.Int64Range(1, 2).Draw(t, "count")})
		}
		k := newKinds(p)
		m := patterns.NewMeter(context.Background(), 1<<40)
		r := newRelaxation(k, m).solve(k.need, nil, 0)
		for count := sizeBound(k); ; count++ {
			plain, found, certain := packInto(k, count, worth{}, m)
			other, same, sure := packInto(k, count, r.worth, m)
			require.True(t, certain && sure)
			require.Equal(t, found, same, "%d bins", count)
			if r.worth.price != nil {
				priced++
			}
			if found {
				require.LessOrEqual(t, r.bound, count)
				require.Equal(t, plain.count <= count, other.count <= count)
				return
			}
		}
	})
	assert.Positive(t, priced)
}
