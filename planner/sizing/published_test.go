package sizing_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// TestPublishedKanbanCounts checks the textbook number of kanban,
// k = ⌈D·L·(1 + α)/C⌉, against worked examples. The mark behind each source
// says how the figures were obtained.
func TestPublishedKanbanCounts(t *testing.T) {
	t.Parallel()
	cases := []struct {
		source                      string
		demand, lead, safety, store string
		want                        int
	}{
		{"Krajewski, Ritzman, Malhotra, Operations Management, lean chapter, Westerville Auto Parts: D 2000/day, w 0.08, p 0.02, α 0.10, c 22 (seen in a copy); float64 rounds it up to 11",
			"2000", "0.10", "0.10", "22", 10},
		{"the same with w 0.06 (seen in a copy)", "2000", "0.08", "0.10", "22", 8},
		{"Krajewski, solved problem: D 3000/day, w 0.8, p 0.2, c 270, α 0 (inputs seen, answer from memory)", "3000", "1.0", "0", "270", 12},
		{"Krajewski, the same with α 0.80 gives 20 containers (inputs seen, answer from memory)", "3000", "1.0", "0.80", "270", 20},
		{"Heizer, Render, Operations Management, lean chapter, Hobbs Bakery: 500 cakes/day, 2 days and half a day of safety (from memory)", "500", "2.5", "0", "250", 5},
		{"Heizer, Render, problem: 3000/day, 4 days and 1 day of safety (inputs seen, answer recomputed)", "3000", "5", "0", "250", 60},
		{"Stevenson, Operations Management, lean chapter: D 300/day, T 0.12, X 0.20, C 25 (from memory)", "300", "0.12", "0.20", "25", 2},
		{"Stevenson, problem: D 100/h, T 105 min, X 0.20, C 72 (inputs seen, answer recomputed)", "100", "7/4", "0.20", "72", 3},
		{"Chase, Jacobs, Aquilano, muffler and catalytic converter sets: 8/h, 4 h, 0.10, 10 (inputs seen, answer from memory)", "8", "4", "0.10", "10", 4},
		{"Jacobs, Chase, Operations and Supply Chain Management, 14th ed., p. 369, question 14-10: 10/h, 2 h, 0.20, 5 (seen)", "10", "2", "0.20", "5", 5},
		{"Russell, Taylor, Operations Management: 150/h, 30 min, 10 %, 25 gives 3.3, rounded up (seen in a copy)", "150", "1/2", "0.10", "25", 4},
		{"2400 per 2 h, 40 min, 10 %, 120: 7.33 before rounding (recomputed)", "1200", "2/3", "0.10", "120", 8},
	}
	for _, c := range cases {
		one := units.Int(1)
		covered := units.MustRatio(c.demand).Mul(units.MustRatio(c.lead)).Mul(one.Add(units.MustRatio(c.safety)))
		pack := units.MustRatio(c.store).Floor()
		assert.Equal(t, c.want, sizing.Cards(covered, pack), c.source)
	}
}

// TestPublishedPoisson checks the cumulative Poisson distribution with mean 10
// (Hopp, Spearman, Factory Physics, § 2.4.2, refrigerator example; six-place
// values seen) and that 14 is the smallest level that reaches 90 %.
func TestPublishedPoisson(t *testing.T) {
	t.Parallel()
	want := []float64{
		.029253, .067086, .130141, .220221, .332820, .457930, .583040,
		.696776, .791556, .864464, .916542, .951260, .972958, .985722,
	}
	for i, p := range want {
		assert.InDelta(t, p, sizing.PoissonCDF(int64(i+4), 10), 5e-7, "P(X <= %d)", i+4)
	}
	assert.InDelta(t, .916541527065, sizing.PoissonCDF(14, 10), 5e-13)
	assert.EqualValues(t, 14, sizing.PoissonQuantile(0.90, 10))
	assert.EqualValues(t, 11, sizing.PoissonQuantile(0.625, 10), "cost ratio 25/(15+25); ratio seen, level recomputed")
}

// TestPoissonQuantiles is a table recomputed with exact sums: the smallest k
// with P(X <= k) >= p.
func TestPoissonQuantiles(t *testing.T) {
	t.Parallel()
	levels := []float64{.90, .95, .975, .99, .999}
	table := map[float64][]int64{
		1: {2, 3, 3, 4, 5}, 2: {4, 5, 5, 6, 8}, 3: {5, 6, 7, 8, 10},
		5: {8, 9, 10, 11, 13}, 10: {14, 15, 17, 18, 21}, 20: {26, 28, 29, 31, 35},
	}
	for mean, row := range table {
		for i, p := range levels {
			assert.Equal(t, row[i], sizing.PoissonQuantile(p, mean), "mean %g, p %g", mean, p)
		}
	}
	for mean, want := range map[float64][2]int64{4: {8, 9}, 6: {10, 12}, 8: {13, 15}, 12: {18, 21}} {
		assert.Equal(t, want[0], sizing.PoissonQuantile(.95, mean), "two intervals, mean %g", mean)
		assert.Equal(t, want[1], sizing.PoissonQuantile(.99, mean), "two intervals, mean %g", mean)
	}
}

// TestPublishedNormal checks quantiles of the standard normal distribution
// against the usual five-place table (recomputed; the same figures stand in
// every statistics handbook).
func TestPublishedNormal(t *testing.T) {
	t.Parallel()
	for p, z := range map[float64]float64{
		.80: 0.84162, .90: 1.28155, .95: 1.64485, .975: 1.95996, .98: 2.05375,
		.99: 2.32635, .995: 2.57583, .999: 3.09023, .5: 0,
	} {
		assert.InDelta(t, z, sizing.NormalQuantile(p), 5e-6, "p %g", p)
	}
}
