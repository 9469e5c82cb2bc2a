package api_test

import (
	"fmt"
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/wire"
)

// TestRoundsOfThePublishedPlan: the floor works to the published plan, whatever was
// planned since.
func TestRoundsOfThePublishedPlan(t *testing.T) {
	t.Parallel()
	now := monday
	h, s := onFloor(t, "Europe/Berlin", &now)
	rounds := "/api/v1/rounds?day=2026-10-19&plant=" + url.QueryEscape(apitest.FloorName)
	first := decode[wire.DayRounds](t, call(t, h, "GET", rounds, "")).Plan
	again, err := s.LoadPlan(t.Context(), first)
	require.NoError(t, err)
	second, err := s.SavePlan(t.Context(), apitest.FloorName, 1, again)
	require.NoError(t, err)
	assert.Equal(t, second.ID, decode[wire.DayRounds](t, call(t, h, "GET", rounds, "")).Plan, "none is published: the latest counts")

	w := call(t, h, "POST", fmt.Sprintf("/api/v1/plans/%d/publish", first), `{"by":"Kim"}`, jsonBody)
	require.Equal(t, 200, w.Code, w.Body)
	assert.Equal(t, first, decode[wire.DayRounds](t, call(t, h, "GET", rounds, "")).Plan)
}
