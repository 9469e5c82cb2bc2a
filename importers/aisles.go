package importers

import "lanewright/planner/plant"

func (r *row) aisle() plant.Aisle {
	return plant.Aisle{
		From:       plant.PointCode(r.must("From").code()),
		To:         plant.PointCode(r.must("To").code()),
		Length:     r.may("Length").distance(),
		OneWay:     r.may("One way").yes(false),
		SpeedLimit: r.may("Speed limit").speed(),
		Origin:     r.origin(),
	}
}
