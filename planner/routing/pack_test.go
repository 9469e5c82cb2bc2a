package routing

import (
	"slices"
	"testing"
	"time"

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

func TestCrews(t *testing.T) {
	t.Parallel()
	m := func(minutes ...float64) []time.Duration {
		var list []time.Duration
		for _, x := range minutes {
			list = append(list, time.Duration(x*float64(time.Minute)))
		}
		return list
	}
	for _, c := range []struct {
		name   string
		rounds []time.Duration
		want   [][]int
	}{
		{"both in one interval", m(20, 30), [][]int{{0, 1}}},
		{"too busy together", m(20, 31.5), [][]int{{1}, {0}}},
		{"six rounds in slots of 10 and 6 min", m(9.05, 9.05, 9.05, 9.05, 5.05, 5.05), [][]int{{0, 1, 2, 3, 4, 5}}},
		{"ten rounds of 5.05 min, each in a slot of 6", m(5.05, 5.05, 5.05, 5.05, 5.05, 5.05, 5.05, 5.05, 5.05, 5.05), [][]int{{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}}},
		{"eleven of 4.1 min are 45.1 min, and 55 in slots", m(4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1), [][]int{numbers(11)}},
		{"thirteen are 53.3 min: too busy", m(4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1, 4.1), [][]int{numbers(12), {12}}},
		{"20 of 1.1 min and one of 20.5 are 42.5 min, and 61 in slots", append(m(20.5), m(thirtyOne()...)[:20]...), [][]int{numbers(20), {20}}},
		{"31 of 1.1 min are 34.1 min, and 62 in slots", m(thirtyOne()...), [][]int{numbers(30), {30}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, crews(c.rounds, time.Hour, 51*time.Minute))
		})
	}
}

func thirtyOne() []float64 {
	list := make([]float64, 31)
	for i := range list {
		list[i] = 1.1
	}
	return list
}
