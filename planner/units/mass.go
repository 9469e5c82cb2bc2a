package units

import "strconv"

// Mass is a mass in whole micrograms. Its range is ±9.2 million t.
type Mass int64

// Units of mass. The pound is exact by definition (international yard and
// pound agreement, 1959).
const (
	Microgram Mass = 1
	Gram           = 1_000_000 * Microgram
	Kilogram       = 1000 * Gram
	Tonne          = 1000 * Kilogram
	Pound          = 453_592_370 * Microgram
)

// OunceRatio is 1/16 lb = 28 349 523.125 µg: Masses keeps it exact until its
// single rounding.
var OunceRatio = R(int64(Pound), 16)

// KG returns m in kilograms.
func (m Mass) KG() float64 { return float64(m) / float64(Kilogram) }

// Ratio returns m in micrograms as an exact ratio.
func (m Mass) Ratio() Ratio { return Int(int64(m)) }

// String returns m in kilograms, as in "11.5 kg".
func (m Mass) String() string {
	return strconv.FormatFloat(m.KG(), 'f', -1, 64) + " kg"
}

// Masses returns value · unit (in micrograms) rounded to the nearest
// microgram, and whether the result is in range.
func Masses(value, unit Ratio) (Mass, bool) {
	n, ok := nearest(value.Mul(unit))
	return Mass(n), ok
}
