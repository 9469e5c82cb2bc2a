package importers

import "lanewright/planner/plant"

// everybody is what the sheet calls an aisle that is open to all.
const everybody = "all"

// traffic reads who may use an aisle; blank and "all" are one.
func (r *row) traffic() plant.Traffic {
	who := choice(r.may("Traffic"), plant.AllTraffic, []string{everybody, "both", "everybody"},
		[]string{string(plant.OnlyDriven), "vehicle", "driven", "trucks"}, []string{string(plant.OnlyWalkers), "pedestrians", "on foot", "walking"})
	if who == everybody {
		return plant.AllTraffic
	}
	return who
}

func (r *row) aisle() plant.Aisle {
	return plant.Aisle{
		From:       plant.PointCode(r.must("From").code()),
		To:         plant.PointCode(r.must("To").code()),
		Length:     r.may("Length").distance(),
		OneWay:     r.may("One way").yes(false),
		SpeedLimit: r.may("Speed limit").speed(),
		Traffic:    r.traffic(),
		SingleFile: r.may("Single file").yes(false),
		NoTurning:  !r.may("Turn round").yes(true),
		Origin:     r.origin(),
	}
}
