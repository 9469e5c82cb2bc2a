package units

import "math/big"

// long returns r in its one form: small where it fits. r is not changed
// afterwards.
func long(r *big.Rat) Ratio {
	if r.Num().IsInt64() && r.Denom().IsInt64() && r.Num().Int64() != least {
		return Ratio{num: r.Num().Int64(), over: r.Denom().Int64() - 1}
	}
	return Ratio{long: r}
}

// rat returns a as a big.Rat that must not be changed.
func (a Ratio) rat() *big.Rat {
	if a.long != nil {
		return a.long
	}
	return new(big.Rat).SetFrac64(a.num, a.den())
}

func addLong(a, b Ratio) Ratio { return long(new(big.Rat).Add(a.rat(), b.rat())) }
func subLong(a, b Ratio) Ratio { return long(new(big.Rat).Sub(a.rat(), b.rat())) }
func mulLong(a, b Ratio) Ratio { return long(new(big.Rat).Mul(a.rat(), b.rat())) }
func divLong(a, b Ratio) Ratio { return long(new(big.Rat).Quo(a.rat(), b.rat())) }

func floor(r *big.Rat) int64 {
	q, m := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	if m.Sign() < 0 {
		q.Sub(q, big.NewInt(1))
	}
	return clamp(q)
}

func ceil(r *big.Rat) int64 {
	q, m := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	if m.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return clamp(q)
}

// clamp keeps a whole number within int64, so that a hostile input can not
// wrap around: the result is then the largest or smallest int64.
func clamp(q *big.Int) int64 {
	if q.IsInt64() {
		return q.Int64()
	}
	if q.Sign() < 0 {
		return -1 << 63
	}
	return 1<<63 - 1
}
