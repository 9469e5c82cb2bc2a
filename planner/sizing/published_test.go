package sizing_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
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

// TestPublishedMaximumInventory: the most that lies in a loop is its cards
// times the standard pack (Krajewski, Ritzman, Malhotra, Operations Management,
// lean chapter; the first two seen in a copy, the third from memory).
func TestPublishedMaximumInventory(t *testing.T) {
	t.Parallel()
	cases := []struct {
		source                string
		demand, lead, safety  string
		pack, cards, together int64
	}{
		{"Westerville Auto Parts", "2000", "0.10", "0.10", 22, 10, 220},
		{"the same with a wait of 0.06 days, 20 % less", "2000", "0.08", "0.10", 22, 8, 176},
		{"solved problem, k 20 given, α 0.80 found", "3000", "1.0", "0.80", 270, 20, 5400},
	}
	for _, c := range cases {
		covered := units.MustRatio(c.demand).Mul(units.MustRatio(c.lead)).Mul(units.Int(1).Add(units.MustRatio(c.safety)))
		cards := int64(sizing.Cards(covered, c.pack))
		assert.Equal(t, c.cards, cards, c.source)
		assert.Equal(t, c.together, cards*c.pack, c.source)
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

// TestPublishedLoss checks the normal loss function L(z): printed values of a
// table in steps of 0.04 (seen, three and four places) and the columns
// recomputed from the formula, to their five and six places.
func TestPublishedLoss(t *testing.T) {
	t.Parallel()
	printed := []struct{ z, below, loss float64 }{
		{-1.00, .1587, 1.083}, {-2.00, .0228, 2.008}, {0, .5000, .399}, {-0.52, .3015, .712}, {-1.28, .1003, 1.327}, {-3.00, .0013, 3.000},
	}
	for _, c := range printed {
		assert.InDelta(t, c.loss, sizing.NormalLoss(c.z), 5.01e-4, "L(%g), seen", c.z)
		assert.InDelta(t, c.z, sizing.NormalQuantile(c.below), 0.02, "F(%g), seen", c.z)
	}
	services := []struct{ service, z, loss float64 }{
		{.80, 0.84162, .11164}, {.90, 1.28155, .04734}, {.95, 1.64485, .02089}, {.975, 1.95996, .00945},
		{.98, 2.05375, .00734}, {.99, 2.32635, .00339}, {.995, 2.57583, .00158}, {.999, 3.09023, .00028},
	}
	for _, c := range services {
		assert.InDelta(t, c.z, sizing.NormalQuantile(c.service), 5.01e-6, "service %g, recomputed", c.service)
		assert.InDelta(t, c.loss, sizing.NormalLoss(c.z), 5.01e-6, "L(%g), recomputed", c.z)
	}
	deviates := []struct{ z, below, loss float64 }{
		{0, .500000, .398942}, {0.5, .691462, .197797}, {1.0, .841345, .083315}, {1.28, .899727, .047499},
		{1.5, .933193, .029307}, {1.645, .950015, .020886}, {2.0, .977250, .008491}, {2.33, .990097, .003352},
	}
	for _, c := range deviates {
		assert.InDelta(t, c.z, sizing.NormalQuantile(c.below), 2e-5, "Φ(%g), recomputed", c.z)
		assert.InDelta(t, c.loss, sizing.NormalLoss(c.z), 5.01e-7, "L(%g), recomputed", c.z)
	}
}

// orderUpTo is a loop of normal use, in units of one minute.
func orderUpTo(rate, variance string, interval, response time.Duration, level float64) demand.Loop {
	return demand.Loop{
		Pack: 1, Rate: units.MustRatio(rate), Variance: units.MustRatio(variance), Day: units.Int(480),
		Interval: interval * time.Minute, Response: response * time.Minute, Model: plant.NormalModel, ServiceLevel: units.Float(level),
	}
}

// phi is Φ(z).
func phi(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// TestPublishedOrderUpTo: levels d·(R + L) + z·σ·√(R + L), the book's unit of
// time as our minute. z is the book's two-place value.
func TestPublishedOrderUpTo(t *testing.T) {
	t.Parallel()
	cases := []struct {
		source string
		loop   demand.Loop
		onHand float64
		want   float64
	}{
		{"Krajewski, Ritzman, Malhotra, Operations Management, bird feeder, P system: 18 a week, σ 5, L 2, P 4, z 1.28 (from memory, recomputed 123.7)",
			orderUpTo("18", "25", 4, 2, phi(1.28)), 0, 124},
		{"Chase, Jacobs, Aquilano, Operations Management, fixed time period: 10 a day, σ 3, T 30, L 14, 150 on hand, z 2.05 (from memory, recomputed 330.8)",
			orderUpTo("10", "9", 30, 14, phi(2.05)), 150, 331},
		{"Heizer, Render, Operations Management, inventory chapter, eq. 12-16, p. 543 of that edition: 60 a week, lead time 6 weeks, σ of it 2 weeks, z 1.28, reorder point 513.6 (seen in a copy); σ 120 of the use over 6 weeks is 2400 a week",
			orderUpTo("60", "2400", 0, 6, phi(1.28)), 0, 514},
		{"Nahmias, Production and Operations Analysis, newsstand: mean 11.73, σ 4.74, ratio 0.77, z 0.74 (mean and σ seen, rest from memory and recomputed)",
			orderUpTo("11.73", "22.4676", 0, 1, phi(0.74)), 0, 15},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, math.Round(sizing.Covered(c.loop).Float64()-c.onHand), c.source)
	}
	ratio := orderUpTo("11.73", "22.4676", 0, 1, .77)
	assert.InDelta(t, 15.24, sizing.Covered(ratio).Float64(), 0.01, "Nahmias, by the ratio itself")
}

// TestPublishedBaseStock: the refrigerators of Hopp, Spearman, Factory Physics,
// § 2.4.2, Poisson with mean 10. The base-stock level is the smallest r with
// G(r) >= 0.9 and one more; with unit demand the fill rate at that level is
// G(r), not the G(r+1) that a continuous demand would have; backorders are Σ (x −
// r − 1)⁺ (r and G seen; cost level and backorders recomputed).
func TestPublishedBaseStock(t *testing.T) {
	t.Parallel()
	assert.EqualValues(t, 15, sizing.PoissonQuantile(0.90, 10)+1)
	assert.EqualValues(t, 11, sizing.PoissonQuantile(25.0/(15+25), 10))
	l := demand.Loop{Pack: 1, Rate: units.Int(10), Interval: time.Minute, Model: plant.PoissonModel, Measure: plant.ServiceFillRate, Day: units.Int(480)}
	backorders := func(r int64) float64 { return sizing.ExpectedShort(l, units.Int(r+1)) }
	assert.InDelta(t, .186937, backorders(13), 5e-7)
	assert.InDelta(t, .103479, backorders(14), 5e-7)

	// Unit demand of rate 10 finds a piece at level r + 1 when at most r were
	// used in the lead time before it.
	found := 0.0
	for x := range int64(15) {
		found += sizing.PoissonCDF(x, 10) - sizing.PoissonCDF(x-1, 10)
	}
	assert.InDelta(t, .916542, found, 5e-7, "G(14): the fill rate at level 15")
	assert.Greater(t, sizing.PoissonCDF(15, 10)-found, .03, "G(15) would promise .951")
	// The pieces short grow with use at the same rate: d(backorders)/d(mean) is
	// the share of pieces that wait, 1 - G(r).
	const h = 1e-5
	more, less := l, l
	more.Rate, less.Rate = units.Float(10+h), units.Float(10-h)
	slope := (sizing.ExpectedShort(more, units.Int(15)) - sizing.ExpectedShort(less, units.Int(15))) / (2 * h)
	assert.InDelta(t, 1-.916542, slope, 1e-6, "the share of pieces that wait at level 15 is 1 - G(14)")
}
