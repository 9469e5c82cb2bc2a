package sizing_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// TestTwoLoopsSideBySide: two intervals and one container against one interval
// and one container, and the train's space, which is one interval's use (C.
// Roser, allaboutlean.com, milk run calculations and milk run layout; reasoning
// seen, figures of these two cases recomputed).
func TestTwoLoopsSideBySide(t *testing.T) {
	t.Parallel()
	cases := []struct {
		rate     string
		pack     int64
		two, one int
		train    string
	}{
		{"2", 20, 13, 7, "6"},
		{"1", 12, 11, 6, "5"},
	}
	for _, c := range cases {
		l := sized(steady(c.rate, c.pack, time.Hour))
		assert.Equal(t, c.two, l.Containers)
		assert.Equal(t, c.one, sizing.OneInterval(l))
		assert.Equal(t, c.train, sizing.TrainSpace(l).String())
	}
	half := sized(steady("1/7", 12, time.Hour))
	assert.Equal(t, "5/7", sizing.TrainSpace(half).String(), "not rounded")
}

func TestMarks(t *testing.T) {
	t.Parallel()
	// 2 a minute, R 60, L 30, packs of 20: D 180 over R + L, 60 over L.
	l := steady("2", 20, time.Hour)
	l.Response = 30 * time.Minute
	assert.Equal(t, sizing.LaneMarks{Max: 10, Min: 4, Reorder: 180}, sizing.Marks(sized(l)))
	l.Rate = units.MustRatio("2.001")
	assert.Equal(t, sizing.LaneMarks{Max: 11, Min: 5, Reorder: 181}, sizing.Marks(sized(l)), "rounded up")
	l.Fixed = 3
	assert.Equal(t, sizing.LaneMarks{Max: 3, Min: 3, Reorder: 181}, sizing.Marks(sized(l)), "no more than there are")
	l.Fixed, l.Response = 0, 0
	assert.Equal(t, 1, sizing.Marks(sized(l)).Min, "brought at once")
}

// TestMarksAreInOrder: the least is at most the most, the signal comes in time,
// and calling at once never needs more containers.
func TestMarksAreInOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := sized(drawLoop(t, []plant.DemandModel{plant.SteadyModel, plant.NormalModel, plant.PoissonModel}))
		m := sizing.Marks(l)
		require.True(t, 1 <= m.Min && m.Min <= m.Max, "%+v", m)
		require.LessOrEqual(t, m.Reorder, int64(m.Max-1)*l.Pack)
		require.LessOrEqual(t, sizing.OneInterval(l), l.Rule)
	})
}
