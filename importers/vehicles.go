package importers

import "lanewright/planner/plant"

func (r *row) vehicle() plant.Vehicle {
	return plant.Vehicle{
		Vehicle:    plant.VehicleCode(r.must("Vehicle type").code()),
		Count:      int(r.must("Count").whole(0, largestCount)),
		Containers: int(r.must("Containers").whole(1, largestCount)),
		MassLimit:  r.may("Mass limit").limit(),
		Speed:      r.must("Speed").speed(),
		StopTime:   r.may("Stop time").work(),
		LoadTime:   r.may("Load time").work(),
		UnloadTime: r.may("Unload time").work(),
		EmptyTime:  r.may("Empty time").work(),
		From:       plant.PointCode(r.may("From market").code()),
		OnFoot:     r.may("On foot").yes(false),
		Parking:    plant.PointCode(r.may("Parking").code()),
		Origin:     r.origin(),
	}
}
