package sizing_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// TestHostileLoops: whatever the figures, sizing ends, does not panic and stays
// between 2 containers and the most the planner works with.
func TestHostileLoops(t *testing.T) {
	t.Parallel()
	models := append([]plant.DemandModel{plant.SteadyModel, ""}, varying...)
	number := rapid.OneOf(
		rapid.SampledFrom([]string{"0", "1e-30", "1e-12", "1e-6", "0.001", "1", "1000", "1e6", "1e9", "1e12", "1e18", "1e30"}),
		rapid.Custom(func(t *rapid.T) string {
			return units.R(rapid.Int64Range(0, 1_000_000_000).Draw(t, "n"), rapid.Int64Range(1, 1_000_000).Draw(t, "d")).String()
		}))
	levels := rapid.SampledFrom([]string{"0.000000001", "0.01", "0.3", "0.5", "0.995", "0.999999", "0.999999999", "0.999999999999999999"})
	rapid.Check(t, func(t *rapid.T) {
		l := demand.Loop{
			Pack: rapid.SampledFrom([]int64{1, 2, 100, math.MaxInt64}).Draw(t, "pack"),
			Rate: units.MustRatio(number.Draw(t, "rate")), Variance: units.MustRatio(number.Draw(t, "variance")),
			Interval:     rapid.SampledFrom([]time.Duration{0, 1, time.Minute, time.Hour, 10_000 * time.Hour}).Draw(t, "R"),
			Response:     rapid.SampledFrom([]time.Duration{0, 1, time.Minute, time.Hour, 10_000 * time.Hour}).Draw(t, "L"),
			ServiceLevel: units.MustRatio(levels.Draw(t, "level")), Safety: units.MustRatio(number.Draw(t, "safety")),
			Model: rapid.SampledFrom(models).Draw(t, "model"), Measure: rapid.SampledFrom([]plant.ServiceMeasure{"", plant.ServiceFillRate}).Draw(t, "measure"),
			Day: units.Int(rapid.Int64Range(0, 480).Draw(t, "day")),
		}
		for range rapid.IntRange(0, 5).Draw(t, "days") {
			l.Days = append(l.Days, units.MustRatio(number.Draw(t, "use")))
		}
		got := sized(l)
		require.GreaterOrEqual(t, got.Containers, 2)
		require.LessOrEqual(t, got.Containers, sizing.MostContainers)
		require.GreaterOrEqual(t, got.Covered.Sign(), 0)
		short := sizing.ExpectedShort(l, got.Covered)
		require.GreaterOrEqual(t, short, 0.0) // and not NaN
		require.GreaterOrEqual(t, sizing.OneInterval(got), 2)
		sizing.Marks(got)
		for _, s := range sizing.Steps(got) {
			require.NotEqual(t, got.Rule, s.Containers)
		}
	})
}

// TestGuards: what demand has already put right is put right here too.
func TestGuards(t *testing.T) {
	t.Parallel()
	l := steady("1", 10, 30*time.Minute)
	l.Model = plant.NegativeBinomialModel
	want := l
	want.Model = plant.PoissonModel
	for _, variance := range []string{"0", "0.5", "1"} {
		l.Variance = units.MustRatio(variance)
		for _, measure := range []plant.ServiceMeasure{plant.ServicePerCycle, plant.ServiceFillRate} {
			l.Measure, want.Measure = measure, measure
			assert.True(t, sizing.Covered(want).Equal(sizing.Covered(l)), "a variance of %s is Poisson's at most", variance)
		}
	}
	l.Model, l.Days, l.Measure = plant.EmpiricalModel, nil, plant.ServiceFillRate
	assert.True(t, sizing.Covered(l).IsZero(), "no history")
	assert.Equal(t, 0.0, sizing.ExpectedShort(l, units.Ratio{}))
	assert.EqualValues(t, 0, sizing.NegativeBinomialQuantile(.995, 0, 5))
	assert.EqualValues(t, 0, sizing.NegativeBinomialQuantile(0, 5, 50))
	assert.Equal(t, 1.0, sizing.NegativeBinomialCDF(0, 0, 5))
	assert.Equal(t, 0.0, sizing.NegativeBinomialCDF(-1, 5, 50))
}
