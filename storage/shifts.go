package storage

import "lanewright/planner/plant"

func shiftColumns(s *plant.Shift) []column {
	return append([]column{
		{"shift", &s.Shift}, {"days", weekdays(&s.Days)}, {"start_ns", &s.Start}, {"end_ns", &s.End},
	}, origin(&s.Origin)...)
}

func breakColumns(b *plant.Break) []column {
	return append([]column{{"start_ns", &b.Start}, {"length_ns", &b.Length}}, origin(&b.Origin)...)
}

func breaksOf(s *plant.Shift) *[]plant.Break { return &s.Breaks }
