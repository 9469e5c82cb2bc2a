package wire

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func TestReliefs(t *testing.T) {
	t.Parallel()
	p := &planner.Plan{Plant: "P", Cells: []placement.Bound{{Cell: "C", Unplaced: 7}}}
	of := NewCellReliefs(p, "C", []planner.Relief{
		{Kind: planner.OneRackMore, Text: "Add.", UnplacedBefore: 7, Unplaced: 1, LanesFreed: 2, Effort: 1.5, Price: 900 * units.Unit, PriceKnown: true, Yearly: 90 * units.Unit, Visits: units.R(1, 2), Refills: units.R(-1, 4)},
		{Kind: planner.ShorterInterval, Loops: []demand.Key{{Part: "A", Cell: "C", Station: "S"}}, YearlyPartial: true},
	})
	price := 900.0
	assert.Equal(t, CellReliefs{Cell: "C", Unplaced: 7, Reliefs: []Relief{
		{Kind: "rack", Text: "Add.", Loops: []LoopKey{}, UnplacedBefore: 7, Unplaced: 1, LanesFreed: 2, Effort: 1.5, Price: &price, Yearly: 90, VisitsPerHour: 0.5, RefillsPerHour: -0.25, Edits: []EditRequest{}},
		{Kind: "interval", Loops: []LoopKey{{Part: "A", Cell: "C", Station: "S"}}, YearlyPartial: true, Edits: []EditRequest{}},
	}}, of)
	assert.Equal(t, []CellReliefs{of}, NewReliefs(p, []CellReliefs{of}).Cells)
}

func TestTrade(t *testing.T) {
	t.Parallel()
	list := NewTrade("P", "r", "C", planner.Settings{}, []planner.TradeOff{
		{FillLimit: units.R(95, 100), Unplaced: 1, Racks: 4, RacksProposed: 2, Frontage: 3 * units.Metre, Added: 5 * units.Unit, AddedKnown: true, Effort: 2.5, Undominated: true},
		{FillLimit: units.R(9, 10), Best: true},
	}).Trade
	require.Len(t, list, 2)
	cost := 5.0
	assert.Equal(t, TradeOff{FillLimit: 95, Undominated: true, ContainersUnplaced: 1, Racks: 4, RacksProposed: 2, FrontageM: 3, AddedCost: &cost, Effort: 2.5}, list[0])
	assert.Nil(t, list[1].AddedCost, "not known")
	assert.True(t, list[1].Best)
}

func TestMoveStep(t *testing.T) {
	t.Parallel()
	assert.Equal(t, MoveStep{
		Cell: "C", Day: 2, Shift: "late", Step: 3, Kind: "aside", Part: "A", Station: "S", Containers: 4,
		From: &Lay{Rack: "R", Level: 2, Lane: 1}, To: &Lay{Rack: "R"}, Minutes: 1.5,
	}, newMoveStep(placement.Step{
		Cell: "C", Day: 2, Shift: "late", Step: 3, Kind: placement.StepAside, Part: "A", Station: "S", Containers: 4,
		From: &placement.Spot{Rack: "R", Level: 2, Lane: 1}, To: &placement.Spot{Rack: "R"}, Time: 90 * time.Second,
	}))
	assert.Nil(t, newMoveStep(placement.Step{}).From, "the market")
}

func TestCellUse(t *testing.T) {
	t.Parallel()
	assert.Equal(t, CellUse{
		Cell: "C", Levels: 2, Mean: 50, Highest: 75, HighestAt: AtLevel{"R", 1}, Lowest: 25, LowestAt: AtLevel{"Q", 2},
	}, newCellUse(placement.Use{
		Cell: plant.CellCode("C"), Levels: 2, Mean: units.R(1, 2), Highest: units.R(3, 4), Lowest: units.R(1, 4),
		HighestAt: placement.Spot{Rack: "R", Level: 1}, LowestAt: placement.Spot{Rack: "Q", Level: 2},
	}))
}
