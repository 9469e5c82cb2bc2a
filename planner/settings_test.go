package planner_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/plant"
)

func TestSettingsRoundTrip(t *testing.T) {
	t.Parallel()
	changes := map[string]string{
		"length_unit": "in", "mass_unit": "lb", "time_zone": "Europe/Lisbon", "refill_interval_min": "45", "response_min": "7.5",
		"service_level": "98.25", "safety": "10", "interval_choices_min": "10, 20, 40", "side_clearance_mm": "6.35",
		"guide_width_mm": "12", "hand_clearance_mm": "75", "roller_pitch_mm": "66", "fill_limit": "90", "load_limit": "80",
		"busy_limit": "75", "seed": "18446744073709551615", "walk_cost": "0.07", "placement_steps": "9", "routing_steps": "8",
		"deck_height_mm": "700", "pick_reach_mm": "350",
	}
	s := planner.DefaultSettings(&plant.Plant{Settings: plant.DefaultSettings()})
	for _, p := range s.Pairs() {
		v, ok := changes[p.Key]
		require.True(t, ok, "no case for setting %s", p.Key)
		require.NotEqual(t, p.Value, v, "%s: the case must change something", p.Key)
		require.NoError(t, s.Set(p.Key, v))
	}
	assert.Equal(t, 450*time.Second, s.Plant.Response)
	var back planner.Settings
	for _, p := range s.Pairs() {
		assert.Equal(t, changes[p.Key], p.Value)
		require.NoError(t, back.Set(p.Key, p.Value))
	}
	assert.Equal(t, s.Pairs(), back.Pairs())
}

func TestSettingsRefuse(t *testing.T) {
	t.Parallel()
	s := planner.DefaultSettings(&plant.Plant{Settings: plant.DefaultSettings()})
	for key, values := range map[string][]string{
		"service_level": {"100", "0", "-1", "abc", "1e99"}, "refill_interval_min": {"0", "-5", "x", "99999"},
		"interval_choices_min": {"", "20,10", "10,,20"}, "seed": {"-1", "1.5"}, "length_unit": {"furlong"},
		"time_zone": {"Mars/Olympus", "Local", ""}, "fill_limit": {"0", "101"}, "walk_cost": {"NaN", "-1"}, "side_clearance_mm": {"-1", "1e9"},
		"placement_steps": {"1.5", "-1"},
	} {
		for _, v := range values {
			before := s.Pairs()
			assert.ErrorIs(t, s.Set(key, v), planner.ErrBadSetting, "%s=%s", key, v)
			assert.Equal(t, before, s.Pairs(), "a refused value changes nothing")
		}
	}
	assert.ErrorIs(t, s.Set("servce_level", "99"), planner.ErrUnknownSetting)
}
