package storage

import (
	"lanewright/planner"
	"lanewright/planner/plant"
)

// settingsColumns binds the one row of facts.settings of a revision.
func settingsColumns(s *plant.Settings) []column {
	p := &s.Prices
	return append([]column{
		{"length_unit", &s.LengthUnit}, {"mass_unit", &s.MassUnit}, {"time_zone", &s.TimeZone},
		{"interval_ns", &s.Interval}, {"response_ns", &s.Response},
		{"service_level", ratio(&s.ServiceLevel)}, {"measure", &s.Measure},
		{"shortages_per_year", ratio(&s.ShortagesPerYear)}, {"safety", ratio(&s.Safety)}, {"history", &s.History},
		{"interval_choices_ns", array(&s.IntervalChoices)},
		{"side_clearance_nm", &s.SideClearance}, {"guide_width_nm", &s.GuideWidth},
		{"hand_clearance_nm", &s.HandClearance}, {"roller_pitch_nm", &s.RollerPitch},
		{"fill_limit", ratio(&s.FillLimit)}, {"load_limit", ratio(&s.LoadLimit)},
		{"busy_limit", ratio(&s.BusyLimit)}, {"weeks_per_year", ratio(&s.WeeksPerYear)},
		{"handler_hour_millionths", &p.HandlerHour}, {"vehicle_year_millionths", &p.VehicleYear},
		{"rack_years", ratio(&p.RackYears)}, {"floor_year_millionths", &p.FloorYear},
		{"stock_interest", ratio(&p.StockInterest)}, {"seed", &s.Seed},
	}, origin(&s.Origin)...)
}

func pairColumns(p *planner.Pair) []column {
	return []column{{"key", &p.Key}, {"value", &p.Value}}
}

// readPlanSettings sets every pair of a plan's settings. One that the program
// of the plan did not know has its default.
func readPlanSettings(r *reader) planner.Settings {
	s := planner.DefaultSettings(&plant.Plant{Settings: plant.DefaultSettings()})
	for _, p := range read(r, "settings", pairColumns) {
		if err := s.Set(p.Key, p.Value); err != nil && r.err == nil {
			r.err = err
		}
	}
	return s
}
