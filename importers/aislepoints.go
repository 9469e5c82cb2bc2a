package importers

import "lanewright/planner/plant"

func (r *row) aislePoint() plant.AislePoint {
	return plant.AislePoint{
		Point: plant.PointCode(r.must("Point").code()),
		Place: plant.Place{X: r.must("X").coordinate(), Y: r.must("Y").coordinate()},
		Kind: choice(r.may("Kind"), plant.Crossing, []string{"market", "supermarket"}, []string{"stop"},
			[]string{"crossing", "junction"}, []string{"parking", "park"}),
		Places: int(r.may("Places").whole(1, largestCount)),
		Origin: r.origin(),
	}
}
