package storage

import "lanewright/planner/finding"

func findingColumns(f *finding.Finding) []column {
	s := &f.Subject
	return append([]column{
		{"severity", &f.Severity}, {"code", &f.Code}, {"summary", &f.Summary},
		{"detail", &f.Detail}, {"remedy", &f.Remedy}, {"source", &f.Source},
		{"subject_part", &s.Part}, {"subject_container", &s.Container}, {"subject_product", &s.Product},
		{"subject_cell", &s.Cell}, {"subject_station", &s.Station}, {"subject_rack_type", &s.RackType},
		{"subject_rack", &s.Rack}, {"subject_level", &s.Level}, {"subject_route", &s.Route},
		{"subject_vehicle", &s.Vehicle}, {"subject_point", &s.Point},
		{"measure_value", optional(&f.Measure, func(m *finding.Measure) *special { return double(&m.Value) })},
		{"measure_limit", optional(&f.Measure, func(m *finding.Measure) *special { return double(&m.Limit) })},
		{"measure_unit", optional(&f.Measure, func(m *finding.Measure) *special { return words(&m.Unit) })},
	}, origin(&f.Origin)...)
}

func relatedOf(f *finding.Finding) *[]finding.Origin { return &f.Related }

// writeFindings and readFindings serve facts and plans, whose tables have no
// prefix, and simulations.
func writeFindings(w *writer, prefix string, l finding.List) {
	writeAll(w, prefix+"findings", findingColumns, l)
	write(w, prefix+"finding_origins", childOf(origin), children(l, relatedOf))
}

func readFindings(r *reader, prefix string) finding.List {
	l := read(r, prefix+"findings", findingColumns)
	adopt(l, read(r, prefix+"finding_origins", childOf(origin)), relatedOf)
	return l
}
