package api_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner/units"
)

func TestComparePlans(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	other := apitest.Plan()
	a, b := &other.Lanes[1], &other.Lanes[2]
	a.Loop, b.Loop = b.Loop, a.Loop
	other.Routes[0].Travel += 30 * units.Metre
	other.Unplaced = nil
	_, err := s.SavePlan(t.Context(), apitest.Name, 1, other)
	require.NoError(t, err)
	c := decode[wire.Comparison](t, call(t, h, "GET", "/api/v1/plans/1/compare/2", ""))
	assert.Equal(t, int64(1), c.Before.ID)
	assert.Equal(t, int64(2), c.After.ID)
	require.Len(t, c.Loops, 2)
	assert.True(t, c.Loops[0].Moved)
	require.Len(t, c.Racks, 1)
	assert.Equal(t, 2, c.Racks[0].Changed)
	require.Len(t, c.Routes, 1)
	assert.InDelta(t, 30, c.Routes[0].After.TravelM-c.Routes[0].Before.TravelM, 1e-9)
	assert.Equal(t, "containers without a lane", c.Totals[3].Name)
	assert.Equal(t, 8.0, c.Totals[3].Before)
	assert.Zero(t, c.Totals[3].After)
	same := decode[wire.Comparison](t, call(t, h, "GET", "/api/v1/plans/2/compare/2", ""))
	assert.Empty(t, same.Loops)
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/plans/1/compare/9", "").Code)
}

func TestChoices(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	c := decode[wire.Choices](t, call(t, h, "GET", plantPath+"/choices?intervals=30,60", ""))
	require.Len(t, c.Choices, 2)
	assert.Equal(t, 30.0, c.Choices[0].IntervalMin)
	assert.Equal(t, 60.0, c.Choices[1].IntervalMin)
	assert.LessOrEqual(t, c.Choices[0].Containers, c.Choices[1].Containers, "a shorter interval needs no more containers")
	for _, bad := range []string{"?intervals=0", "?intervals=30,x", "?service_levels=101"} {
		assert.Equal(t, 422, call(t, h, "GET", plantPath+"/choices"+bad, "").Code, bad)
	}
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/plants/none/choices", "").Code)
	assert.Equal(t, 404, call(t, h, "GET", plantPath+"/choices?revision=9", "").Code)
}
