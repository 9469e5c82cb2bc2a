package routing

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// evened makes handlers of minutes and balances them.
func evened(t require.TestingT, hands [][]float64, intervals ...*group) (before, after []staff) {
	w := &work{in: Input{Plant: plant.Settings{BusyLimit: units.R(85, 100)}}}
	v := &vehicle{Vehicle: &plant.Vehicle{Vehicle: "CART"}}
	w.fleet = []*vehicle{v}
	for i, minutes := range hands {
		var tours []tour
		for k, m := range minutes {
			one := madeTour(intervals[i%len(intervals)], m)
			one.stops[0].rack = plant.RackCode(fmt.Sprintf("R%d-%d", i, k))
			one.vehicle = v
			tours = append(tours, one)
		}
		turns, ok := newRota(0.85).turns(tours)
		require.True(t, ok)
		before = append(before, staff{v, turns})
	}
	after = slices.Clone(before)
	w.balance(after)
	return before, after
}

// TestBusiestIsRelieved: rounds of 20, 30, 15, 10 and 7 min are 50 and 32; 42 and 40
// is as even as it gets.
func TestBusiestIsRelieved(t *testing.T) {
	t.Parallel()
	hour := madeGroup(time.Hour, early)
	_, after := evened(t, [][]float64{{30, 20}, {15, 10, 7}}, hour)
	assert.InDelta(t, 42.0/60, max(after[0].load(), after[1].load()), 1e-9)
	assert.InDelta(t, 40.0/60, min(after[0].load(), after[1].load()), 1e-9)
}

// TestBalanceKeepsTheRounds: no round is lost, nobody is busier than the busiest was,
// all can be driven.
func TestBalanceKeepsTheRounds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		groups := []*group{madeGroup(time.Hour, early), madeGroup(30*time.Minute, early, late)}
		var hands [][]float64
		for range rapid.IntRange(1, 5).Draw(t, "handlers") {
			hands = append(hands, rapid.SliceOfN(rapid.Float64Range(1, 8), 1, 3).Draw(t, "rounds"))
		}
		before, after := evened(t, hands, groups...)
		most := func(list []staff) (busiest float64) {
			for _, h := range list {
				busiest = max(busiest, h.load())
			}
			return busiest
		}
		racks := func(list []staff) (names []string) {
			for _, h := range list {
				for _, u := range h.turns {
					names = append(names, string(u.stops[0].rack))
				}
			}
			slices.Sort(names)
			return names
		}
		require.LessOrEqual(t, most(after), most(before)+1e-9)
		require.Equal(t, racks(before), racks(after))
		for _, h := range after {
			require.NotEmpty(t, h.turns, "a handler keeps a round")
			var tours []tour
			for _, u := range h.turns {
				tours = append(tours, u.tour)
			}
			_, ok := newRota(0.85).turns(tours)
			require.True(t, ok)
		}
	})
}
