package storage

import "lanewright/planner/plant"

func aislePointColumns(p *plant.AislePoint) []column {
	return append([]column{
		{"point", &p.Point}, {"x_nm", &p.Place.X}, {"y_nm", &p.Place.Y}, {"kind", &p.Kind}, {"places", &p.Places},
	}, origin(&p.Origin)...)
}

func aisleColumns(a *plant.Aisle) []column {
	return append([]column{
		{"from_point", &a.From}, {"to_point", &a.To}, {"length_nm", &a.Length},
		{"one_way", &a.OneWay}, {"speed_limit_nm_s", &a.SpeedLimit},
		{"traffic", &a.Traffic}, {"single_file", &a.SingleFile}, {"no_turning", &a.NoTurning},
	}, origin(&a.Origin)...)
}

func vehicleColumns(v *plant.Vehicle) []column {
	return append([]column{
		{"vehicle", &v.Vehicle}, {"count", &v.Count}, {"containers", &v.Containers},
		{"mass_limit_ug", &v.MassLimit}, {"speed_nm_s", &v.Speed}, {"stop_time_ns", &v.StopTime},
		{"load_time_ns", &v.LoadTime}, {"unload_time_ns", &v.UnloadTime},
		{"empty_time_ns", &v.EmptyTime}, {"from_point", &v.From}, {"on_foot", &v.OnFoot}, {"parking", &v.Parking},
	}, origin(&v.Origin)...)
}
