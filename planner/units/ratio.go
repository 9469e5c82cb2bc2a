package units

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

// Ratio is an exact rational number. The zero value is 0. A Ratio is
// immutable: every operation returns a new one.
//
// A fraction in lowest terms whose numerator and denominator both lie in
// 1 - 2⁶³ .. 2⁶³ - 1 is held in two int64, which covers nearly every fact of a
// plant and costs no memory of its own; any other is a big.Rat. A number
// has one form only, so equal small ratios are also equal by == and equal
// ratios of any size by reflect.DeepEqual.
type Ratio struct {
	// num over over+1; the denominator is held less 1, so that the zero value
	// is 0/1.
	num, over int64
	// long is nil for a small ratio; otherwise num and over are 0. It is
	// never changed.
	long *big.Rat
}

// ErrNotANumber says that a text is no decimal number or fraction.
var ErrNotANumber = errors.New("not a number")

// R returns num/den. It panics when den is 0.
func R(num, den int64) Ratio {
	if den == 0 {
		panic("units: division by 0")
	}
	if num == least || den == least {
		return long(big.NewRat(num, den))
	}
	if den < 0 {
		num, den = -num, -den
	}
	g := int64(gcd(size(num), uint64(den)))
	return Ratio{num: num / g, over: den/g - 1}
}

// Int returns n as a Ratio.
func Int(n int64) Ratio {
	if n == least {
		return long(new(big.Rat).SetInt64(n))
	}
	return Ratio{num: n}
}

// Float returns the exact value of a finite float64; anything else is 0.
func Float(f float64) Ratio {
	if n := int64(f); float64(n) == f && -1<<53 <= n && n <= 1<<53 {
		return Int(n)
	}
	r := new(big.Rat).SetFloat64(f)
	if r == nil {
		return Ratio{}
	}
	return long(r)
}

// ParseRatio reads "12", "0.08", "1e-3" or "3/8". The decimal mark is a point.
// It refuses exponents beyond ±30, which no quantity of a plant needs.
func ParseRatio(s string) (Ratio, error) {
	s = strings.TrimSpace(s)
	if r, ok := parseShort(s); ok {
		return r, nil
	}
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		var e int
		if _, err := fmt.Sscanf(s[i+1:], "%d", &e); err != nil || e < -30 || e > 30 {
			return Ratio{}, fmt.Errorf("%w: %q", ErrNotANumber, s)
		}
	}
	if len(s) > 64 || strings.ContainsAny(s, "xXpP_bBoO") {
		return Ratio{}, fmt.Errorf("%w: %q", ErrNotANumber, s)
	}
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return Ratio{}, fmt.Errorf("%w: %q", ErrNotANumber, s)
	}
	return long(r), nil
}

// parseShort reads a decimal of at most 18 characters with no sign, which most
// are; it saves the long way.
func parseShort(s string) (Ratio, bool) {
	const longest = 18
	if len(s) > longest {
		return Ratio{}, false
	}
	num, den, digits, point := int64(0), int64(1), 0, false
	for i := range len(s) {
		switch c := s[i]; {
		case c == '.' && !point:
			point = true
		case c < '0' || c > '9':
			return Ratio{}, false
		default:
			num = num*10 + int64(c-'0')
			digits++
			if point {
				den *= 10
			}
		}
	}
	return R(num, den), digits > 0
}

// MustRatio is ParseRatio for constants; it panics on a bad text.
func MustRatio(s string) Ratio {
	r, err := ParseRatio(s)
	if err != nil {
		panic(err)
	}
	return r
}

// Equal reports whether a and b are the same number.
func (a Ratio) Equal(b Ratio) bool { return a.Cmp(b) == 0 }

// IsZero reports whether a is 0.
func (a Ratio) IsZero() bool { return a.Sign() == 0 }

// Max returns the larger of a and b.
func (a Ratio) Max(b Ratio) Ratio {
	if a.Cmp(b) >= 0 {
		return a
	}
	return b
}

// Floor returns the largest whole number not above a.
func (a Ratio) Floor() int64 {
	if a.long != nil {
		return floor(a.long)
	}
	q, m := a.num/a.den(), a.num%a.den()
	if m < 0 {
		q--
	}
	return q
}

// Ceil returns the smallest whole number not below a.
func (a Ratio) Ceil() int64 {
	if a.long != nil {
		return ceil(a.long)
	}
	q, m := a.num/a.den(), a.num%a.den()
	if m > 0 {
		q++
	}
	return q
}

// Float64 returns the nearest float64.
func (a Ratio) Float64() float64 {
	const exact = 1 << 53 // every whole number up to here is a float64
	if a.long == nil && (a.over == 0 || size(a.num) <= exact && a.den() <= exact) {
		return float64(a.num) / float64(a.den()) // rounded once
	}
	f, _ := a.rat().Float64()
	return f
}

// longestDecimal is the most decimal places that String writes.
const longestDecimal = 24

// String returns the exact value: a decimal where one exists ("0.995"), else
// a fraction ("1/3"). ParseRatio reads it back to the same number.
func (a Ratio) String() string {
	if a.long == nil {
		if text, ok := a.short(); ok {
			return text
		}
	}
	r := a.rat()
	if r.IsInt() {
		return r.Num().String()
	}
	if n, exact := r.FloatPrec(); exact && n <= longestDecimal {
		return r.FloatString(n)
	}
	return r.String()
}
