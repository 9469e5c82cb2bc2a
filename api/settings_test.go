package api_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestListSettings: a plant's own value stands beside the usual one.
func TestListSettings(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	facts := apitest.Facts()
	facts.Settings.FillLimit = units.R(85, 100)
	_, _, err := s.SaveRevision(t.Context(), apitest.Name, facts, plant.Revision(facts), nil, nil)
	require.NoError(t, err)
	list := decode[wire.Settings](t, call(t, h, "GET", plantPath+"/settings", ""))
	assert.Equal(t, 2, list.RevisionNumber)
	at := map[string]wire.Setting{}
	for _, x := range list.Settings {
		at[x.Key] = x
	}
	assert.Equal(t, wire.Setting{Key: "fill_limit", Value: "85", Usual: "100", Unit: "%", Options: []string{}}, at["fill_limit"])
	assert.Equal(t, []string{"yes", "no"}, at["prove"].Options)
	assert.Equal(t, "min", at["refill_interval_min"].Unit)
	first := decode[wire.Settings](t, call(t, h, "GET", plantPath+"/settings?revision=1", ""))
	assert.Equal(t, "100", first.Settings[15].Value, first.Settings[15].Key)
	assert.Equal(t, 404, call(t, h, "GET", plantPath+"/settings?revision=9", "").Code)
}

// TestSettingsChanged: a plan tells what differs from its own revision's settings.
func TestSettingsChanged(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	p := apitest.Plan()
	require.NoError(t, p.Settings.Set("refill_interval_min", "20"))
	_, err := s.SavePlan(t.Context(), apitest.Name, 1, p)
	require.NoError(t, err)
	type overview struct {
		Changed []string `json:"settings_changed"`
	}
	assert.Empty(t, decode[overview](t, call(t, h, "GET", "/api/v1/plans/1/summary", "")).Changed)
	assert.Equal(t, []string{"refill_interval_min"}, decode[overview](t, call(t, h, "GET", "/api/v1/plans/2/summary", "")).Changed)
}

// TestFindLoops: letters of any code find a loop, capital or not.
func TestFindLoops(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	count := func(find string) int {
		return decode[wire.Page[wire.Loop]](t, call(t, h, "GET", "/api/v1/plans/1/loops?find="+find, "")).Total
	}
	assert.Equal(t, 1, count("le-105"))
	assert.Equal(t, 2, count("WR-90"), "both loops without a lane")
	assert.Equal(t, 18, count("slc"), "the container of all")
	assert.Equal(t, 4, count("%20test/"), "a cell")
	assert.Equal(t, 18, count(""))
	assert.Zero(t, count("nothing"))
}
