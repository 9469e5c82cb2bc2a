package importers

import "lanewright/planner/plant"

func (r *row) rackType() plant.RackType {
	return plant.RackType{
		RackType:  plant.RackTypeCode(r.must("Rack type").code()),
		Width:     r.must("Width").measure(),
		Depth:     r.must("Depth").measure(),
		Height:    r.must("Height").measure(),
		OwnMass:   r.may("Own mass").mass(largestMass),
		MassLimit: r.may("Mass limit").limit(),
		Cost:      r.may("Cost").money(),
		OnCasters: r.may("On casters").yes(false),
		Kit:       plant.KitCode(trim(r.info("Kit").text())),
		Origin:    r.origin(),
	}
}
