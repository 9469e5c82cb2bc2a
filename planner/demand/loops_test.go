package demand_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func weekdays() (d [7]bool) {
	for i := time.Monday; i <= time.Friday; i++ {
		d[i] = true
	}
	return d
}

func shift(code plant.ShiftCode, start, end time.Duration, breaks ...plant.Break) plant.Shift {
	return plant.Shift{Shift: code, Days: weekdays(), Start: start, End: end, Breaks: breaks}
}

func pause(start, length time.Duration) plant.Break { return plant.Break{Start: start, Length: length} }

const h = time.Hour

func TestNetDay(t *testing.T) {
	t.Parallel()
	early := shift("early", 6*h, 14*h, pause(9*h, 15*time.Minute), pause(12*h, 30*time.Minute))
	late := shift("late", 14*h, 22*h, pause(18*h, 30*time.Minute))
	night := shift("night", 22*h, 30*h, pause(26*h, 45*time.Minute))
	saturday := plant.Shift{Shift: "sat", Start: 6 * h, End: 10 * h}
	saturday.Days[time.Saturday] = true
	cases := []struct {
		name   string
		shifts []plant.Shift
		want   string
	}{
		{"default shift", []plant.Shift{plant.DefaultShift()}, "480"},
		{"breaks taken out", []plant.Shift{early}, "435"},
		{"two shifts", []plant.Shift{early, late}, "885"},
		{"past midnight", []plant.Shift{night}, "435"},
		{"overlapping shifts add up", []plant.Shift{shift("a", 6*h, 14*h), shift("b", 10*h, 18*h)}, "960"},
		{"overlapping breaks count once", []plant.Shift{shift("a", 6*h, 14*h, pause(9*h, h), pause(9*h+30*time.Minute, h))}, "390"},
		{"break partly outside", []plant.Shift{shift("a", 6*h, 14*h, pause(13*h+30*time.Minute, h))}, "450"},
		{"a short Saturday makes the mean day shorter", []plant.Shift{shift("a", 6*h, 14*h), saturday}, "440"},
		{"a break after the shift", []plant.Shift{shift("a", 14*h, 16*h, pause(18*h, 15*time.Minute))}, "120"},
		{"a break before the shift", []plant.Shift{shift("a", 14*h, 16*h, pause(12*h, 15*time.Minute))}, "120"},
		{"nothing worked", nil, "0"},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, demand.NetDay(c.shifts).String(), c.name)
	}
}

// TestPublishedAvailableTime: 2 shifts of 510 min less 75 min of breaks and
// 8000 units in 20 days give 400 a day and a takt of 870/400 = 2.175 min
// (lean formula sheet, lean-enterprise.cn, takt time; seen).
func TestPublishedAvailableTime(t *testing.T) {
	t.Parallel()
	breaks := func(at time.Duration) plant.Break { return pause(at, 75*time.Minute) }
	day := demand.NetDay([]plant.Shift{
		shift("1", 6*h, 6*h+510*time.Minute, breaks(10*h)),
		shift("2", 15*h, 15*h+510*time.Minute, breaks(19*h)),
	})
	assert.Equal(t, "870", day.String())
	assert.Equal(t, "2.175", day.Div(units.Int(400)).String())
}

// lanterns is a plant with two products at one station.
func lanterns(usage ...plant.Usage) *plant.Plant {
	for i := range usage {
		usage[i].Part, usage[i].Cell, usage[i].Station = "P", "C", "S"
		usage[i].Origin.Row = i + 2
	}
	return &plant.Plant{
		Settings:   plant.DefaultSettings(),
		Shifts:     []plant.Shift{plant.DefaultShift()},
		Products:   []plant.Product{{Product: "A", UnitsPerDay: units.Int(240), Variation: units.MustRatio("0.2")}, {Product: "B", UnitsPerDay: units.Int(120), Variation: units.MustRatio("0.1")}},
		Parts:      []plant.Part{{Part: "P", Container: "X", Pack: 12}},
		Containers: []plant.Container{{Container: "X"}},
		Cells:      []plant.Cell{{Cell: "C"}},
		Stations:   []plant.Station{{Cell: "C", Station: "S"}},
		Usage:      usage,
	}
}

func loopOf(t require.TestingT, p *plant.Plant) demand.Loop {
	loops, _ := demand.Loops(plant.NewIndex(p), p.Settings)
	require.Len(t, loops, 1)
	return loops[0]
}

func TestRateAndVariance(t *testing.T) {
	t.Parallel()
	per := func(product plant.ProductCode, n, scrap string) plant.Usage {
		return plant.Usage{Product: product, PerUnit: units.MustRatio(n), Scrap: units.MustRatio(scrap)}
	}
	hourly := plant.Usage{PerHour: units.Int(30), Variation: units.MustRatio("0.5")}
	daily := plant.Usage{PerDay: units.Int(96)}
	cases := []struct {
		name           string
		usage          []plant.Usage
		rate, variance string
		model          plant.DemandModel
	}{
		// 240·2·1.05/480; (0.2·504)²/480
		{"one product with scrap", []plant.Usage{per("A", "2", "0.05")}, "1.05", "21.168", plant.NormalModel},
		// (480+120)/480; ((0.2·480)² + (0.1·120)²)/480
		{"two products are independent", []plant.Usage{per("A", "2", "0"), per("B", "1", "0")}, "1.25", "19.5", plant.NormalModel},
		// rows of one product add up first: as the first case without scrap
		{"rows of one product add up", []plant.Usage{per("A", "1", "0"), per("A", "1", "0")}, "1", "19.2", plant.NormalModel},
		// 30/60; (0.5·240)²/480
		{"a direct rate", []plant.Usage{hourly}, "0.5", "30", plant.NormalModel},
		{"direct rows are independent", []plant.Usage{hourly, hourly}, "1", "60", plant.NormalModel},
		{"a direct rate has its scrap in it", []plant.Usage{{PerHour: units.Int(30), Scrap: units.R(1, 10)}}, "0.5", "0", plant.SteadyModel},
		{"pieces per day", []plant.Usage{daily}, "0.2", "0", plant.SteadyModel},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			l := loopOf(t, lanterns(c.usage...))
			assert.Equal(t, c.rate, l.Rate.String())
			assert.Equal(t, c.variance, l.Variance.String())
			assert.Equal(t, c.model, l.Model)
			var sum units.Ratio
			for _, s := range l.Sources {
				sum = sum.Add(s.Rate)
			}
			assert.True(t, sum.Equal(l.Rate), "the sources explain the rate")
		})
	}
}

func TestRowsOfOneLoopDiffer(t *testing.T) {
	t.Parallel()
	safety := units.MustRatio("0.2")
	p := lanterns(
		plant.Usage{Product: "A", PerUnit: units.Int(1), Interval: 90 * time.Minute, ServiceLevel: units.MustRatio("0.9"), Containers: 5},
		plant.Usage{Product: "B", PerUnit: units.Int(1), Safety: &safety, Containers: 7, Model: plant.PoissonModel},
	)
	loops, findings := demand.Loops(plant.NewIndex(p), p.Settings)
	l := loops[0]
	assert.Equal(t, time.Hour, l.Interval, "a row that gives none counts with the plant's")
	assert.Equal(t, time.Hour, l.Response, "the response defaults to the loop's own interval")
	assert.Equal(t, "0.995", l.ServiceLevel.String())
	assert.Equal(t, "0.2", l.Safety.String())
	assert.Equal(t, 7, l.Fixed)
	assert.Equal(t, plant.PoissonModel, l.Model)
	require.Len(t, findings, 1)
	assert.Equal(t, demand.CodeRowsDiffer, findings[0].Code)
}

func TestEmpiricalNeedsHistory(t *testing.T) {
	t.Parallel()
	build := func(days int, per int64) *plant.Plant {
		p := lanterns(plant.Usage{Product: "A", PerUnit: units.Int(2), Model: plant.EmpiricalModel})
		for d := range days {
			p.History = append(p.History, plant.History{Product: "A", Date: time.Date(2025, 3, 1+d, 0, 0, 0, 0, time.UTC), Units: units.Int(per)})
		}
		return p
	}
	check := func(days int, per int64, model plant.DemandModel, codes ...string) {
		p := build(days, per)
		loops, findings := demand.Loops(plant.NewIndex(p), p.Settings)
		assert.Equal(t, model, loops[0].Model)
		got := []string{}
		for _, f := range findings {
			got = append(got, f.Code)
		}
		assert.ElementsMatch(t, codes, got)
	}
	check(19, 240, plant.NormalModel, demand.CodeShortHistory)
	check(20, 240, plant.EmpiricalModel)
	check(20, 120, plant.EmpiricalModel, demand.CodeHistoryDrifts)
	assert.Equal(t, "480", loopOf(t, build(20, 240)).Days[0].String(), "two pieces per unit built")
}

func TestACellThatWorksNoMinute(t *testing.T) {
	t.Parallel()
	p := lanterns(plant.Usage{PerHour: units.Int(1)})
	p.Shifts[0].Days = [7]bool{}
	loops, findings := demand.Loops(plant.NewIndex(p), p.Settings)
	assert.Empty(t, loops)
	require.Len(t, findings, 1)
	assert.Equal(t, demand.CodeNoTime, findings[0].Code)
}

func TestOrderOfRowsChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) plant.Usage {
			return plant.Usage{
				Product: rapid.SampledFrom([]plant.ProductCode{"A", "B", ""}).Draw(t, "product"),
				PerUnit: units.R(rapid.Int64Range(0, 50).Draw(t, "per"), 7), PerHour: units.R(rapid.Int64Range(0, 50).Draw(t, "hour"), 3),
				Variation: units.R(rapid.Int64Range(0, 5).Draw(t, "cv"), 10),
				Interval:  time.Duration(rapid.IntRange(0, 3).Draw(t, "R")) * 30 * time.Minute,
			}
		}), 1, 6).Draw(t, "rows")
		first := loopOf(t, lanterns(append([]plant.Usage{}, rows...)...))
		other := loopOf(t, lanterns(rapid.Permutation(rows).Draw(t, "order")...))
		require.True(t, first.Rate.Equal(other.Rate))
		require.True(t, first.Variance.Equal(other.Variance))
		require.Equal(t, first.Interval, other.Interval)
		require.Equal(t, first.Model, other.Model)
	})
}
