package demand_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// built adds one row of history a day to p, from 3 March 2025 on.
func built(p *plant.Plant, product plant.ProductCode, part plant.PartCode, use ...int64) {
	for d, n := range use {
		p.History = append(p.History, plant.History{Product: product, Part: part, Date: time.Date(2025, 3, 3+d, 0, 0, 0, 0, time.UTC), Units: units.Int(n)})
	}
}

// swing is n days that go up and down by 20 around 100: mean 100 and variance
// 20²·n/(n−1), of twenty days 421.05 and so a variation of 0.205196.
func swing(n int) []int64 {
	days := make([]int64, n)
	for i := range days {
		days[i] = 100 + 20*int64(1-2*(i%2))
	}
	return days
}

func TestSummary(t *testing.T) {
	t.Parallel()
	p := lanterns()
	built(p, "B", "", swing(20)...)
	built(p, "", "P", 0, 0, 7)
	built(p, "", "P", 1, 1)
	built(p, "A", "", 5)
	built(p, "NOBODY", "", 5)
	list := demand.Summaries(plant.NewIndex(p))
	require.Len(t, list, 3, "what the plant does not know is left out")
	assert.Equal(t, plant.ProductCode("A"), list[0].Product)
	assert.Equal(t, 0.0, list[0].Variation, "of one day")
	b := list[1]
	assert.Equal(t, "100", b.Mean.String())
	assert.InDelta(t, 0.2051956704, b.Variation, 1e-10)
	assert.Equal(t, 20, b.Days)
	assert.Equal(t, "2025-03-03 2025-03-22", b.First.Format(time.DateOnly)+" "+b.Last.Format(time.DateOnly))
	part := list[2]
	assert.Equal(t, plant.PartCode("P"), part.Part)
	assert.Equal(t, 3, part.Days, "rows of one date add up, days of 0 count")
	assert.Equal(t, "3", part.Mean.String())
	assert.InDelta(t, 1.1547005384, part.Variation, 1e-10, "1, 1, 7: √12/3")
}

// TestPublishedVariation: the eight values 2, 4, 4, 4, 5, 5, 7, 9 have mean 5 and
// the sum of squares 32, so a sample deviation of √(32/7) = 2.138 (common example
// of textbooks, no source; recomputed).
func TestPublishedVariation(t *testing.T) {
	t.Parallel()
	p := lanterns()
	built(p, "A", "", 2, 4, 4, 4, 5, 5, 7, 9)
	s := demand.Summaries(plant.NewIndex(p))[0]
	assert.Equal(t, "5", s.Mean.String())
	assert.InDelta(t, 2.138089935/5, s.Variation, 1e-9)
}

func TestWhatTheHistoryDecides(t *testing.T) {
	t.Parallel()
	const cv = "0.205196"
	squared := func(use string) string { // (cv·use)²/480
		sd := units.MustRatio(cv).Mul(units.MustRatio(use))
		return sd.Mul(sd).Div(units.Int(480)).String()
	}
	a := plant.Usage{Product: "A", PerUnit: units.Int(2)}
	direct := plant.Usage{PerDay: units.Int(48)}
	varied := plant.Usage{PerDay: units.Int(48), Variation: units.MustRatio("0.5")}
	cases := []struct {
		name           string
		use            plant.HistoryUse
		product, part  int // days of history
		variation      string
		usage          []plant.Usage
		rate, variance string
		codes          []string
	}{
		{"nothing by default", plant.HistoryOnRequest, 20, 20, "0", []plant.Usage{a}, "1", "0", []string{}},
		{"nothing by an unknown word", "some", 20, 20, "0", []plant.Usage{a}, "1", "0", []string{}},
		{"the variation that is not given", plant.HistoryVariation, 20, 0, "0", []plant.Usage{a}, "1", squared("480"), []string{demand.CodeHistoryTaken}},
		{"not one that is given", plant.HistoryVariation, 20, 0, "0.1", []plant.Usage{a}, "1", "4.8", []string{}},
		{"not from too few days", plant.HistoryVariation, 19, 0, "0", []plant.Usage{a}, "1", "0", []string{demand.CodeHistoryShort}},
		{"of a part for direct rows, which vary together", plant.HistoryVariation, 0, 20, "0", []plant.Usage{direct, direct}, "0.2", squared("96"), []string{demand.CodeHistoryTaken}},
		{"of a part for rows that give none", plant.HistoryVariation, 0, 20, "0", []plant.Usage{varied, a}, "1.1", "1.2", []string{}},
		{"of a part for those of its rows that give none", plant.HistoryVariation, 0, 20, "0", []plant.Usage{varied, direct}, "0.2", units.MustRatio(squared("48")).Add(units.MustRatio("1.2")).String(), []string{demand.CodeHistoryTaken}},
		{"of a part with too few days", plant.HistoryVariation, 0, 19, "0", []plant.Usage{direct}, "0.1", "0", []string{demand.CodeHistoryShort}},
		{"of a part too short, when nobody asks", plant.HistoryVariation, 0, 19, "0", []plant.Usage{a}, "1", "0", []string{}},
		{"all of a product", plant.HistoryAll, 20, 0, "0.1", []plant.Usage{a}, "5/12", squared("200"), []string{demand.CodeHistoryTaken}},
		{"all of a part", plant.HistoryAll, 0, 20, "0.1", []plant.Usage{a, varied}, "5/24", squared("100"), []string{demand.CodeHistoryTaken}},
		{"all of both", plant.HistoryAll, 20, 20, "0.1", []plant.Usage{a, varied}, "5/24", squared("100"), []string{demand.CodeHistoryTaken, demand.CodeHistoryTaken}},
		{"all, from too few days", plant.HistoryAll, 1, 19, "0.1", []plant.Usage{a}, "1", "4.8", []string{demand.CodeHistoryShort, demand.CodeHistoryShort}},
		{"all of a part with no use to share by", plant.HistoryAll, 0, 20, "0", []plant.Usage{{PerHour: units.Int(0)}}, "0", "0", []string{demand.CodeHistoryUnshared, demand.CodeNoUse}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := lanterns(c.usage...)
			p.Products[0].Variation = units.MustRatio(c.variation)
			p.Settings.History = c.use
			built(p, "A", "", swing(c.product)...)
			built(p, "", "P", swing(c.part)...)
			loops, findings := demand.Loops(plant.NewIndex(p), p.Settings)
			assert.Equal(t, c.rate, loops[0].Rate.String())
			assert.Equal(t, c.variance, loops[0].Variance.String())
			assert.Equal(t, c.codes, codes(findings))
		})
	}
}

// TestLoopsKeepTheirShareOfAPartsHistory: 300 and 100 pieces planned, 100 used.
func TestLoopsKeepTheirShareOfAPartsHistory(t *testing.T) {
	t.Parallel()
	p := lanterns(plant.Usage{PerDay: units.Int(300), Model: plant.EmpiricalModel}, plant.Usage{PerDay: units.Int(100)})
	p.Usage[1].Cell = "D"
	p.Cells = append(p.Cells, plant.Cell{Cell: "D", Shifts: []plant.ShiftCode{"half"}})
	p.Cells[0].Shifts = []plant.ShiftCode{"day"}
	p.Shifts = append(p.Shifts, shift("half", 6*h, 10*h))
	p.Settings.History = plant.HistoryAll
	built(p, "", "P", swing(20)...)
	loops, findings := demand.Loops(plant.NewIndex(p), p.Settings)
	assert.Equal(t, "75", loops[0].Rate.Mul(loops[0].Day).String())
	assert.Equal(t, "25", loops[1].Rate.Mul(loops[1].Day).String(), "of a shorter day")
	assert.Equal(t, "90", loops[0].Days[0].String(), "three quarters of 120")
	taken := only(t, findings, demand.CodeHistoryTaken)
	assert.Equal(t, "Taken from 20 days of history of part P: mean 100 instead of 400 pieces a day, variation 0.205196 for all its rows", taken.Summary)
	assert.Len(t, findings, 1, "the history agrees with itself")
}

func TestFindingsSayWhatWasTaken(t *testing.T) {
	t.Parallel()
	p := lanterns(plant.Usage{Product: "A", PerUnit: units.Int(1)}, plant.Usage{PerDay: units.Int(1)})
	p.Settings.History = plant.HistoryAll
	built(p, "A", "", swing(20)...)
	_, findings := demand.Loops(plant.NewIndex(p), p.Settings)
	assert.Equal(t, "Taken from 20 days of history of product A: mean 100 instead of 240 units a day, variation 0.205196 instead of 0.2", only(t, findings, demand.CodeHistoryTaken).Summary)
	p.Products[0].UnitsPerDay, p.Products[0].Variation = units.Int(100), units.MustRatio("0.205196")
	_, findings = demand.Loops(plant.NewIndex(p), p.Settings)
	assert.Empty(t, findings, "nothing changes")
	p.Settings.History, p.History = plant.HistoryVariation, nil
	built(p, "", "P", swing(20)...)
	_, findings = demand.Loops(plant.NewIndex(p), p.Settings)
	assert.Equal(t, "Taken from 20 days of history of part P: variation 0.205196 for its direct rows that give none", only(t, findings, demand.CodeHistoryTaken).Summary)
	p.History = nil
	built(p, "", "P", 1, 2, 3)
	_, findings = demand.Loops(plant.NewIndex(p), p.Settings)
	assert.Equal(t, "The history of part P has 3 days; it counts from 20 on", only(t, findings, demand.CodeHistoryShort).Summary)
}

// TestThreeDaysOfHistory are too few for the empirical model, whatever the
// history decides.
func TestThreeDaysOfHistory(t *testing.T) {
	t.Parallel()
	p := lanterns(plant.Usage{Product: "A", PerUnit: units.Int(1), Model: plant.EmpiricalModel})
	built(p, "A", "", 1, 2, 3)
	loops, findings := demand.Loops(plant.NewIndex(p), p.Settings)
	assert.Equal(t, plant.NormalModel, loops[0].Model)
	assert.Equal(t, []string{demand.CodeShortHistory}, codes(findings))
	assert.Contains(t, findings[0].Summary, "has 3 days of history; normal is used instead")
}

// whole is everything that a plant comes to, as text.
func whole(p *plant.Plant) string {
	x := plant.NewIndex(p)
	loops, findings := demand.Loops(x, p.Settings)
	findings.Sort()
	text := fmt.Sprintln(demand.Mixes(x, p.Settings))
	for _, f := range findings {
		text += fmt.Sprintln(f.Severity, f.Code, f.Summary, f.Detail, f.Origin, f.Related)
	}
	for _, l := range loops {
		text += fmt.Sprintln(l, demand.Terms(x, p.Settings, l))
	}
	return text + fmt.Sprintln(demand.Summaries(x))
}

func TestOrderOfSheetsChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := random(t)
		first := whole(p)
		q := *p
		q.Usage = rapid.Permutation(p.Usage).Draw(t, "usage")
		q.Products = rapid.Permutation(p.Products).Draw(t, "products")
		q.History = rapid.Permutation(p.History).Draw(t, "history")
		q.Shifts = rapid.Permutation(p.Shifts).Draw(t, "shifts")
		q.Parts = rapid.Permutation(p.Parts).Draw(t, "parts")
		require.Equal(t, first, whole(&q))
	})
}

// TestUnitsChangeNothing: who counts pieces in pairs plans half of them; a rate by
// the hour is the same as one by the day.
func TestUnitsChangeNothing(t *testing.T) {
	t.Parallel()
	two := units.Int(2)
	rapid.Check(t, func(t *rapid.T) {
		p := random(t)
		q := *p
		q.Usage, q.History = slices.Clone(p.Usage), slices.Clone(p.History)
		x := plant.NewIndex(p)
		for i := range q.Usage {
			u := &q.Usage[i]
			day := demand.NetDay(x.CellShifts(u.Cell))
			u.PerUnit, u.PerDay, u.PerHour = u.PerUnit.Div(two), u.PerHour.Div(two).Mul(day).Div(units.Int(60)), units.Ratio{}
		}
		for i := range q.History {
			if q.History[i].Part != "" {
				q.History[i].Units = q.History[i].Units.Div(two)
			}
		}
		pieces, _ := demand.Loops(x, p.Settings)
		pairs, _ := demand.Loops(plant.NewIndex(&q), q.Settings)
		require.Len(t, pairs, len(pieces))
		for i, l := range pieces {
			require.True(t, l.Rate.Equal(pairs[i].Rate.Mul(two)), "%s and %s", l.Rate, pairs[i].Rate)
			require.True(t, l.Variance.Equal(pairs[i].Variance.Mul(units.Int(4))), "%s and %s", l.Variance, pairs[i].Variance)
			require.Len(t, pairs[i].Days, len(l.Days))
		}
	})
}

// random is a small plant with everything this stage knows of.
func random(t *rapid.T) *plant.Plant {
	share := rapid.Custom(func(t *rapid.T) units.Ratio { return units.R(rapid.Int64Range(0, 20).Draw(t, "n"), 60) })
	p := lanterns()
	p.Settings.History = rapid.SampledFrom([]plant.HistoryUse{plant.HistoryOnRequest, plant.HistoryVariation, plant.HistoryAll}).Draw(t, "use")
	p.Settings.Measure = rapid.SampledFrom([]plant.ServiceMeasure{plant.ServicePerCycle, plant.ServicePerYear, plant.ServiceFillRate}).Draw(t, "measure")
	p.Parts = append(p.Parts, plant.Part{Part: "Q", Container: "X", Pack: 3}, plant.Part{Part: "NOBOX", Container: "?", Pack: 1})
	p.Cells = append(p.Cells, plant.Cell{Cell: "D", Shifts: []plant.ShiftCode{"late", "never"}}, plant.Cell{Cell: "E", Shifts: []plant.ShiftCode{"never"}})
	p.Shifts = append(p.Shifts, shift("late", 13*h, 22*h, pause(17*h, 25*time.Minute)), plant.Shift{Shift: "never", Start: h, End: 2 * h})
	for i := range p.Products {
		p.Products[i].Variation = share.Draw(t, "cv")
	}
	for i := range rapid.IntRange(1, 8).Draw(t, "rows") {
		u := plant.Usage{
			Product: rapid.SampledFrom([]plant.ProductCode{"A", "B", "", "?"}).Draw(t, "product"),
			Part:    rapid.SampledFrom([]plant.PartCode{"P", "Q", "NOBOX"}).Draw(t, "part"),
			Cell:    rapid.SampledFrom([]plant.CellCode{"C", "D", "E"}).Draw(t, "cell"),
			Station: rapid.SampledFrom([]plant.StationCode{"S", "T"}).Draw(t, "station"),
			Scrap:   share.Draw(t, "scrap"), Model: rapid.SampledFrom([]plant.DemandModel{"", plant.EmpiricalModel, plant.NegativeBinomialModel}).Draw(t, "model"),
			Origin: finding.Origin{Sheet: "Usage", Row: i + 2},
		}
		if u.Product == "" {
			u.PerHour, u.Variation = share.Draw(t, "hourly"), share.Draw(t, "cv")
		} else {
			u.PerUnit = share.Draw(t, "per unit")
		}
		p.Usage = append(p.Usage, u)
	}
	for _, of := range []plant.History{{Product: "A"}, {Product: "B"}, {Part: "P"}, {Part: "Q"}, {Part: "?"}} {
		for d := range rapid.SampledFrom([]int{0, 5, 20, 26}).Draw(t, "days") {
			of.Date, of.Units = time.Date(2025, 3, d-d/25, 0, 0, 0, 0, time.UTC), units.R(rapid.Int64Range(0, 400).Draw(t, "units"), 3)
			p.History = append(p.History, of)
		}
	}
	return p
}
