package planner_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestMapAddsUpToThePlan: what the map says of racks sums to what the plan says of
// cells and of itself, and a route's way is as long as its round.
func TestMapAddsUpToThePlan(t *testing.T) {
	t.Parallel()
	in := skerrow(t)
	plan := run(t, in)
	m := planner.MapOf(in.Plant, plan)
	sum := plan.Summary()

	effort := map[plant.CellCode]float64{}
	used, free, lift := 0, 0, 0.0
	require.Len(t, m.Racks, len(plan.Racks))
	for i, u := range m.Racks {
		require.Equal(t, plan.Racks[i].Rack, u.Rack)
		effort[plan.Racks[i].Cell] += u.Effort
		used, free, lift = used+u.Used, free+u.Free, max(lift, u.Lift)
	}
	assert.Equal(t, sum.LanesUsed, used)
	assert.Equal(t, sum.LanesFree, free)
	assert.Greater(t, lift, 1.0, "the made-up plant has lifts above the limit")
	for _, c := range plan.Cells {
		assert.InDelta(t, c.Effort, effort[c.Cell], 1e-6*max(1, c.Effort), c.Cell)
	}

	length := map[[2]plant.PointCode]units.Length{}
	for _, a := range in.Plant.Aisles {
		l := a.Length
		if l == 0 {
			x := plant.NewIndex(in.Plant)
			l = floor.Straight(x.Points[a.From].Place, x.Points[a.To].Place)
		}
		length[[2]plant.PointCode{a.From, a.To}] = l
		if !a.OneWay {
			length[[2]plant.PointCode{a.To, a.From}] = l
		}
	}
	require.Len(t, m.Ways, len(plan.Routes))
	for i, w := range m.Ways {
		r := plan.Routes[i]
		require.Equal(t, r.Route, w.Route)
		assert.Equal(t, r.Market, w.Points[0])
		assert.Equal(t, r.Market, w.Points[len(w.Points)-1])
		var travel units.Length
		for k := 1; k < len(w.Points); k++ {
			l, ok := length[[2]plant.PointCode{w.Points[k-1], w.Points[k]}]
			assert.True(t, ok, "%s drives from %s to %s where no aisle is", r.Route, w.Points[k-1], w.Points[k])
			travel += l
		}
		assert.InDelta(t, r.Travel.Metres(), travel.Metres(), 1e-6, r.Route)
	}
}
