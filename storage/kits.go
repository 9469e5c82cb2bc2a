package storage

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func kitColumns(k *plant.Kit) []column {
	return append([]column{
		{"kit", &k.Kit}, {"description", &k.Description}, {"cut_step_nm", &k.CutStep}, {"kerf_nm", &k.Kerf},
		{"hole_pitch_nm", &k.HolePitch}, {"first_hole_nm", &k.FirstHole}, {"hole_diameter_nm", &k.HoleDiameter}, {"hole_walls", &k.HoleWalls},
		{"rollers_under", &k.RollersUnder}, {"side_clearance_nm", &k.SideClearance}, {"return_slope", ratio(&k.ReturnSlope)},
		{"centre_support_nm", &k.CentreSupport},
	}, origin(&k.Origin)...)
}

func kitPartColumns(p *plant.KitPart) []column {
	return append([]column{
		{"part", &p.Part}, {"kind", &p.Kind}, {"description", &p.Description}, {"uses", array(&p.Uses)}, {"shape", &p.Shape},
		{"width_nm", &p.Width}, {"height_nm", &p.Height}, {"wall_nm", &p.Wall}, {"corner_radius_nm", &p.CornerRadius},
		{"stock_lengths_nm", array[units.Length](&p.StockLengths)}, {"pitch_nm", &p.Pitch},
		{"mass_ug", &p.Mass}, {"mass_per_metre_ug", &p.MassPerMetre}, {"price_millionths", &p.Price}, {"price_per_metre_millionths", &p.PricePerMetre},
		{"material", &p.Material}, {"yield_pa", &p.Yield}, {"modulus_pa", &p.Modulus}, {"mass_limit_ug", &p.MassLimit}, {"per_joint", &p.PerJoint},
	}, origin(&p.Origin)...)
}

func stockColumns(s *plant.StockBar) []column {
	return append([]column{
		{"part", &s.Part}, {"length_nm", &s.Length}, {"count", &s.Count}, {"place", &s.Place},
	}, origin(&s.Origin)...)
}

func partsOf(k *plant.Kit) *[]plant.KitPart { return &k.Parts }
