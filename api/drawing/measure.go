package drawing

import (
	"fmt"
	"math"
	"strconv"

	"lanewright/planner/units"
)

// measure writes lengths in a plant's unit.
type measure string

// imperial reports whether the plant measures in inches, feet or yards.
func (m measure) imperial() bool { return m == "in" || m == "ft" || m == "yd" }

// sheet is the paper the plant prints on.
func (m measure) sheet() Size {
	if m.imperial() {
		return letter
	}
	return a4
}

// name is the unit as a title says it.
func (m measure) name() string {
	switch m {
	case "in":
		return "inches"
	case "ft", "yd":
		return "feet and inches"
	case "cm", "m":
		return string(m)
	}
	return "mm"
}

// long writes a length: mm to a tenth, inches to the nearest sixteenth as tapes
// have them.
func (m measure) long(l units.Length) string {
	switch m {
	case "in":
		return inches(l)
	case "ft", "yd":
		return feet(l)
	case "cm":
		return decimal(float64(l)/float64(units.Centimetre), 2)
	case "m":
		return decimal(l.Metres(), 4)
	}
	return decimal(l.MM(), 1)
}

// decimal writes f with at most so many digits.
func decimal(f float64, digits int) string {
	scale := math.Pow10(digits)
	return strconv.FormatFloat(math.Round(f*scale)/scale+0, 'f', -1, 64)
}

// sixteenths are those nearest to a length.
func sixteenths(l units.Length) int64 {
	return int64(math.Round(float64(l) / (float64(units.Inch) / 16)))
}

// inches writes 59 1/16".
func inches(l units.Length) string {
	n := sixteenths(l)
	if n < 0 {
		return "-" + inches(-l)
	}
	whole, part, of := n/16, n%16, int64(16)
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	switch {
	case part == 0:
		return fmt.Sprintf(`%d"`, whole)
	case whole == 0:
		return fmt.Sprintf(`%d/%d"`, part, of)
	}
	return fmt.Sprintf(`%d %d/%d"`, whole, part, of)
}

// feet writes 4' 11 1/16", and inches alone below a foot.
func feet(l units.Length) string {
	n := sixteenths(l)
	if n < 192 {
		return inches(l)
	}
	return fmt.Sprintf("%d' %s", n/192, inches(units.Length(n%192)*(units.Inch/16)))
}

// slope writes drop over length as people say it: 1 in 24.
func slope(s float64) string {
	if math.Abs(s) < 1e-4 {
		return "level"
	}
	return "1 in " + decimal(1/math.Abs(s), 1)
}

// metricScales and inchScales are how many times smaller a drawing may be: those
// of ISO 5455 with steps between, from memory, and those that whole fractions of
// an inch to the foot make.
var (
	metricScales = [...]float64{1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 500, 1000}
	inchScales   = [...]float64{1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384, 768, 1536}
)

// scale is the first of the unit's scales at which fits says yes, else the
// smallest.
func (m measure) scale(fits func(times float64) bool) float64 {
	scales := metricScales[:]
	if m.imperial() {
		scales = inchScales[:]
	}
	for _, s := range scales {
		if fits(s) {
			return s
		}
	}
	return scales[len(scales)-1]
}
