package importers

import "lanewright/planner/plant"

func (r *row) pin() plant.Pin {
	return plant.Pin{
		Part:    plant.PartCode(r.must("Part").code()),
		Station: plant.StationCode(r.may("Station").code()),
		Rack:    plant.RackCode(r.must("Rack").code()),
		Level:   int(r.may("Level").whole(1, 100)),
		Lane:    int(r.may("Lane").whole(1, 1000)),
		Reason:  r.info("Reason").text(),
		Origin:  r.origin(),
	}
}
