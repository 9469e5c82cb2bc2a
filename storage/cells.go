package storage

import "lanewright/planner/plant"

func cellColumns(c *plant.Cell) []column {
	columns := []column{
		{"cell", &c.Cell}, {"name", &c.Name}, {"area", &c.Area}, {"shifts", array(&c.Shifts)},
		{"frontage_nm", &c.Frontage}, {"rack_types", array(&c.RackTypes)},
		{"new_rack_point", &c.NewRackPoint},
	}
	columns = append(columns, place("new_rack_x_nm", "new_rack_y_nm", &c.NewRack)...)
	return append(columns, origin(&c.Origin)...)
}

func stationColumns(s *plant.Station) []column {
	columns := []column{{"station", &s.Station}, {"cell", &s.Cell}, {"walk_limit_nm", &s.WalkLimit}}
	columns = append(columns, place("x_nm", "y_nm", &s.Place)...)
	return append(columns, origin(&s.Origin)...)
}
