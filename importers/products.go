package importers

import "lanewright/planner/plant"

func (r *row) product() plant.Product {
	return plant.Product{
		Product:     plant.ProductCode(r.must("Product").code()),
		Description: r.info("Description").text(),
		UnitsPerDay: r.must("Units per day").number(largestRate),
		Variation:   r.may("Variation").variation(),
		Cell:        plant.CellCode(r.may("Cell").code()),
		Origin:      r.origin(),
	}
}
