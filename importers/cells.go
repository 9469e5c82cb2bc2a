package importers

import (
	"fmt"

	"lanewright/planner/plant"
)

// cellOfPlant reads a row of the sheet Cells.
func (r *row) cellOfPlant() plant.Cell {
	return plant.Cell{
		Cell:         plant.CellCode(r.must("Cell").code()),
		Name:         r.info("Name").text(),
		Area:         r.info("Area").text(),
		Shifts:       codesOf[plant.ShiftCode](r.may("Shifts")),
		Frontage:     r.may("Frontage").length(1, largestPlace, "a length above 0 and at most 100 km"),
		RackTypes:    codesOf[plant.RackTypeCode](r.may("Rack types allowed")),
		NewRack:      r.place("New rack X", "New rack Y"),
		NewRackPoint: plant.PointCode(r.may("New rack aisle point").code()),
		Origin:       r.origin(),
	}
}

func codesOf[T ~string](s slot) []T {
	var list []T
	for _, c := range s.codes() {
		list = append(list, T(c))
	}
	return list
}

// place reads two coordinates that are given together or not at all.
func (r *row) place(x, y string) *plant.Place {
	sx, sy := r.may(x), r.may(y)
	switch {
	case sx.blank && sy.blank:
		return nil
	case sx.blank || sy.blank:
		half := sx
		if sx.blank {
			half = sy
		}
		half.report(CodeHalf, fmt.Sprintf("The place has only its %s (%s)", half.field, half.found()), "A place needs both coordinates.", "Fill in the other one, or clear this one.")
		return nil
	}
	return &plant.Place{X: sx.coordinate(), Y: sy.coordinate()}
}
