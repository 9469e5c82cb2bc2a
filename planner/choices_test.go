package planner_test

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/units"
)

// small is a plant with two cells, aisles and a train; one loop keeps its own
// interval.
func small(t require.TestingT) planner.Input {
	flat := "Part,Cell,Station,Pieces per hour,Container,Length (mm),Width (mm),Height (mm),Standard pack,Unit cost,Refill interval\n" +
		"LENS,OPTIC,10,120,TOTE,400,300,150,20,4,\n" +
		"RING,OPTIC,10,60,TOTE,400,300,150,15,1.5,\n" +
		"SEAL,OPTIC,20,300,BOX,300,200,120,100,0.1,\n" +
		"BASE,HORN,10,45,TOTE,400,300,150,10,12,45\n"
	read, err := importers.ReadBytes(context.Background(), "lamps.csv", []byte(flat))
	require.NoError(t, err)
	require.False(t, read.Findings.HasErrors())
	return planner.Input{Plant: &read.Plant, Findings: read.Findings}
}

func choose(t require.TestingT, in planner.Input, g planner.Grid, threads int) []planner.Choice {
	choices, err := planner.Choices(context.Background(), in, quick(in), g, planner.Options{Threads: threads})
	require.NoError(t, err)
	return choices
}

// quick are settings that search little: here no choice need be a good one.
func quick(in planner.Input) planner.Settings {
	s := planner.DefaultSettings(in.Plant)
	s.Placement.Steps, s.Routing.Steps = 5, 2
	return s
}

// fewCells is the made-up plant with three of its cells.
func fewCells(t *testing.T) planner.Input {
	in := skerrow(t)
	in.Plant.Usage = slices.DeleteFunc(in.Plant.Usage, func(u plant.Usage) bool {
		return u.Cell != "TIDE" && u.Cell != "LENS" && u.Cell != "MAST"
	})
	return in
}

func minutes(list ...int) []time.Duration {
	d := make([]time.Duration, len(list))
	for i, m := range list {
		d[i] = time.Duration(m) * time.Minute
	}
	return d
}

func TestChoicesAreThoseOfThePlant(t *testing.T) {
	t.Parallel()
	in := small(t)
	choices := choose(t, in, planner.Grid{}, 1)
	require.Len(t, choices, len(in.Plant.Settings.IntervalChoices))
	for i, c := range choices {
		assert.Equal(t, in.Plant.Settings.IntervalChoices[i], c.Interval)
		assert.True(t, in.Plant.Settings.ServiceLevel.Equal(c.ServiceLevel))
		assert.Equal(t, 1, c.OwnIntervals, "BASE keeps 45 min")
		assert.Zero(t, c.OwnServiceLevels)
		s := quick(in)
		s.Plant.Interval = c.Interval
		plan, err := planner.Run(context.Background(), in, s, planner.Options{})
		require.NoError(t, err)
		assert.Equal(t, plan.Summary().Containers, c.Containers, "each is a whole plan")
		assert.Equal(t, plan.Summary().LanesUsed, c.LanesUsed)
		assert.Equal(t, planner.Cost(in.Plant, plan), c.Cost)
	}
}

func TestTheGridIsSortedAndEachValueOnce(t *testing.T) {
	t.Parallel()
	g := planner.Grid{Intervals: minutes(60, 15, 60), ServiceLevels: []units.Ratio{units.R(99, 100), units.R(9, 10), units.R(990, 1000)}}
	var got []string
	for _, c := range choose(t, small(t), g, 1) {
		got = append(got, fmt.Sprint(c.ServiceLevel, " ", c.Interval))
	}
	assert.Equal(t, []string{"0.9 15m0s", "0.9 1h0m0s", "0.99 15m0s", "0.99 1h0m0s"}, got)
}

// TestShorterIntervalsNeverNeedMore: the rule rounds up λ(R + L)(1 + α)/q, which
// rises with R.
func TestShorterIntervalsNeverNeedMore(t *testing.T) {
	t.Parallel()
	random := search.Stream(1, "rates")
	for range 6 {
		in := small(t)
		for i := range in.Plant.Usage {
			in.Plant.Usage[i].PerHour = units.Int(1 + random.Int64N(200))
		}
		choices := choose(t, in, planner.Grid{Intervals: minutes(5+random.IntN(20), 25+random.IntN(5), 30+random.IntN(90))}, 1)
		for i := 1; i < len(choices); i++ {
			assert.LessOrEqual(t, choices[i-1].Containers, choices[i].Containers, "%v", choices[i].Interval)
		}
	}
}

func TestThreadsChangeNoChoice(t *testing.T) {
	t.Parallel()
	in := fewCells(t)
	g := planner.Grid{Intervals: minutes(30, 60)}
	assert.Equal(t, choose(t, in, g, 1), choose(t, in, g, 3))
}

// TestMarksAgainstBruteForce looks at every pair of choices with the rule as it is
// written.
func TestMarksAgainstBruteForce(t *testing.T) {
	t.Parallel()
	in := fewCells(t)
	in.Plant.Settings.Prices.HandlerHour = 0
	g := planner.Grid{Intervals: minutes(20, 30, 60, 90), ServiceLevels: []units.Ratio{units.R(95, 100), units.R(995, 1000)}}
	choices := choose(t, in, g, 2)
	unvalued := choices[0].Unvalued > 0
	marked := 0
	for i, c := range choices {
		beaten := false
		for _, o := range choices {
			beaten = beaten || beats(o, c, unvalued)
		}
		assert.Equal(t, !beaten, choices[i].Undominated, "%v at %v", c.Interval, c.ServiceLevel)
		if c.Undominated {
			marked++
		}
	}
	assert.NotZero(t, marked)
}

// beats is the rule for plants whose yearly cost is not known.
func beats(a, b planner.Choice, unvalued bool) bool {
	stock := a.StockValue().Cmp(b.StockValue())
	if unvalued {
		stock = a.Containers - b.Containers
	}
	worse := a.Unplaced > b.Unplaced || a.Frontage > b.Frontage || stock > 0 || a.Handlers > b.Handlers || a.ServiceLevel.Cmp(b.ServiceLevel) < 0
	better := a.Unplaced < b.Unplaced || a.Frontage < b.Frontage || stock < 0 || a.Handlers < b.Handlers || a.ServiceLevel.Cmp(b.ServiceLevel) > 0
	return !worse && better
}

// TestCostCountsWhereItIsKnown: with every price known the cheapest choice is never
// dominated, whatever else it has more of.
func TestCostCountsWhereItIsKnown(t *testing.T) {
	t.Parallel()
	in := fewCells(t)
	in.Plant.Settings.Prices = priced()
	for i := range in.Plant.Parts {
		in.Plant.Parts[i].UnitCost = max(in.Plant.Parts[i].UnitCost, units.Unit)
	}
	for i := range in.Plant.RackTypes {
		in.Plant.RackTypes[i].Cost = max(in.Plant.RackTypes[i].Cost, 500*units.Unit)
	}
	choices := choose(t, in, planner.Grid{Intervals: minutes(20, 60, 120)}, 2)
	cheapest := 0
	for i, c := range choices {
		require.False(t, c.Cost.Partial())
		assert.Positive(t, c.RoundsWeek)
		assert.Positive(t, c.Pieces.Sign())
		assert.Positive(t, c.Cost.Line(costing.Handlers).Amount)
		if c.Cost.Total < choices[cheapest].Cost.Total {
			cheapest = i
		}
	}
	assert.True(t, choices[cheapest].Undominated)
}

func TestABadGridIsRefused(t *testing.T) {
	t.Parallel()
	in := small(t)
	for _, g := range []planner.Grid{
		{Intervals: minutes(0)},
		{ServiceLevels: []units.Ratio{units.Int(1)}},
		{ServiceLevels: []units.Ratio{{}}},
	} {
		_, err := planner.Choices(context.Background(), in, planner.DefaultSettings(in.Plant), g, planner.Options{})
		assert.ErrorIs(t, err, planner.ErrBadSetting)
	}
}

// TestChoicesEndWithTheirContext: a deadline gives no half-searched curve.
func TestChoicesEndWithTheirContext(t *testing.T) {
	t.Parallel()
	in := small(t)
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	late, stop := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer stop()
	for _, ctx := range []context.Context{cancelled, late} {
		choices, err := planner.Choices(ctx, in, planner.DefaultSettings(in.Plant), planner.Grid{}, planner.Options{})
		assert.Nil(t, choices)
		assert.ErrorIs(t, err, ctx.Err())
	}
}

func priced() plant.Prices {
	return plant.Prices{
		HandlerHour: 32 * units.Unit, VehicleYear: 6000 * units.Unit, RackYears: units.Int(8),
		FloorYear: 90 * units.Unit, StockInterest: units.R(12, 100),
	}
}
