package importers

import "lanewright/planner/plant"

// currentLane reads a row of the sheet Current layout.
func (r *row) currentLane() plant.CurrentLane {
	return plant.CurrentLane{
		Rack:       plant.RackCode(r.must("Rack").code()),
		Level:      int(r.must("Level").whole(1, 100)),
		Lane:       int(r.must("Lane").whole(1, 1000)),
		Part:       plant.PartCode(r.must("Part").code()),
		Station:    plant.StationCode(r.may("Station").code()),
		Containers: int(r.may("Containers").whole(0, largestCount)),
		Origin:     r.origin(),
	}
}
