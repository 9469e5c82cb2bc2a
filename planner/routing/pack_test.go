package routing

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// fewest counts bins by trying every way to part the items.
func fewest(sizes []int, capacity int) int {
	best := len(sizes)
	var bins []int
	var try func(i int)
	try = func(i int) {
		if i == len(sizes) {
			best = min(best, len(bins))
			return
		}
		for b := range bins {
			if bins[b]+sizes[i] <= capacity {
				bins[b] += sizes[i]
				try(i + 1)
				bins[b] -= sizes[i]
			}
		}
		bins = append(bins, sizes[i])
		try(i + 1)
		bins = bins[:len(bins)-1]
	}
	try(0)
	return best
}

func packSizes(sizes []int, capacity, budget int) [][]int {
	return pack(len(sizes), func(bin []int) bool {
		sum := 0
		for _, i := range bin {
			sum += sizes[i]
		}
		return sum <= capacity
	}, 1, budget)
}

func TestPackAgainstAllWays(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		sizes := rapid.SliceOfN(rapid.IntRange(1, 10), 0, 8).Draw(t, "sizes")
		slices.Sort(sizes)
		slices.Reverse(sizes)
		bins := packSizes(sizes, 10, 1_000_000)
		require.Len(t, bins, fewest(sizes, 10))
		require.ElementsMatch(t, numbers(len(sizes)), slices.Concat(bins...))
	})
}

func numbers(n int) []int {
	var list []int
	for i := range n {
		list = append(list, i)
	}
	return list
}

// TestPackBeatsFirstFit is a case in which first fit, largest first, needs
// three bins: 5 + 4, 3 + 3 + 3, 2; and 5 + 3 + 2, 4 + 3 + 3 are two.
func TestPackBeatsFirstFit(t *testing.T) {
	t.Parallel()
	assert.Len(t, packSizes([]int{5, 4, 3, 3, 3, 2}, 10, 0), 3, "no budget beyond first fit")
	assert.Len(t, packSizes([]int{5, 4, 3, 3, 3, 2}, 10, 1000), 2)
	assert.Empty(t, packSizes(nil, 10, 1000))
	assert.Len(t, packSizes([]int{12}, 10, 1000), 1, "an item is in a bin even when it fits none")
}
