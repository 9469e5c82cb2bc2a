package planner_test

import (
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/plant"
)

// TestDayRounds: the rounds of a day are those of each route, in the order of departure.
func TestDayRounds(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	monday := time.Date(2026, 10, 26, 0, 0, 0, 0, time.UTC)
	list := planner.DayRounds(in.Plant, plan, monday)
	of := map[string]int{}
	for i, r := range list {
		of[r.Route.Route]++
		assert.Positive(t, r.Working)
		assert.Len(t, r.Stops, len(r.Route.Stops))
		assert.False(t, i > 0 && r.Leaves.Before(list[i-1].Leaves))
	}
	for _, r := range plan.Routes {
		rounds, ok := planner.Rounds(in.Plant, plan, r.Route, monday, 1)
		require.True(t, ok)
		assert.Equal(t, len(rounds), of[r.Route], r.Route)
	}
	assert.Empty(t, planner.DayRounds(in.Plant, plan, time.Date(2026, 10, 25, 0, 0, 0, 0, time.UTC)), "nobody works on Sunday")
}

// TestOverlappingShifts: of two shifts that overlap rounds may leave at one moment; they
// are told apart.
func TestOverlappingShifts(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	first := in.Plant.Shifts[0]
	second := first
	second.Shift += "-b"
	in.Plant.Shifts = []plant.Shift{first, second}
	in.Plant.Cells = withoutShifts(in.Plant.Cells)
	plan := run(t, in)
	type key struct {
		route   string
		leaves  time.Time
		working int
	}
	seen := map[key]bool{}
	list := planner.DayRounds(in.Plant, plan, time.Date(2026, 10, 26, 0, 0, 0, 0, time.UTC))
	require.NotEmpty(t, list)
	twice := false
	for i, r := range list {
		k := key{r.Route.Route, r.Leaves, r.Working}
		assert.False(t, seen[k], "%v", k)
		seen[k] = true
		twice = twice || i > 0 && list[i-1].Route == r.Route && list[i-1].Leaves.Equal(r.Leaves)
	}
	assert.True(t, twice, "the test must have two rounds at one moment")
}

func withoutShifts(cells []plant.Cell) []plant.Cell {
	for i := range cells {
		cells[i].Shifts = nil
	}
	return cells
}

// TestRoundSheets: a sheet has what the round takes, lane by lane, and whole containers
// that add up to the mean of each part, rounded.
func TestRoundSheets(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	sheets := planner.RoundSheets(in.Plant, plan)
	require.Len(t, sheets, len(plan.Routes))
	lanes := 0
	for name, sheet := range sheets {
		picks, ok := planner.Take(in.Plant, plan, name)
		require.True(t, ok)
		require.Len(t, sheet.Takes, len(picks))
		expected := map[plant.PartCode]int{}
		for i, s := range sheet.Stops {
			for _, l := range s.Lanes {
				lanes++
				assert.Equal(t, i+1, l.Stop)
				assert.Contains(t, l.Address, string(s.Rack))
				assert.InDelta(t, l.Containers, float64(l.Expected), 1, "%s %s", name, l.Address)
				expected[l.Part] += l.Expected
			}
			assert.InDelta(t, s.Stop.Empties, float64(s.Empties), 0.5+1e-6)
		}
		for i, take := range sheet.Takes {
			assert.Equal(t, picks[i], take.Pick)
			assert.InDelta(t, take.Containers, float64(take.Expected), 0.5+1e-6)
			assert.Equal(t, take.Expected, expected[take.Part], "route %s, part %s: what is taken is what is brought", name, take.Part)
			assert.Positive(t, take.Pack)
		}
	}
	assert.Positive(t, lanes)
}
