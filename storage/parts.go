package storage

import "lanewright/planner/plant"

func partColumns(p *plant.Part) []column {
	return append([]column{
		{"part", &p.Part}, {"description", &p.Description}, {"piece_mass_ug", &p.PieceMass},
		{"container", &p.Container}, {"pack", &p.Pack}, {"market_address", &p.MarketAddress},
		{"unit_cost_millionths", &p.UnitCost}, {"two_hands", &p.TwoHands},
		{"keep_apart", &p.KeepApart}, {"look_alike", &p.LookAlike},
	}, origin(&p.Origin)...)
}

func containerColumns(c *plant.Container) []column {
	return append([]column{
		{"container", &c.Container}, {"description", &c.Description},
		{"length_nm", &c.Length}, {"width_nm", &c.Width}, {"height_nm", &c.Height},
		{"empty_mass_ug", &c.EmptyMass}, {"gross_limit_ug", &c.GrossLimit},
		{"returnable", &c.Returnable}, {"flow_side", &c.FlowSide}, {"handles", &c.Handles},
		{"nests", ratio(&c.Nests)},
	}, origin(&c.Origin)...)
}

func productColumns(p *plant.Product) []column {
	return append([]column{
		{"product", &p.Product}, {"description", &p.Description},
		{"units_per_day", ratio(&p.UnitsPerDay)}, {"variation", ratio(&p.Variation)}, {"cell", &p.Cell},
	}, origin(&p.Origin)...)
}

func usageColumns(u *plant.Usage) []column {
	return append([]column{
		{"product", &u.Product}, {"part", &u.Part}, {"cell", &u.Cell}, {"station", &u.Station},
		{"pieces_per_unit", ratio(&u.PerUnit)}, {"pieces_per_hour", ratio(&u.PerHour)},
		{"pieces_per_day", ratio(&u.PerDay)}, {"variation", ratio(&u.Variation)}, {"scrap", ratio(&u.Scrap)},
		{"interval_ns", &u.Interval}, {"response_ns", &u.Response},
		{"service_level", ratio(&u.ServiceLevel)}, {"safety", optionalRatio(&u.Safety)},
		{"model", &u.Model}, {"containers", &u.Containers},
	}, origin(&u.Origin)...)
}

func historyColumns(h *plant.History) []column {
	return append([]column{
		{"product", &h.Product}, {"part", &h.Part}, {"date", &h.Date}, {"units", ratio(&h.Units)},
	}, origin(&h.Origin)...)
}
