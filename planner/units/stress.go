package units

import "strconv"

// Stress is a force per area in whole pascals: the yield stress of a steel, its
// modulus of elasticity.
type Stress int64

// Units of stress.
const (
	Pascal     Stress = 1
	Megapascal        = 1_000_000 * Pascal
	Gigapascal        = 1000 * Megapascal
)

// PSIRatio is 1 lbf/in² in pascals: lbf = 4.4482216152605 N over the square of
// .0254 m, both exact by definition.
var PSIRatio = R(44_482_216_152_605, 6_451_600_000)

// MPa returns s in megapascals, that is in newtons per square millimetre.
func (s Stress) MPa() float64 { return float64(s) / float64(Megapascal) }

// Ratio returns s in pascals as an exact ratio.
func (s Stress) Ratio() Ratio { return Int(int64(s)) }

// String returns s in megapascals without trailing zeros, as in "235 MPa".
func (s Stress) String() string {
	return strconv.FormatFloat(s.MPa(), 'f', -1, 64) + " MPa"
}

// Stresses returns value · unit (in pascals) rounded to the nearest pascal, and
// whether the result is in range.
func Stresses(value, unit Ratio) (Stress, bool) {
	n, ok := nearest(value.Mul(unit))
	return Stress(n), ok
}
