package demand_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestHostileValues: what no sheet should hold breaks nothing.
func TestHostileValues(t *testing.T) {
	t.Parallel()
	huge := units.MustRatio("1e30")
	huge = huge.Mul(huge).Mul(huge).Mul(huge)
	huge = huge.Mul(huge).Mul(huge) // 1e360: beyond any float64
	values := map[string]units.Ratio{"huge": huge, "tiny": units.Int(1).Div(huge), "negative": units.Int(-7), "zero": {}, "third": units.R(1, 3)}
	for name, v := range values {
		for _, use := range []plant.HistoryUse{plant.HistoryOnRequest, plant.HistoryVariation, plant.HistoryAll, "?"} {
			for _, measure := range []plant.ServiceMeasure{plant.ServicePerCycle, plant.ServicePerYear, plant.ServiceFillRate, "?"} {
				p := lanterns(
					plant.Usage{Product: "A", PerUnit: v, Scrap: v, Interval: math.MinInt64, Model: plant.EmpiricalModel},
					plant.Usage{PerHour: v, PerDay: v, Variation: v, ServiceLevel: v, Safety: &v, Interval: math.MaxInt64, Model: plant.NegativeBinomialModel},
				)
				p.Usage[1].Station = "T"
				p.Products[0].UnitsPerDay, p.Products[0].Variation = v, v
				p.Settings.History, p.Settings.Measure, p.Settings.ShortagesPerYear, p.Settings.WeeksPerYear = use, measure, v, v
				p.Settings.ServiceLevel, p.Settings.Safety = v, v
				for d := range 40 {
					p.History = append(p.History,
						plant.History{Product: "A", Date: time.Time{}.AddDate(0, 0, d/2), Units: v},
						plant.History{Part: "P", Date: time.Date(9999, 1, d, 0, 0, 0, 0, time.UTC), Units: v},
						plant.History{Product: "NOBODY", Units: v}, plant.History{Units: v})
				}
				assert.NotPanics(t, func() { whole(p) }, "%s, %s, %s", name, use, measure)
			}
		}
	}
}

// TestFractionsOfManyDays: 20,000 days in fractions with denominators that have
// nothing in common leave a mean that is a short number, and right.
func TestFractionsOfManyDays(t *testing.T) {
	t.Parallel()
	p := lanterns()
	want := 0.0
	for i := range 20_000 {
		n := units.R(1_000_003, int64(2*i+3))
		want += n.Float64() / 10_000
		p.History = append(p.History, plant.History{Product: "A", Date: time.Date(1950, 1, 1+i/2, 0, 0, 0, 0, time.UTC), Units: n})
	}
	s := demand.Summaries(plant.NewIndex(p))[0]
	assert.InEpsilon(t, want, s.Mean.Float64(), 1e-12)
	assert.Less(t, len(s.Mean.String()), 120)
	assert.Equal(t, 10_000, s.Days)
}

// TestFractionsOfOneDay add up to one number in whatever order they stand.
func TestFractionsOfOneDay(t *testing.T) {
	t.Parallel()
	p := lanterns()
	for i := range 2000 {
		p.History = append(p.History, plant.History{Product: "A", Units: units.R(1_000_003, int64(2*i+3))})
	}
	first := demand.Summaries(plant.NewIndex(p))[0].Mean
	slices.Reverse(p.History)
	assert.Equal(t, first.String(), demand.Summaries(plant.NewIndex(p))[0].Mean.String())
}

func TestManyRowsOfOnePointOfUse(t *testing.T) {
	t.Parallel()
	rows := make([]plant.Usage, 20_000)
	for i := range rows {
		rows[i] = plant.Usage{Product: []plant.ProductCode{"A", "B", ""}[i%3], PerUnit: units.R(1, 100), PerDay: units.R(int64(i%3/2), 100)}
	}
	l := loopOf(t, lanterns(rows...))
	// 6,667 rows of A and of B, 6,666 direct ones
	assert.Equal(t, "50.141375", l.Rate.String(), "(66.67·(240 + 120) + 66.66)/480")
	require.Len(t, l.Sources, 20_000)
}
