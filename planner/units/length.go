package units

import "strconv"

// Length is a length in whole nanometres. Its range is ±9.2 million km.
type Length int64

// Units of length. The inch and its multiples are exact by definition
// (international yard and pound agreement, 1959).
const (
	Nanometre  Length = 1
	Millimetre        = 1_000_000 * Nanometre
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25_400_000 * Nanometre
	Foot              = 12 * Inch
	Yard              = 3 * Foot
)

// MM returns l in millimetres.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// Metres returns l in metres.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// Ratio returns l in nanometres as an exact ratio.
func (l Length) Ratio() Ratio { return Int(int64(l)) }

// String returns l in millimetres without trailing zeros, as in "416 mm".
func (l Length) String() string {
	return strconv.FormatFloat(l.MM(), 'f', -1, 64) + " mm"
}

// Lengths returns value · unit rounded to the nearest nanometre, and whether
// the result is in range.
func Lengths(value Ratio, unit Length) (Length, bool) {
	n, ok := nearest(value.Mul(Int(int64(unit))))
	return Length(n), ok
}

// nearest rounds half away from zero.
func nearest(a Ratio) (int64, bool) {
	if a.long == nil && a.over == 0 {
		return a.num, -1<<62 < a.num && a.num < 1<<62
	}
	half := R(1, 2)
	var n int64
	if a.Sign() < 0 {
		n = -(Int(0).Sub(a).Add(half)).Floor()
	} else {
		n = a.Add(half).Floor()
	}
	limit := Int(1 << 62)
	return n, a.Cmp(limit) < 0 && Int(0).Sub(limit).Cmp(a) < 0
}
