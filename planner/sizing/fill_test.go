package sizing_test

import (
	"math"
	"slices"
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

var varying = []plant.DemandModel{plant.NormalModel, plant.PoissonModel, plant.NegativeBinomialModel, plant.EmpiricalModel}

// drawLoop draws a loop of one of the models that no sheet would call odd.
func drawLoop(t *rapid.T, models []plant.DemandModel) demand.Loop {
	rate := units.R(rapid.Int64Range(1, 30_000).Draw(t, "rate"), 480)
	days := make([]units.Ratio, rapid.IntRange(20, 40).Draw(t, "days"))
	for i := range days {
		days[i] = units.R(rapid.Int64Range(0, 3000).Draw(t, "day"), 2)
	}
	l := demand.Loop{
		Pack: rapid.Int64Range(1, 60).Draw(t, "pack"), Rate: rate,
		Variance:     rate.Mul(units.R(rapid.Int64Range(0, 400).Draw(t, "variance"), 20)),
		Interval:     time.Duration(rapid.IntRange(5, 240).Draw(t, "R")) * time.Minute,
		Response:     time.Duration(rapid.IntRange(0, 600).Draw(t, "L")) * time.Minute,
		ServiceLevel: units.R(rapid.Int64Range(500, 9999).Draw(t, "level"), 10_000),
		Safety:       units.R(rapid.Int64Range(0, 40).Draw(t, "safety"), 100),
		Model:        rapid.SampledFrom(models).Draw(t, "model"),
		Measure:      rapid.SampledFrom([]plant.ServiceMeasure{"", plant.ServicePerCycle, plant.ServiceFillRate}).Draw(t, "measure"),
		Days:         days, Day: units.Int(480),
	}
	if rapid.Bool().Draw(t, "exchange") {
		l.Response = l.Interval
	}
	return l
}

// slowShort is the mean of (x − d)⁺ piece by piece.
func slowShort(l demand.Loop, d float64) float64 {
	mean, variance := l.Rate.Mul(l.Window()).Float64(), l.Variance.Mul(l.Window()).Float64()
	sd := math.Sqrt(max(mean, variance))
	at := func(x int64) float64 { return sizing.PoissonCDF(x, mean) }
	switch l.Model {
	case plant.NormalModel:
		// by the middles of narrow strips
		const parts = 200_000
		sum, width := 0.0, 30*math.Sqrt(variance)/parts
		for i := range parts {
			x := d + (float64(i)+0.5)*width
			sum += phi((mean-x)/math.Sqrt(variance)) * width
		}
		return sum
	case plant.NegativeBinomialModel:
		at = func(x int64) float64 { return sizing.NegativeBinomialCDF(x, mean, variance) }
	}
	sum := 0.0
	for x := int64(d); float64(x) < mean+60*sd+100; x++ {
		sum += 1 - at(x) // E(X - d)⁺ = Σ P(X > x) over x >= d
	}
	return sum
}

func TestExpectedShortPieceByPiece(t *testing.T) {
	t.Parallel()
	base := steady("1", 10, 30*time.Minute) // mean use 60
	base.Variance = units.R(5, 2)
	for _, model := range []plant.DemandModel{plant.NormalModel, plant.PoissonModel, plant.NegativeBinomialModel} {
		for _, d := range []int64{0, 20, 55, 60, 75, 90, 120} {
			l := base
			l.Model = model
			assert.InDelta(t, slowShort(l, float64(d)), sizing.ExpectedShort(l, units.Int(d)), 1e-7, "%s %d", model, d)
		}
		l := base
		l.Model = model
		between := sizing.ExpectedShort(l, units.R(141, 2))
		assert.InDelta(t, (sizing.ExpectedShort(l, units.Int(70))+sizing.ExpectedShort(l, units.Int(71)))/2, between, 0.01, "%s between", model)
	}
	still := base
	still.Model = plant.SteadyModel
	assert.Equal(t, 15.0, sizing.ExpectedShort(still, units.Int(45)))
	assert.Equal(t, 0.0, sizing.ExpectedShort(still, units.Int(61)))
	still.Model, still.Variance = plant.NormalModel, units.Ratio{}
	assert.Equal(t, 15.0, sizing.ExpectedShort(still, units.Int(45)))
	past := base
	past.Model, past.Days = plant.EmpiricalModel, []units.Ratio{units.Int(80), units.Int(160), units.Int(240)}
	// R + L is an eighth of the day: windows of 10, 20 and 30 pieces.
	assert.InDelta(t, (5+15)/3.0, sizing.ExpectedShort(past, units.Int(15)), 1e-12)
}

// TestFillRateIsSmallest: the pieces short at D are no more than (1 − β)·λ·R,
// at less than D they are more.
func TestFillRateIsSmallest(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoop(t, varying)
		l.Measure = plant.ServiceFillRate
		allowed := units.Int(1).Sub(l.ServiceLevel).Mul(l.Rate).Mul(units.Minutes(l.Interval)).Float64()
		d := sizing.Covered(l)
		require.LessOrEqual(t, sizing.ExpectedShort(l, d), allowed*(1+1e-9)+1e-12)
		if less := d.Sub(units.Int(1)); less.Sign() >= 0 {
			require.Greater(t, sizing.ExpectedShort(l, less), allowed*(1-1e-9))
		}
		if l.Model == plant.EmpiricalModel && d.Sign() > 0 {
			require.InDelta(t, allowed, sizing.ExpectedShort(l, d), 1e-9*(1+allowed), "exactly")
		}
	})
}

// TestFillRateByHand: mean 60 over R + L, σ 10, 30 pieces an interval and β
// 0.99 leave 0.3 short, L(z) = 0.03, z = 1.489 (table recomputed: L(1.5) is
// .0293), so D is 74.9.
func TestFillRateByHand(t *testing.T) {
	t.Parallel()
	l := steady("1", 10, 30*time.Minute)
	l.Model, l.Measure, l.Variance, l.ServiceLevel = plant.NormalModel, plant.ServiceFillRate, units.R(100, 60), units.R(99, 100)
	got := sizing.Covered(l)
	assert.InDelta(t, 74.9, got.Float64(), 0.1)
	assert.InDelta(t, .3, 10*sizing.NormalLoss((got.Float64()-60)/10), 1e-13, "to full precision")
	assert.Equal(t, 9, sized(l).Containers)
	l.ServiceLevel = units.R(1, 100)
	assert.InDelta(t, 29.7, sizing.ExpectedShort(l, sizing.Covered(l)), 1e-9, "a low promise covers less than the mean")
	l.Model = plant.SteadyModel
	assert.True(t, sizing.Covered(l).Equal(units.Int(60)), "steady loops cover their use whatever the measure")
	l.Model, l.Rate = plant.PoissonModel, units.Ratio{}
	assert.True(t, sizing.Covered(l).IsZero(), "no use is never short")
}

// TestEmpiricalQuantileOfSortedWindows compares with sorting all windows, each
// added up by itself.
func TestEmpiricalQuantileOfSortedWindows(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		days := make([]units.Ratio, rapid.IntRange(1, 30).Draw(t, "days"))
		for i := range days {
			days[i] = units.R(rapid.Int64Range(0, 40).Draw(t, "use"), rapid.Int64Range(1, 3).Draw(t, "parts"))
		}
		minutes := rapid.Int64Range(1, 480*int64(len(days))).Draw(t, "t")
		p := units.R(rapid.Int64Range(1, 99).Draw(t, "p"), 100)
		whole, rest := int(minutes/480), units.R(minutes%480, 480)
		var sorted []units.Ratio
		for from := 0; from+whole < len(days) || from+whole == len(days) && rest.IsZero(); from++ {
			var use units.Ratio
			for _, d := range days[from : from+whole] {
				use = use.Add(d)
			}
			if !rest.IsZero() {
				use = use.Add(days[from+whole].Mul(rest))
			}
			sorted = append(sorted, use)
		}
		slices.SortFunc(sorted, units.Ratio.Cmp)
		want := sorted[p.Mul(units.Int(int64(len(sorted)))).Ceil()-1]
		before := slices.Clone(days)
		require.True(t, want.Equal(sizing.EmpiricalQuantile(days, p, units.Int(minutes), units.Int(480))))
		require.Equal(t, before, days, "the history stays as it was")
	})
}
