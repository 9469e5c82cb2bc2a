package demand

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// permutations calls use with every order of list.
func permutations(list []float64, use func([]float64)) {
	var step func(int)
	step = func(k int) {
		if k == len(list) {
			use(list)
			return
		}
		for i := k; i < len(list); i++ {
			list[k], list[i] = list[i], list[k]
			step(k + 1)
			list[k], list[i] = list[i], list[k]
		}
	}
	step(0)
}

// TestKendallOverAllOrders: over all orders of the same days S has mean 0 and the
// variance of the formula, ties included (Kendall, Rank Correlation Methods, ch. 4
// and 5; recomputed by enumeration).
func TestKendallOverAllOrders(t *testing.T) {
	t.Parallel()
	for _, use := range [][]float64{{1, 2}, {1, 2, 3, 4}, {1, 2, 3, 4, 5, 6, 7}, {1, 1, 2, 3}, {1, 1, 2, 2, 2, 3, 4}, {5, 5, 5, 5, 9, 9}, {0, 0, 0}} {
		n, sum, squares := 0, 0.0, 0.0
		permutations(use, func(order []float64) {
			s := float64(kendall(order))
			n, sum, squares = n+1, sum+s, squares+s*s
		})
		assert.Equal(t, 0.0, sum, "%v", use)
		assert.InDelta(t, squares/float64(n), variance(use), 1e-9, "%v", use)
	}
}

// orders returns how many of the n! orders of n different days have each number
// of falling pairs, 0 to n(n−1)/2.
func orders(n int) []float64 {
	count := []float64{1}
	for k := 2; k <= n; k++ {
		next := make([]float64, len(count)+k-1)
		for i, c := range count {
			for j := range k {
				next[i+j] += c
			}
		}
		count = next
	}
	return count
}

// TestPublishedKendall: one-sided chances of S or more in random order, to three
// digits (Kendall, Rank Correlation Methods, appendix table 1; from memory,
// recomputed by counting orders), and the normal approximation beside them.
func TestPublishedKendall(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		n     int
		s     int64
		exact float64
		off   float64
	}{{4, 6, 0.042, 0.004}, {5, 8, 0.042, 0.002}, {8, 16, 0.031, 0.0015}, {9, 18, 0.038, 0.001}, {10, 21, 0.036, 0.001}, {10, 23, 0.023, 0.0015}} {
		count, pairs := orders(c.n), c.n*(c.n-1)/2
		all, tail := 0.0, 0.0
		for falls, k := range count {
			all += k
			if int64(pairs-2*falls) >= c.s {
				tail += k
			}
		}
		assert.InDelta(t, c.exact, tail/all, 0.0005, "n %d, S %d", c.n, c.s)
		use := make([]float64, c.n)
		for i := range use {
			use[i] = float64(i)
		}
		assert.InDelta(t, tail/all, chance(c.s, use)/2, c.off, "n %d, S %d", c.n, c.s)
		assert.InDelta(t, chance(c.s, use), chance(-c.s, use), 0, "both sides alike")
	}
}

// TestPublishedSlope: at 1, 2, 3, 4, 10, 12, 18 the values 9, 15, 19, 20, 45, 55,
// 78 have the median slope 4 (Sen, J. of the American Statistical Association 63,
// 1968, 1379-1389, example; from memory, recomputed).
func TestPublishedSlope(t *testing.T) {
	t.Parallel()
	assert.Equal(t, 4.0, slope([]float64{1, 2, 3, 4, 10, 12, 18}, []float64{9, 15, 19, 20, 45, 55, 78}))
	assert.Equal(t, 0.0, slope([]float64{1}, []float64{9}))
	assert.InDelta(t, 11.0/6, slope([]float64{0, 1, 2, 3}, []float64{0, 1, 3, 5}), 1e-15, "of 1, 1.5, 5/3, 2, 2, 2: between 5/3 and 2")
}

func TestMedian(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.Float64Range(-3, 3), 1, 60).Draw(t, "list")
		for i := range list {
			list[i] = math.Round(2*list[i]) / 2
		}
		sorted := slices.Sorted(slices.Values(list))
		want := (sorted[(len(list)-1)/2] + sorted[len(list)/2]) / 2
		require.Equal(t, want, median(list))
	})
}

// historyOf is a plant with days of product A, one a calendar day.
func historyOf(use func(day int) float64, n int) *plant.Plant {
	p := &plant.Plant{Products: []plant.Product{{Product: "A"}}, Settings: plant.DefaultSettings()}
	for d := range n {
		p.History = append(p.History, plant.History{Product: "A", Date: time.Date(2024, 1, 1+d, 0, 0, 0, 0, time.UTC), Units: units.Float(use(d))})
	}
	return p
}

func TestTrendsAreTold(t *testing.T) {
	t.Parallel()
	zigzag := func(d int) float64 { return 10 * float64(d%2) }
	cases := []struct {
		name string
		use  func(int) float64
		days int
		want string
	}{
		{"a rise of 0.4 a day on about 118", func(d int) float64 { return 100 + 0.4*float64(d) + zigzag(d) }, 60, "rises by 12.2 units a day each month, around a mean of 116.8"},
		{"the same falling", func(d int) float64 { return 140 - 0.4*float64(d) + zigzag(d) }, 60, "falls by 12.2 units a day each month, around a mean of 133.2"},
		{"level", func(d int) float64 { return 100 + zigzag(d) }, 60, ""},
		{"all the same", func(int) float64 { return 7 }, 60, ""},
		{"all 0", func(int) float64 { return 0 }, 60, ""},
		{"clear but small: 9 % over the span", func(d int) float64 { return 100 + 9*float64(d)/59 }, 60, ""},
		{"clear and large", func(d int) float64 { return 100 + 12*float64(d)/59 }, 60, "rises by 6.19"},
		{"too few days", func(d int) float64 { return float64(d) }, 9, ""},
		{"ten days", func(d int) float64 { return float64(d) }, 10, "rises by 30.4"},
		{"a rise that ended before the latest 500 days", func(d int) float64 { return math.Min(float64(d), 700) }, 1200, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := historyOf(c.use, c.days)
			_, findings := Loops(plant.NewIndex(p), p.Settings)
			if c.want == "" {
				assert.Empty(t, findings)
				return
			}
			require.Len(t, findings, 1)
			assert.Equal(t, CodeHistoryTrend, findings[0].Code)
			assert.Equal(t, finding.Note, findings[0].Severity)
			assert.Contains(t, findings[0].Summary, c.want)
			assert.Greater(t, findings[0].Measure.Value, findings[0].Measure.Limit)
		})
	}
}

// TestTrendByTheCalendar: slopes are by date, whether days are missing or not.
func TestTrendByTheCalendar(t *testing.T) {
	t.Parallel()
	p := historyOf(func(d int) float64 { return float64(3 * d) }, 30)
	p.History = slices.DeleteFunc(p.History, func(h plant.History) bool {
		return h.Date.Weekday() == time.Saturday || h.Date.Weekday() == time.Sunday
	})
	trend := Summaries(plant.NewIndex(p))[0].Trend
	assert.Equal(t, 3.0, trend.PerDay)
	assert.Equal(t, 29, trend.Span)
	assert.Equal(t, 22, trend.Days)
	assert.Equal(t, int64(22*21/2), trend.S)
}

// TestTrendOfAPart is told as one of pieces.
func TestTrendOfAPart(t *testing.T) {
	t.Parallel()
	p := historyOf(func(d int) float64 { return float64(100 + d) }, 30)
	p.Parts = []plant.Part{{Part: "P"}}
	for i := range p.History {
		p.History[i].Product, p.History[i].Part = "", "P"
	}
	_, findings := Loops(plant.NewIndex(p), p.Settings)
	require.Len(t, findings, 1)
	assert.Contains(t, findings[0].Summary, "The history of part P rises by 30.4 pieces a day each month")
}
