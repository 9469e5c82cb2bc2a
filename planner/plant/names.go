package plant

import "iter"

// Names are the plant's own codes: what its people call things, in every sentence
// as they wrote it. Codes may come more than once.
func (p *Plant) Names() iter.Seq[string] {
	return func(yield func(string) bool) {
		more := named(p.Shifts, func(s Shift) ShiftCode { return s.Shift }, yield) &&
			named(p.Products, func(x Product) ProductCode { return x.Product }, yield) &&
			named(p.Parts, func(x Part) PartCode { return x.Part }, yield) &&
			named(p.Containers, func(x Container) ContainerCode { return x.Container }, yield) &&
			named(p.Cells, func(x Cell) CellCode { return x.Cell }, yield) &&
			named(p.Stations, func(x Station) StationCode { return x.Station }, yield) &&
			named(p.RackTypes, func(x RackType) RackTypeCode { return x.RackType }, yield) &&
			named(p.Racks, func(x Rack) RackCode { return x.Rack }, yield) &&
			named(p.AislePoints, func(x AislePoint) PointCode { return x.Point }, yield) &&
			named(p.Vehicles, func(x Vehicle) VehicleCode { return x.Vehicle }, yield) &&
			named(p.CurrentRoutes, func(x CurrentStop) TourCode { return x.Route }, yield) &&
			named(p.Kits, func(x Kit) KitCode { return x.Kit }, yield)
		for i := range p.Kits {
			more = more && named(p.Kits[i].Parts, func(x KitPart) KitPartCode { return x.Part }, yield)
		}
	}
}

func named[T any, C ~string](list []T, code func(T) C, yield func(string) bool) bool {
	for _, x := range list {
		if !yield(string(code(x))) {
			return false
		}
	}
	return true
}
