package planner_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/units"
)

func TestSettingsRoundTrip(t *testing.T) {
	t.Parallel()
	changes := map[string]string{
		"length_unit": "in", "mass_unit": "lb", "time_zone": "Europe/Lisbon", "refill_interval_min": "45", "response_min": "7.5",
		"service_level": "98.25", "safety": "10", "interval_choices_min": "10, 20, 40", "side_clearance_mm": "6.35",
		"guide_width_mm": "12", "hand_clearance_mm": "75", "roller_pitch_mm": "66", "fill_limit": "90", "load_limit": "80",
		"busy_limit": "75", "seed": "18446744073709551615", "walk_cost": "0.07", "placement_steps": "9", "proof_steps": "7", "routing_steps": "8", "route_move_price": "25.5", "route_move_limit": "0",
		"deck_height_mm": "700", "pick_reach_mm": "350", "work_height_mm": "950",
		"service_measure": "fill", "shortages_per_year": "2.5", "history_use": "variation", "weeks_per_year": "46.5",
		"handler_cost_hour": "31.25", "vehicle_cost_year": "4200", "rack_life_years": "7.5", "floor_cost_m2_year": "96.000001", "stock_interest": "8.25",
		"prove": "yes", "simulation_weeks": "20", "simulation_warm_up_weeks": "0", "simulation_replications": "25",
		"cover_shift_ends": "yes",
		"choose_intervals": "yes", "design_racks": "yes",
		"keep_cells": `A,"B,1"`, "keep_racks": "R1", "keep_levels": "R2/3", "keep_loops": "P@C/S", "move_limit": "0",
		"move_price": "0.25", "frontage_price": "7.5", "move_container_s": "12.5", "move_walk_m_per_s": "1.25", "move_distance_m": "25", "move_shift_min": "90",
		"simulation_use": "levelled", "simulation_from": "2026-10-19",
	}
	s := planner.DefaultSettings(&plant.Plant{Settings: plant.DefaultSettings()})
	for _, p := range s.Pairs() {
		v, ok := changes[p.Key]
		require.True(t, ok, "no case for setting %s", p.Key)
		require.NotEqual(t, p.Value, v, "%s: the case must change something", p.Key)
		require.NoError(t, s.Set(p.Key, v))
	}
	assert.Equal(t, 450*time.Second, s.Plant.Response)
	assert.Equal(t, time.Date(2026, 10, 19, 0, 0, 0, 0, time.UTC), s.Simulation.From)
	assert.Equal(t, 96*units.Unit+1, s.Plant.Prices.FloorYear)
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
		"placement_steps": {"1.5", "-1"}, "proof_steps": {"x", "-1"}, "service_measure": {"", "fill rate"}, "shortages_per_year": {"0", "-1", "1001"}, "history_use": {"none"},
		"weeks_per_year": {"0", "53.1"}, "handler_cost_hour": {"-1", "1e99", "1000000001"}, "rack_life_years": {"0"}, "stock_interest": {"-1", "101"},
		"prove": {"", "perhaps"}, "simulation_weeks": {"0", "521"}, "simulation_warm_up_weeks": {"-1"}, "simulation_replications": {"0", "1001"},
		"cover_shift_ends": {"perhaps"},
		"choose_intervals": {"perhaps"}, "design_racks": {"perhaps"},
		"keep_cells": {`"A`, "A,,B"}, "move_limit": {"-1", "some"},
		"move_price": {"-1", "x"}, "frontage_price": {"-1"}, "move_container_s": {"-1", "3601"}, "move_walk_m_per_s": {"-1"}, "move_distance_m": {"x"}, "move_shift_min": {"0"},
		"simulation_use": {"steady"}, "simulation_from": {"19.10.2026", "2026-02-30", "0001-01-01"},
	} {
		for _, v := range values {
			before := s.Pairs()
			assert.ErrorIs(t, s.Set(key, v), planner.ErrBadSetting, "%s=%s", key, v)
			assert.Equal(t, before, s.Pairs(), "a refused value changes nothing")
		}
	}
	assert.ErrorIs(t, s.Set("servce_level", "99"), planner.ErrUnknownSetting)
}

func TestSettingsOfAPlay(t *testing.T) {
	t.Parallel()
	p := simulation.DefaultSettings()
	require.NoError(t, planner.SetPlay(&p, "simulation_weeks", "9"))
	assert.Equal(t, 9, p.Weeks)
	assert.Equal(t, simulation.DefaultSettings().Replications, p.Replications)
	assert.ErrorIs(t, planner.SetPlay(&p, "simulation_weeks", "0"), planner.ErrBadSetting)
	assert.ErrorIs(t, planner.SetPlay(&p, "service_level", "99"), planner.ErrUnknownSetting)
	assert.ErrorIs(t, planner.SetPlay(&p, "prove", "yes"), planner.ErrUnknownSetting)
	assert.Equal(t, 9, p.Weeks)
}

// TestListSettings: what a setting is said to take, it takes.
func TestListSettings(t *testing.T) {
	t.Parallel()
	s := planner.DefaultSettings(&plant.Plant{Settings: plant.DefaultSettings()})
	list := planner.ListSettings()
	pairs := s.Pairs()
	require.Len(t, list, len(pairs))
	suffixes := map[string]string{"_min": "min", "_mm": "mm", "_s": "s"}
	for i, l := range list {
		assert.Equal(t, pairs[i].Key, l.Key)
		for suffix, unit := range suffixes {
			if strings.HasSuffix(l.Key, suffix) && !strings.HasSuffix(l.Key, "_per_s") {
				assert.Equal(t, unit, l.Unit, l.Key)
			}
		}
		for _, o := range l.Options {
			assert.NoError(t, s.Set(l.Key, o), "%s=%s", l.Key, o)
		}
		if l.Options != nil {
			assert.ErrorIs(t, s.Set(l.Key, "no such word"), planner.ErrBadSetting, l.Key)
		}
	}
}
