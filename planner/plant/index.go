package plant

import (
	"cmp"
	"slices"
)

// StationKey names a station in the whole plant.
type StationKey struct {
	Cell    CellCode
	Station StationCode
}

// Index finds facts by code. It is built once over a plant that is not changed
// afterwards; where a code stands twice the first row counts.
type Index struct {
	Plant      *Plant
	Parts      map[PartCode]*Part
	Containers map[ContainerCode]*Container
	Products   map[ProductCode]*Product
	Cells      map[CellCode]*Cell
	Stations   map[StationKey]*Station
	RackTypes  map[RackTypeCode]*RackType
	Racks      map[RackCode]*Rack
	Points     map[PointCode]*AislePoint
	Shifts     map[ShiftCode]*Shift
	Vehicles   map[VehicleCode]*Vehicle
	Kits       map[KitCode]*Kit
}

// NewIndex indexes p.
func NewIndex(p *Plant) *Index {
	return &Index{
		Plant:      p,
		Parts:      by(p.Parts, func(x *Part) PartCode { return x.Part }),
		Containers: by(p.Containers, func(x *Container) ContainerCode { return x.Container }),
		Products:   by(p.Products, func(x *Product) ProductCode { return x.Product }),
		Cells:      by(p.Cells, func(x *Cell) CellCode { return x.Cell }),
		Stations:   by(p.Stations, func(x *Station) StationKey { return StationKey{x.Cell, x.Station} }),
		RackTypes:  by(p.RackTypes, func(x *RackType) RackTypeCode { return x.RackType }),
		Racks:      by(p.Racks, func(x *Rack) RackCode { return x.Rack }),
		Points:     by(p.AislePoints, func(x *AislePoint) PointCode { return x.Point }),
		Shifts:     by(p.Shifts, func(x *Shift) ShiftCode { return x.Shift }),
		Vehicles:   by(p.Vehicles, func(x *Vehicle) VehicleCode { return x.Vehicle }),
		Kits:       by(p.Kits, func(x *Kit) KitCode { return x.Kit }),
	}
}

func by[K comparable, T any](list []T, key func(*T) K) map[K]*T {
	m := make(map[K]*T, len(list))
	for i := range list {
		if k := key(&list[i]); m[k] == nil {
			m[k] = &list[i]
		}
	}
	return m
}

// CellShifts returns the shifts that cell works, ordered by start, then code:
// the order of the sheet means nothing. A cell that names no shift works all.
func (x *Index) CellShifts(cell CellCode) []Shift {
	c := x.Cells[cell]
	if c == nil || len(c.Shifts) == 0 {
		return x.AllShifts()
	}
	return slices.DeleteFunc(x.AllShifts(), func(s Shift) bool { return !slices.Contains(c.Shifts, s.Shift) })
}

// AllShifts returns the plant's shifts, ordered by start, then code.
func (x *Index) AllShifts() []Shift {
	shifts := slices.Clone(x.Plant.Shifts)
	slices.SortStableFunc(shifts, func(a, b Shift) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.Shift, b.Shift))
	})
	return shifts
}
