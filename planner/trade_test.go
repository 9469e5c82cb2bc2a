package planner_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// openCell is the tight cell with frontage for racks and a second cell like it.
func openCell() *plant.Plant {
	p := tightCell()
	p.Cells[0].Frontage = 0
	for _, u := range p.Usage {
		u.Cell = "D"
		p.Usage = append(p.Usage, u)
	}
	return p
}

func tradeOf(t *testing.T, cell plant.CellCode, price float64) []planner.TradeOff {
	t.Helper()
	p := openCell()
	s := planner.DefaultSettings(p)
	s.Placement.FrontagePrice = price
	list, err := planner.Trade(context.Background(), planner.Input{Plant: p}, s, cell, planner.Options{})
	require.NoError(t, err)
	require.Len(t, list, 5+min(1, int(math.Ceil(price))))
	return list
}

// The first row is the plan as it stands; what is marked is beaten by no other;
// a price marks the least sum.
func TestTrade(t *testing.T) {
	t.Parallel()
	plan := planned(t, openCell())
	whole, one, dear := tradeOf(t, "", 0), tradeOf(t, "C", 0.001), tradeOf(t, "C", 1e5)
	assert.Equal(t, len(plan.Racks), whole[0].Racks)
	assert.InDelta(t, plan.Summary().Effort, whole[0].Effort, 1e-9)
	assert.Less(t, one[0].Racks, whole[0].Racks)
	for i, a := range one {
		assert.Equal(t, i == 5, a.Priced, "the plan at the price comes last")
		if !a.Priced {
			assert.Equal(t, units.R(int64(100-5*i), 100), a.FillLimit)
		}
		beaten := false
		for _, b := range one {
			better := b.Unplaced < a.Unplaced || b.Frontage < a.Frontage || b.Added < a.Added || b.Effort < a.Effort
			beaten = beaten || better && b.Unplaced <= a.Unplaced && b.Frontage <= a.Frontage && b.Added <= a.Added && b.Effort <= a.Effort
			if a.Best && !b.Priced {
				assert.LessOrEqual(t, a.Effort+0.001*a.Frontage.Metres(), b.Effort+0.001*b.Frontage.Metres()+1e-9)
			}
		}
		assert.Equal(t, !beaten, a.Undominated, "%+v", a)
	}
	for _, a := range whole {
		assert.False(t, a.Best, "no price, no best")
	}
	least := dear[0].Frontage
	for _, a := range dear[:5] {
		least = min(least, a.Frontage)
	}
	for _, a := range dear {
		if a.Best {
			assert.Equal(t, least, a.Frontage, "a dear metre asks for the least frontage")
		}
	}
}

// A plan at a price is the last row of the trade, and no row is better at that
// price; its findings say what the price changed.
func TestTradeShowsThePricedPlan(t *testing.T) {
	t.Parallel()
	const price = 0.5
	p := openCell()
	s := planner.DefaultSettings(p)
	s.Placement.FrontagePrice = price
	plan, err := planner.Run(context.Background(), planner.Input{Plant: p}, s, planner.Options{})
	require.NoError(t, err)
	list := tradeOf(t, "", price)
	last := list[len(list)-1]
	require.True(t, last.Priced)
	assert.Equal(t, len(plan.Racks), last.Racks)
	assert.InDelta(t, plan.Summary().Effort, last.Effort, 1e-9)
	for _, o := range list {
		assert.True(t, last.Unplaced < o.Unplaced || last.Effort+price*last.Frontage.Metres() <= o.Effort+price*o.Frontage.Metres()+1e-9, "%+v", o)
	}
	noted := slices.ContainsFunc(plan.Findings, func(f finding.Finding) bool { return f.Code == placement.CodeFrontagePrice })
	assert.Equal(t, last.Frontage != list[0].Frontage || last.Effort != list[0].Effort, noted)
}

func TestTradeRefuses(t *testing.T) {
	t.Parallel()
	p := openCell()
	_, err := planner.Trade(context.Background(), planner.Input{Plant: p}, planner.DefaultSettings(p), "X", planner.Options{})
	require.ErrorIs(t, err, planner.ErrUnknownCell)
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = planner.Trade(ended, planner.Input{Plant: p}, planner.DefaultSettings(p), "", planner.Options{})
	require.ErrorIs(t, err, context.Canceled)
}
