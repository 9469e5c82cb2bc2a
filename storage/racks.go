package storage

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func rackTypeColumns(t *plant.RackType) []column {
	return append([]column{
		{"rack_type", &t.RackType}, {"width_nm", &t.Width}, {"depth_nm", &t.Depth}, {"height_nm", &t.Height},
		{"own_mass_ug", &t.OwnMass}, {"mass_limit_ug", &t.MassLimit}, {"cost_millionths", &t.Cost},
		{"on_casters", &t.OnCasters}, {"kit", &t.Kit},
	}, origin(&t.Origin)...)
}

func levelColumns(l *plant.Level) []column {
	return append([]column{
		{"level", &l.Level}, {"kind", &l.Kind}, {"pick_height_nm", &l.PickHeight}, {"drop_nm", &l.Drop},
		{"lane_length_nm", &l.LaneLength}, {"usable_width_nm", &l.UsableWidth},
		{"clear_height_nm", &l.ClearHeight}, {"mass_limit_ug", &l.MassLimit},
	}, origin(&l.Origin)...)
}

func levelsOf(t *plant.RackType) *[]plant.Level { return &t.Levels }

// writeRackTypes and readRackTypes serve facts and plans: a plan keeps the
// rack types it uses, the planner's own among them.
func writeRackTypes(w *writer, types []plant.RackType) {
	writeAll(w, "rack_types", rackTypeColumns, types)
	write(w, "levels", childOf(levelColumns), children(types, levelsOf))
}

func readRackTypes(r *reader) []plant.RackType {
	types := read(r, "rack_types", rackTypeColumns)
	adopt(types, read(r, "levels", childOf(levelColumns)), levelsOf)
	return types
}

func rackColumns(r *plant.Rack) []column {
	columns := []column{
		{"rack", &r.Rack}, {"rack_type", &r.RackType}, {"cell", &r.Cell},
		{"stations", array(&r.Stations)}, {"aisle_point", &r.AislePoint},
	}
	columns = append(columns, place("x_nm", "y_nm", &r.Place)...)
	return append(columns, origin(&r.Origin)...)
}

func fixedLanesColumns(f *plant.FixedLanes) []column {
	return []column{{"level", &f.Level}, {"widths_nm", array[units.Length](&f.Widths)}}
}

func fixedLanesOf(r *plant.Rack) *[]plant.FixedLanes { return &r.FixedLanes }

func currentLaneColumns(l *plant.CurrentLane) []column {
	return append([]column{
		{"rack", &l.Rack}, {"level", &l.Level}, {"lane", &l.Lane},
		{"part", &l.Part}, {"station", &l.Station}, {"containers", &l.Containers},
	}, origin(&l.Origin)...)
}

func pinColumns(p *plant.Pin) []column {
	return append([]column{
		{"part", &p.Part}, {"station", &p.Station}, {"rack", &p.Rack},
		{"level", &p.Level}, {"lane", &p.Lane}, {"reason", &p.Reason},
	}, origin(&p.Origin)...)
}
