package importers

import "lanewright/planner/plant"

func (r *row) station() plant.Station {
	return plant.Station{
		Station:   plant.StationCode(r.must("Station").code()),
		Cell:      plant.CellCode(r.must("Cell").code()),
		Place:     r.place("X", "Y"),
		WalkLimit: orDefault(r.may("Walk limit").distance(), plant.DefaultWalkLimit),
		Origin:    r.origin(),
	}
}
