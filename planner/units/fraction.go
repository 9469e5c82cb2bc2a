package units

// Fraction returns a as a reduced fraction with den above 0; ok is false where
// one of the two is beyond int64.
func (a Ratio) Fraction() (num, den int64, ok bool) {
	r := a.rat()
	if !r.Num().IsInt64() || !r.Denom().IsInt64() {
		return 0, 0, false
	}
	return r.Num().Int64(), r.Denom().Int64(), true
}
