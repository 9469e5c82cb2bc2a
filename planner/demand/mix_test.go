package demand_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func TestMixes(t *testing.T) {
	t.Parallel()
	p := lanterns(
		plant.Usage{Product: "B", PerUnit: units.Int(3)},
		plant.Usage{Product: "A", PerUnit: units.Int(1), Scrap: units.R(1, 20)},
		plant.Usage{Product: "A", PerUnit: units.Int(1)},
		plant.Usage{PerHour: units.Int(30)},
		plant.Usage{Product: "A", PerUnit: units.Int(1)},
		plant.Usage{Product: "B", PerUnit: units.Int(1)},
		plant.Usage{PerHour: units.Int(30)},
	)
	p.Usage[4].Station, p.Usage[5].Cell, p.Usage[6].Cell = "T", "D", "E"
	key := func(cell plant.CellCode, station plant.StationCode) demand.Key {
		return demand.Key{Part: "P", Cell: cell, Station: station}
	}
	mixes := demand.Mixes(plant.NewIndex(p), p.Settings)
	require.Len(t, mixes, 2, "cell E builds no product")
	assert.Equal(t, plant.CellCode("C"), mixes[0].Cell)
	assert.Equal(t, "480", mixes[0].Day.String())
	require.Len(t, mixes[0].Products, 2)
	a := mixes[0].Products[0]
	assert.Equal(t, plant.ProductCode("A"), a.Product)
	assert.Equal(t, "240 0.2", a.UnitsPerDay.String()+" "+a.Variation.String())
	require.Len(t, a.Takes, 2)
	assert.Equal(t, key("C", "S"), a.Takes[0].Loop)
	assert.Equal(t, "2.05", a.Takes[0].Pieces.String(), "rows of one product add up, scrap included")
	assert.Equal(t, key("C", "T"), a.Takes[1].Loop)
	assert.Equal(t, "3", mixes[0].Products[1].Takes[0].Pieces.String())
	assert.Equal(t, plant.CellCode("D"), mixes[1].Cell)
	require.Len(t, mixes[1].Products, 1)
	assert.Equal(t, plant.ProductCode("B"), mixes[1].Products[0].Product)
}

// TestMixesAndTermsAreTheRates: what the mix of its cell takes from a loop, with
// its direct rates, is its rate exactly, and so is the sum of its terms.
func TestMixesAndTermsAreTheRates(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := random(t)
		x := plant.NewIndex(p)
		loops, _ := demand.Loops(x, p.Settings)
		rates := map[demand.Key]units.Ratio{}
		for _, m := range demand.Mixes(x, p.Settings) {
			for _, product := range m.Products {
				for _, take := range product.Takes {
					require.Equal(t, m.Cell, take.Loop.Cell)
					rates[take.Loop] = rates[take.Loop].Add(product.UnitsPerDay.Mul(take.Pieces).Div(m.Day))
				}
			}
		}
		all := demand.AllTerms(x, p.Settings)
		require.Len(t, all, len(loops))
		for _, l := range loops {
			rate, sources := rates[l.Key], units.Ratio{}
			for _, s := range l.Sources {
				sources = sources.Add(s.Rate)
				if s.Product == "" {
					rate = rate.Add(s.Rate)
				}
			}
			require.True(t, l.Rate.Equal(rate), "%v: %s by the mix", l.Key, rate)
			require.True(t, l.Rate.Equal(sources), "%v: %s by its sources", l.Key, sources)
			terms := demand.Terms(x, p.Settings, l)
			require.Equal(t, asText(all[l.Key]), asText(terms))
			require.True(t, l.Rate.Equal(sumOf(t, terms)))
			delete(rates, l.Key)
		}
		require.Empty(t, rates, "takes of a loop that is not there")
	})
}

func asText(terms []demand.Term) (list []string) {
	for _, t := range terms {
		list = append(list, t.String())
	}
	return list
}

// sumOf adds up the rates of terms, each of which follows from its own figures.
func sumOf(t require.TestingT, terms []demand.Term) units.Ratio {
	var sum units.Ratio
	for _, m := range terms {
		own := m.PerHour.Div(units.Int(60)).Add(m.PerDay.Div(m.Day))
		if m.Product != "" {
			own = m.UnitsPerDay.Mul(m.PerUnit).Mul(units.Int(1).Add(m.Scrap)).Div(m.Day)
		}
		require.True(t, m.Rate.Equal(own.Mul(m.Factor)), "%s", m)
		sum = sum.Add(m.Rate)
	}
	return sum
}

func TestTermsSayHowARateCameAbout(t *testing.T) {
	t.Parallel()
	p := lanterns(
		plant.Usage{Product: "A", PerUnit: units.Int(2), Scrap: units.R(5, 100)},
		plant.Usage{PerHour: units.Int(30), Variation: units.R(1, 10)},
		plant.Usage{PerDay: units.Int(96)},
		plant.Usage{PerHour: units.Int(30), PerDay: units.Int(96)},
	)
	for i := range p.Usage {
		p.Usage[i].Origin.Sheet = "Usage"
	}
	p.Products[0].Origin = finding.Origin{Sheet: "Products", Row: 3}
	p.Columns = []plant.Column{
		{Sheet: "Usage", Field: "Quantity per unit", Letters: "E"}, {Sheet: "Usage", Field: "Pieces per hour", Letters: "F"},
		{Sheet: "Usage", Field: "Pieces per day", Letters: "G"}, {Sheet: "Products", Field: "Units per day", Letters: "C"},
	}
	terms := demand.Terms(plant.NewIndex(p), p.Settings, loopOf(t, p))
	require.Len(t, terms, 4)
	assert.Equal(t, "30 pieces an hour / 60 min = 0.5 pieces a minute", terms[0].String())
	assert.Equal(t, "96 pieces a day / 480 min = 0.2 pieces a minute", terms[1].String())
	assert.Equal(t, "(30 pieces an hour x 8 h + 96 a day) / 480 min = 0.7 pieces a minute", terms[2].String())
	assert.Equal(t, "240 A a day x 2 x 1.05 / 480 min = 1.05 pieces a minute", terms[3].String())
	assert.Equal(t, "Usage!F3 Usage!G4 Usage!F5 Usage!E2", terms[0].Origin.String()+" "+terms[1].Origin.String()+" "+terms[2].Origin.String()+" "+terms[3].Origin.String())
	assert.Equal(t, "Products!C3", terms[3].ProductOrigin.String())
	assert.Equal(t, plant.CellCode("C"), terms[3].Cell)
	assert.Equal(t, "0.2 0.1", terms[3].Variation.String()+" "+terms[0].Variation.String())
	assert.False(t, terms[3].MeanTaken || terms[3].VariationTaken)
}

func TestTermsTakenFromTheHistory(t *testing.T) {
	t.Parallel()
	p := lanterns(plant.Usage{Product: "A", PerUnit: units.Int(1)}, plant.Usage{PerDay: units.Int(160)})
	check := func(use plant.HistoryUse, direct, product string, taken ...bool) {
		p.Settings.History = use
		terms := demand.Terms(plant.NewIndex(p), p.Settings, loopOf(t, p))
		assert.Equal(t, direct, terms[0].String())
		assert.Equal(t, product, terms[1].String())
		assert.Equal(t, taken, []bool{terms[0].MeanTaken, terms[0].VariationTaken, terms[1].MeanTaken, terms[1].VariationTaken})
	}
	built(p, "A", "", swing(20)...)
	const steady = "160 pieces a day / 480 min = 0.3333 pieces a minute"
	check(plant.HistoryOnRequest, steady, "240 A a day x 1 / 480 min = 0.5 pieces a minute", false, false, false, false)
	check(plant.HistoryAll, steady, "100 A a day x 1 / 480 min = 0.2083 pieces a minute", false, false, true, true)
	p.History = nil
	built(p, "", "P", swing(20)...)
	check(plant.HistoryVariation, steady, "240 A a day x 1 / 480 min = 0.5 pieces a minute", false, true, false, false)
	check(plant.HistoryAll, "160 pieces a day x 0.25 by history / 480 min = 0.08333 pieces a minute", "240 A a day x 1 x 0.25 by history / 480 min = 0.125 pieces a minute", true, true, true, true)
}
