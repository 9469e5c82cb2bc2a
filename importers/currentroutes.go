package importers

import "lanewright/planner/plant"

// currentStop reads a row of the sheet Current routes: one rack on a route that
// is driven today. Vehicle type and interval stand in one row of a route or more.
func (r *row) currentStop() plant.CurrentStop {
	return plant.CurrentStop{
		Route:    plant.TourCode(r.must("Route").code()),
		Order:    int(r.must("Order").whole(1, largestCount)),
		Rack:     plant.RackCode(r.must("Rack").code()),
		Vehicle:  plant.VehicleCode(r.may("Vehicle type").code()),
		Interval: r.may("Interval").interval(),
		Origin:   r.origin(),
	}
}
