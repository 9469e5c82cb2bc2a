package units

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

// Ratio is an exact rational number. The zero value is 0. A Ratio is
// immutable: every operation returns a new one.
type Ratio struct{ r *big.Rat }

// ErrNotANumber says that a text is no decimal number or fraction.
var ErrNotANumber = errors.New("not a number")

// R returns num/den. It panics when den is 0.
func R(num, den int64) Ratio { return Ratio{big.NewRat(num, den)} }

// Int returns n as a Ratio.
func Int(n int64) Ratio { return Ratio{new(big.Rat).SetInt64(n)} }

// Float returns the exact value of a finite float64; anything else is 0.
func Float(f float64) Ratio {
	r := new(big.Rat).SetFloat64(f)
	return Ratio{r}
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
	return Ratio{r}, nil
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

var zero = new(big.Rat)

func (a Ratio) rat() *big.Rat {
	if a.r == nil {
		return zero
	}
	return a.r
}

// Add returns a + b.
func (a Ratio) Add(b Ratio) Ratio { return Ratio{new(big.Rat).Add(a.rat(), b.rat())} }

// Sub returns a − b.
func (a Ratio) Sub(b Ratio) Ratio { return Ratio{new(big.Rat).Sub(a.rat(), b.rat())} }

// Mul returns a · b.
func (a Ratio) Mul(b Ratio) Ratio { return Ratio{new(big.Rat).Mul(a.rat(), b.rat())} }

// Div returns a / b. It panics when b is 0.
func (a Ratio) Div(b Ratio) Ratio { return Ratio{new(big.Rat).Quo(a.rat(), b.rat())} }

// Cmp returns -1, 0 or 1 as a is less than, equal to or greater than b.
func (a Ratio) Cmp(b Ratio) int { return a.rat().Cmp(b.rat()) }

// Equal reports whether a and b are the same number.
func (a Ratio) Equal(b Ratio) bool { return a.Cmp(b) == 0 }

// Sign returns -1, 0 or 1.
func (a Ratio) Sign() int { return a.rat().Sign() }

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
	r := a.rat()
	q, m := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	if m.Sign() < 0 {
		q.Sub(q, big.NewInt(1))
	}
	return clamp(q)
}

// Ceil returns the smallest whole number not below a.
func (a Ratio) Ceil() int64 {
	r := a.rat()
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

// Float64 returns the nearest float64.
func (a Ratio) Float64() float64 {
	f, _ := a.rat().Float64()
	return f
}

// String returns the exact value: a decimal where one exists ("0.995"), else
// a fraction ("1/3"). ParseRatio reads it back to the same number.
func (a Ratio) String() string {
	r := a.rat()
	if r.IsInt() {
		return r.Num().String()
	}
	if n, exact := r.FloatPrec(); exact && n <= 24 {
		return r.FloatString(n)
	}
	return r.String()
}
