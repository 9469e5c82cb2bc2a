package simulation_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/units"
)

func steady(rate string, pack int64, interval, response time.Duration) demand.Loop {
	return demand.Loop{
		Pack: pack, Rate: units.MustRatio(rate), Interval: interval, Response: response,
		ServiceLevel: units.MustRatio("0.995"), Model: plant.SteadyModel, Day: units.Int(480),
	}
}

// TestTwoCyclesPlusOneBox: the loop needs two cycles' use plus one box (C. Roser,
// allaboutlean.com, milk run calculations; reasoning seen, the figures of these two
// cases recomputed): takt 30 s and 20 to a box 13 boxes, takt 60 s and 12 to a box 11.
func TestTwoCyclesPlusOneBox(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rate string
		pack int64
		want int
	}{{"2", 20, 13}, {"1", 12, 11}} {
		in := alone([]demand.Loop{steady(c.rate, c.pack, time.Hour, time.Hour)})
		assert.Equal(t, c.want, simulation.LeastContainers(in.Loops[0], 100))
	}
}

// TestPlayedLeastIsTheRule: for steady loops the least number of containers that
// never runs dry in any phase, found by play, is the number of the rule.
func TestPlayedLeastIsTheRule(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		minutes := func(name string) time.Duration {
			return time.Duration(rapid.IntRange(1, 240).Draw(t, name)) * time.Minute
		}
		l := steady("1", rapid.Int64Range(1, 400).Draw(t, "pack"), minutes("R"), minutes("L"))
		if rapid.Bool().Draw(t, "exchange") {
			l.Response = l.Interval
		}
		l.Rate = units.R(rapid.Int64Range(1, 3000).Draw(t, "rate"), rapid.SampledFrom([]int64{1, 7, 60, 435, 480, 997}).Draw(t, "per"))
		sized := alone([]demand.Loop{l}).Loops[0]
		if sized.Containers > 5000 {
			t.Skip("far more than any lane holds")
		}
		require.Equal(t, sized.Containers, max(2, simulation.LeastContainers(sized, 10_000)))
	})
}
