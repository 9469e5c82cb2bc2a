package demand_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// codes lists the codes of findings, in their order.
func codes(list finding.List) []string {
	got := []string{}
	for _, f := range list {
		got = append(got, f.Code)
	}
	return got
}

// only returns the one finding with code.
func only(t require.TestingT, list finding.List, code string) finding.Finding {
	var found finding.List
	for _, f := range list {
		if f.Code == code {
			found = append(found, f)
		}
	}
	require.Len(t, found, 1, code)
	return found[0]
}

func TestMeasureOfService(t *testing.T) {
	t.Parallel()
	daily := func(level string) plant.Usage {
		return plant.Usage{PerDay: units.Int(96), ServiceLevel: units.MustRatio(level)}
	}
	// Five days of 480 minutes in 48 weeks: 115,200 minutes a year.
	cases := []struct {
		name        string
		measure     plant.ServiceMeasure
		allowed     string
		weeks       string
		interval    time.Duration
		row         string
		want        plant.ServiceMeasure
		level       string
		findingCode []string
	}{
		{"by the cycle", plant.ServicePerCycle, "1", "48", h, "0", plant.ServicePerCycle, "0.995", []string{}},
		{"none named", "", "1", "48", h, "0", plant.ServicePerCycle, "0.995", []string{}},
		{"one nobody knows", "monthly", "1", "48", h, "0.9", plant.ServicePerCycle, "0.9", []string{}},
		{"by the piece", plant.ServiceFillRate, "1", "48", h, "0.9", plant.ServiceFillRate, "0.9", []string{}},
		{"one a year: 1 - 60/115200", plant.ServicePerYear, "1", "48", h, "0", plant.ServicePerCycle, "1919/1920", []string{}},
		{"two and a half in 50 weeks: 1 - 2.5*40/120000", plant.ServicePerYear, "2.5", "50", 40 * time.Minute, "0", plant.ServicePerCycle, "1199/1200", []string{}},
		{"a row's own level has no say", plant.ServicePerYear, "1", "48", h, "0.9", plant.ServicePerCycle, "1919/1920", []string{demand.CodeLevelUnused}},
		{"nothing given stands for 1 and 48", plant.ServicePerYear, "0", "0", h, "0", plant.ServicePerCycle, "1919/1920", []string{}},
		{"less than nothing too", plant.ServicePerYear, "-3", "-1", h, "0", plant.ServicePerCycle, "1919/1920", []string{}},
		{"just a half", plant.ServicePerYear, "960", "48", h, "0", plant.ServicePerCycle, "0.5", []string{}},
		{"more than every other cycle", plant.ServicePerYear, "961", "48", h, "0", plant.ServicePerCycle, "0.5", []string{demand.CodeYearClipped}},
		{"no interval at all", plant.ServicePerYear, "1", "48", -h, "0", plant.ServicePerCycle, "0.995", []string{}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := lanterns(daily(c.row))
			s := p.Settings
			s.Measure, s.ShortagesPerYear, s.WeeksPerYear, s.Interval = c.measure, units.MustRatio(c.allowed), units.MustRatio(c.weeks), c.interval
			loops, findings := demand.Loops(plant.NewIndex(p), s)
			assert.Equal(t, c.want, loops[0].Measure)
			assert.Equal(t, c.level, loops[0].ServiceLevel.String())
			assert.Equal(t, c.findingCode, codes(findings))
		})
	}
}

// TestYearOfACell: the year is that of the loop's own cell, by its week: a short
// Saturday makes a year longer though it makes the mean day shorter.
func TestYearOfACell(t *testing.T) {
	t.Parallel()
	p := lanterns(plant.Usage{PerDay: units.Int(96)})
	saturday := plant.Shift{Shift: "sat", Start: 6 * h, End: 10 * h}
	saturday.Days[time.Saturday] = true
	p.Shifts = append(p.Shifts, saturday)
	p.Settings.Measure = plant.ServicePerYear
	// (5·480 + 240)·48 = 126,720 minutes
	assert.Equal(t, "2111/2112", loopOf(t, p).ServiceLevel.String())
	p.Cells[0].Shifts = []plant.ShiftCode{"day"}
	assert.Equal(t, "1919/1920", loopOf(t, p).ServiceLevel.String())
}

func TestFindingsOfAYearAreGivenOnce(t *testing.T) {
	t.Parallel()
	row := func(product plant.ProductCode) plant.Usage {
		return plant.Usage{Product: product, PerUnit: units.Int(1), ServiceLevel: units.MustRatio("0.9"), Interval: 2 * h}
	}
	p := lanterns(row("A"), row("B"), plant.Usage{PerDay: units.Int(1)})
	p.Usage[2].Station, p.Usage[1].ServiceLevel, p.Usage[0].Origin.Row = "T", units.MustRatio("0.8"), 9
	s := p.Settings
	s.Measure, s.ShortagesPerYear = plant.ServicePerYear, units.Int(900)
	_, findings := demand.Loops(plant.NewIndex(p), s)
	assert.Equal(t, []string{demand.CodeLevelUnused, demand.CodeYearClipped}, codes(findings), "for the interval of 2 h alone, and no word of levels that do not count")
	unused := only(t, findings, demand.CodeLevelUnused)
	assert.Contains(t, unused.Summary, "own: 2;")
	assert.Equal(t, 3, unused.Origin.Row, "the first of them")
}

func TestIntervalLongerThanAShift(t *testing.T) {
	t.Parallel()
	p := lanterns(plant.Usage{PerDay: units.Int(96)}, plant.Usage{PerDay: units.Int(96)}, plant.Usage{PerDay: units.Int(96), Interval: 600 * time.Minute})
	p.Usage[1].Station, p.Usage[2].Station = "T", "U"
	long := plant.Shift{Shift: "long", Start: 0, End: 24 * h}
	p.Shifts = append(p.Shifts, long, shift("short", 6*h, 8*h))
	s := p.Settings
	check := func(interval time.Duration, want ...float64) {
		s.Interval = interval
		_, findings := demand.Loops(plant.NewIndex(p), s)
		var got []float64
		for _, f := range findings {
			require.Equal(t, demand.CodeLongInterval, f.Code)
			assert.Equal(t, 480.0, f.Measure.Limit, "the longest that has a day")
			assert.Equal(t, finding.Subject{Cell: "C"}, f.Subject)
			got = append(got, f.Measure.Value)
		}
		assert.Equal(t, want, got)
	}
	check(480 * time.Minute)
	check(481*time.Minute, 481)
	check(600*time.Minute, 600)
	p.Settings.Interval = 600 * time.Minute
	check(600 * time.Minute)
}

func TestNegativeBinomialNeedsOverdispersion(t *testing.T) {
	t.Parallel()
	// 100 pieces a day of 480 min: rate 100/480, variance (100·cv)²/480.
	check := func(cv string, want plant.DemandModel, wantCodes ...string) {
		p := lanterns(plant.Usage{PerDay: units.Int(100), Variation: units.MustRatio(cv), Model: plant.NegativeBinomialModel})
		loops, findings := demand.Loops(plant.NewIndex(p), p.Settings)
		assert.Equal(t, want, loops[0].Model, cv)
		assert.Equal(t, append([]string{}, wantCodes...), codes(findings), cv)
	}
	check("0.1001", plant.NegativeBinomialModel)
	check("0.1", plant.PoissonModel, demand.CodeNotOverdispersed)
	check("0", plant.PoissonModel, demand.CodeNotOverdispersed)
}
