package export

import (
	"math"
	"strings"

	"lanewright/planner/units"
)

// measures turns lengths and masses into the units that the plant's people
// read. Places on the map and ways stay in metres, as the sheets have them.
type measures struct {
	lengthName, massName string
	length               units.Length
	mass                 units.Mass
	// digits that the rounded figures keep behind the point.
	lengthDigits, massDigits int
}

// newMeasures reads the unit names of the Plant sheet; what it does not know
// becomes millimetres or kilograms.
func newMeasures(lengthUnit, massUnit string) measures {
	m := measures{"mm", "kg", units.Millimetre, units.Kilogram, 2, 3}
	switch plainUnit(lengthUnit) {
	case "in", "inch", "inches", `"`, "″":
		m.lengthName, m.length, m.lengthDigits = "in", units.Inch, 3
	case "ft", "foot", "feet":
		m.lengthName, m.length, m.lengthDigits = "ft", units.Foot, 4
	case "cm":
		m.lengthName, m.length, m.lengthDigits = "cm", units.Centimetre, 3
	case "m":
		m.lengthName, m.length, m.lengthDigits = "m", units.Metre, 4
	}
	switch plainUnit(massUnit) {
	case "lb", "lbs", "pound", "pounds":
		m.massName, m.mass = "lb", units.Pound
	case "g":
		m.massName, m.mass, m.massDigits = "g", units.Gram, 1
	}
	return m
}

func plainUnit(s string) string {
	return strings.TrimSuffix(strings.ToLower(strings.TrimSpace(s)), ".")
}

// long is a length in the plant's unit, rounded for reading.
func (m measures) long(l units.Length) float64 {
	return rounded(float64(l)/float64(m.length), m.lengthDigits)
}

// heavy is a mass in the plant's unit, rounded for reading.
func (m measures) heavy(w units.Mass) float64 {
	return rounded(float64(w)/float64(m.mass), m.massDigits)
}

// lengthHead and massHead add the unit to a heading.
func (m measures) lengthHead(s string) string { return s + " (" + m.lengthName + ")" }

func (m measures) massHead(s string) string { return s + " (" + m.massName + ")" }

func rounded(v float64, digits int) float64 {
	scale := math.Pow10(digits)
	return math.Round(v*scale) / scale
}
