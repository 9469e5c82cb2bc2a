package units

import "strconv"

// Money is an amount in millionths of the plant's currency.
type Money int64

// Unit is one whole unit of the plant's currency.
const Unit Money = 1_000_000

// Float64 returns m in whole units of the currency.
func (m Money) Float64() float64 { return float64(m) / float64(Unit) }

// String returns m in whole units without trailing zeros.
func (m Money) String() string { return strconv.FormatFloat(m.Float64(), 'f', -1, 64) }

// Amount returns value in millionths, rounded, and whether it is in range.
func Amount(value Ratio) (Money, bool) {
	n, ok := nearest(value.Mul(Int(int64(Unit))))
	return Money(n), ok
}
