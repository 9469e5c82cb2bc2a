package demand

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/search"
)

func TestLevelled(t *testing.T) {
	t.Parallel()
	cases := []struct {
		counts, want []int
	}{
		{nil, []int{}},
		{[]int{0, -2}, []int{}},
		{[]int{3}, []int{0, 0, 0}},
		{[]int{2, 2}, []int{0, 1, 0, 1}},
		{[]int{2, 1, 1}, []int{0, 1, 2, 0}},
		{[]int{4, 2, 1}, []int{0, 1, 0, 2, 0, 1, 0}},
		{[]int{0, 1, 3}, []int{2, 1, 2, 2}},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, Levelled(c.counts), "%v", c.counts)
	}
}

// tally counts order and returns its largest deviation from the even share after
// any unit, and the sum of all squared ones, both times N and N².
func tally(order, counts []int) (built []int, most, squares int) {
	built = make([]int, len(counts))
	for at, i := range order {
		built[i]++
		for p, n := range counts {
			off := built[p]*len(order) - (at+1)*max(0, n)
			most = max(most, off, -off)
			squares += off * off
		}
	}
	return built, most, squares
}

func someCounts(t *rapid.T) []int {
	return rapid.SliceOfN(rapid.OneOf(rapid.IntRange(-1, 3), rapid.IntRange(0, 40)), 0, 14).Draw(t, "counts")
}

// TestLevelledStaysWithinOneUnit: each product is built so often as asked, and
// after every unit it is less than one unit from its even share, which is always
// possible (Steiner, Yeomans, Management Science 39(6), 1993; from memory).
func TestLevelledStaysWithinOneUnit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		counts := someCounts(t)
		order := Levelled(counts)
		built, most, _ := tally(order, counts)
		for i, n := range counts {
			require.Equal(t, max(0, n), built[i])
		}
		require.True(t, len(order) == 0 || most < len(order), "%d of %d", most, len(order))
		ideal, windows := queue(counts, false), queue(counts, true)
		_, most, _ = tally(ideal, counts)
		require.Equal(t, len(order) > 0 && most >= len(order), strays(counts, ideal))
		_, most, _ = tally(windows, counts)
		require.True(t, len(order) == 0 || most < len(order), "deadlines alone: %d of %d", most, len(order))
	})
}

// TestIdealPlacesAlone stray by ½ + r(k − 2)/2 at most for a product of share r
// among k. One product of ten units beside ten of one strays by 2.5.
func TestIdealPlacesAlone(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		counts := slices.DeleteFunc(someCounts(t), func(n int) bool { return n <= 0 })
		order := queue(counts, false)
		_, most, _ := tally(order, counts)
		limit := 0
		for _, n := range counts {
			limit = max(limit, len(order)+n*(len(counts)-2))
		}
		require.LessOrEqual(t, 2*most, limit)
	})
	counts := []int{10, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}
	_, most, _ := tally(queue(counts, false), counts)
	assert.Equal(t, 50, most, "of 20 units")
	_, most, _ = tally(Levelled(counts), counts)
	assert.Equal(t, 18, most)
}

// best returns the least sum of squared deviations of any order of counts.
func best(counts []int) int {
	all, known := total(counts), map[string]int{}
	built := make([]int, len(counts))
	var from func(at int) int
	from = func(at int) int {
		if at == all {
			return 0
		}
		key := string(runes(built))
		if v, ok := known[key]; ok {
			return v
		}
		least := -1
		for i, n := range counts {
			if built[i] == n {
				continue
			}
			built[i]++
			here := 0
			for p := range counts {
				off := built[p]*all - (at+1)*counts[p]
				here += off * off
			}
			if v := here + from(at+1); least < 0 || v < least {
				least = v
			}
			built[i]--
		}
		known[key] = least
		return least
	}
	return from(0)
}

func runes(list []int) []rune {
	r := make([]rune, len(list))
	for i, n := range list {
		r[i] = rune(n)
	}
	return r
}

// TestLevelledAgainstEveryOrder: over 400 tiny mixes the sum of all squared
// deviations is 2 % above the least of any order, and three in four reach it.
func TestLevelledAgainstEveryOrder(t *testing.T) {
	t.Parallel()
	r := search.Stream(1, "tiny mixes")
	found, least, reached := 0.0, 0.0, 0
	for range 400 {
		counts := make([]int, 2+r.IntN(4))
		for i := range counts {
			counts[i] = 1 + r.IntN(5)
		}
		_, _, squares := tally(Levelled(counts), counts)
		floor := best(counts)
		require.GreaterOrEqual(t, squares, floor, "%v", counts)
		n := float64(total(counts) * total(counts))
		found, least = found+float64(squares)/n, least+float64(floor)/n
		if squares == floor {
			reached++
		}
	}

	assert.Less(t, found/least, 1.03)
	assert.Greater(t, reached, 300)
}

func TestShuffled(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		counts, seed := someCounts(t), rapid.Uint64().Draw(t, "seed")
		order := Shuffled(counts, search.Stream(seed, "day 1"))
		built, _, _ := tally(order, counts)
		for i, n := range counts {
			require.Equal(t, max(0, n), built[i])
		}
		require.Equal(t, order, Shuffled(counts, search.Stream(seed, "day 1")))
	})
}

// TestEveryOrderIsAsLikely: of 6,000 draws of 2 and 2 units each of the six orders
// comes 1,000 times, give or take; χ² with 5 degrees of freedom is above 20.5 once
// in a thousand (Abramowitz, Stegun, table 26.8; from memory).
func TestEveryOrderIsAsLikely(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 7))
	seen := map[string]int{}
	for range 6000 {
		seen[string(runes(Shuffled([]int{2, 2}, r)))]++
	}
	assert.Len(t, seen, 6)
	chi := 0.0
	for _, n := range seen {
		chi += float64(n-1000) * float64(n-1000) / 1000
	}
	assert.Less(t, chi, 20.5)
}

// BenchmarkLevelled orders 100,000 units of 500 products.
func BenchmarkLevelled(b *testing.B) {
	r := search.Stream(1, "bench")
	counts := make([]int, 500)
	for i := range counts {
		counts[i] = r.IntN(400)
	}
	for b.Loop() {
		Levelled(counts)
	}
}
