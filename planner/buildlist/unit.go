package buildlist

import (
	"fmt"
	"math"

	"lanewright/planner/units"
)

// Unit is how lengths are written for the person who builds.
type Unit string

// Units: millimetres to the tenth, inches to the thirty-second.
const (
	MM     Unit = "mm"
	Inches Unit = "in"
)

// UnitOf is the one that goes with a plant's unit of length.
func UnitOf(lengthUnit string) Unit {
	switch lengthUnit {
	case "in", "ft", "yd":
		return Inches
	}
	return MM
}

// Text writes a length: "1451.2 mm", "57 1/8 in".
func (u Unit) Text(l units.Length) string {
	if u != Inches {
		return fmt.Sprintf("%g mm", math.Round(l.MM()*10)/10)
	}
	if l < 0 {
		return "-" + u.Text(-l)
	}
	const parts = 32
	n := int64(nearest(l, units.Inch/parts) / (units.Inch / parts))
	whole, over, under := n/parts, n%parts, int64(parts)
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	switch {
	case over == 0:
		return fmt.Sprintf("%d in", whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d in", over, under)
	default:
		return fmt.Sprintf("%d %d/%d in", whole, over, under)
	}
}

// round writes a length in a finding, which always has millimetres.
func round(l units.Length) string { return MM.Text(l) }
