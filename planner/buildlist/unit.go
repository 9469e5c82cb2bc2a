package buildlist

import (
	"fmt"
	"math"
	"strconv"

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
func (u Unit) Text(l units.Length) string { return u.Number(l) + " " + u.Name() }

// Name is the unit's sign.
func (u Unit) Name() string {
	if u == Inches {
		return "in"
	}
	return "mm"
}

// Number writes a length where its unit stands already: "1451.2", "57 1/8".
func (u Unit) Number(l units.Length) string {
	if u != Inches {
		return strconv.FormatFloat(math.Round(l.MM()*10)/10, 'f', -1, 64)
	}
	if l < 0 {
		return "-" + u.Number(-l)
	}
	const parts = 32
	n := int64(nearest(l, units.Inch/parts) / (units.Inch / parts))
	whole, over, under := n/parts, n%parts, int64(parts)
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	switch {
	case over == 0:
		return strconv.FormatInt(whole, 10)
	case whole == 0:
		return fmt.Sprintf("%d/%d", over, under)
	default:
		return fmt.Sprintf("%d %d/%d", whole, over, under)
	}
}

// Mass writes a mass to a tenth: "12.6 kg", with inches "12.6 kg (27.8 lb)".
func (u Unit) Mass(m units.Mass) string {
	text := strconv.FormatFloat(math.Round(m.KG()*10)/10, 'f', -1, 64) + " kg"
	if u == Inches {
		text += fmt.Sprintf(" (%.1f lb)", float64(m)/float64(units.Pound))
	}
	return text
}

// round writes a length in a finding, which always has millimetres.
func round(l units.Length) string { return MM.Text(l) }
