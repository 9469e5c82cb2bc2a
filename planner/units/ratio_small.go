package units

import (
	"cmp"
	"math"
	"math/bits"
	"strconv"
	"strings"
)

// least is the one int64 whose negative is none; a small ratio never holds it.
const least = math.MinInt64

// den is the denominator of a small ratio, 1 or more.
func (a Ratio) den() int64 { return a.over + 1 }

// small reports whether both a and b are small.
func small(a, b Ratio) bool { return a.long == nil && b.long == nil }

// Add returns a + b.
func (a Ratio) Add(b Ratio) Ratio {
	if small(a, b) {
		if r, ok := add(a, b); ok {
			return r
		}
	}
	return addLong(a, b)
}

// Sub returns a − b.
func (a Ratio) Sub(b Ratio) Ratio {
	if small(a, b) {
		if r, ok := add(a, Ratio{num: -b.num, over: b.over}); ok {
			return r
		}
	}
	return subLong(a, b)
}

// Mul returns a · b.
func (a Ratio) Mul(b Ratio) Ratio {
	if small(a, b) {
		if r, ok := mul(a.num, a.den(), b.num, b.den()); ok {
			return r
		}
	}
	return mulLong(a, b)
}

// Div returns a / b. It panics when b is 0.
func (a Ratio) Div(b Ratio) Ratio {
	if small(a, b) && b.num != 0 {
		num, den := b.den(), b.num
		if den < 0 {
			num, den = -num, -den
		}
		if r, ok := mul(a.num, a.den(), num, den); ok {
			return r
		}
	}
	return divLong(a, b)
}

// Cmp returns -1, 0 or 1 as a is less than, equal to or greater than b.
func (a Ratio) Cmp(b Ratio) int {
	if !small(a, b) {
		return a.rat().Cmp(b.rat())
	}
	if a.over == b.over {
		return cmp.Compare(a.num, b.num)
	}
	if s, o := sign(a.num), sign(b.num); s != o || s == 0 {
		return sign(int64(s - o))
	}
	// |a| against |b| by the products across, in 128 bits.
	ah, al := bits.Mul64(size(a.num), uint64(b.den()))
	bh, bl := bits.Mul64(size(b.num), uint64(a.den()))
	switch {
	case ah == bh && al == bl:
		return 0
	case ah < bh || ah == bh && al < bl:
		return -sign(a.num)
	default:
		return sign(a.num)
	}
}

// Sign returns -1, 0 or 1.
func (a Ratio) Sign() int {
	if a.long != nil {
		return a.long.Sign()
	}
	return sign(a.num)
}

// add returns a + b of small ratios, false where a step leaves int64. With
// g = gcd of the denominators only gcd(sum, g) can still be cancelled (Knuth,
// The Art of Computer Programming 2, 4.5.1; from memory).
func add(a, b Ratio) (Ratio, bool) {
	if a.over == 0 && b.over == 0 {
		n, ok := plus(a.num, b.num)
		return Ratio{num: n}, ok
	}
	g := int64(gcd(uint64(a.den()), uint64(b.den())))
	x, ok1 := times(a.num, b.den()/g)
	y, ok2 := times(b.num, a.den()/g)
	num, ok3 := plus(x, y)
	if !ok1 || !ok2 || !ok3 {
		return Ratio{}, false
	}
	h := int64(gcd(size(num), uint64(g)))
	den, ok := times(a.den()/g, b.den()/h)
	return Ratio{num: num / h, over: den - 1}, ok
}

// mul returns (a/b)·(c/d) of two fractions in lowest terms with b, d above 0,
// false where the result leaves int64. Cancelled across, it is in lowest terms.
func mul(a, b, c, d int64) (Ratio, bool) {
	g, h := int64(gcd(size(a), uint64(d))), int64(gcd(size(c), uint64(b)))
	num, ok1 := times(a/g, c/h)
	den, ok2 := times(b/h, d/g)
	return Ratio{num: num, over: den - 1}, ok1 && ok2
}

// short is String of a small ratio, false where its digits leave int64.
func (a Ratio) short() (string, bool) {
	if a.over == 0 {
		return strconv.FormatInt(a.num, 10), true
	}
	places, decimal := places(a.den())
	if !decimal || places > longestDecimal {
		return strconv.FormatInt(a.num, 10) + "/" + strconv.FormatInt(a.den(), 10), true
	}
	const most = 18 // 10¹⁸ is in int64
	if places > most {
		return "", false
	}
	ten := int64(1)
	for range places {
		ten *= 10
	}
	scaled, ok := times(a.num, ten/a.den())
	digits := strconv.FormatUint(size(scaled), 10)
	digits = strings.Repeat("0", max(0, places+1-len(digits))) + digits
	text := digits[:len(digits)-places] + "." + digits[len(digits)-places:]
	if a.num < 0 {
		text = "-" + text
	}
	return text, ok
}

// places is how many decimal places 1/den has, false where they never end.
func places(den int64) (int, bool) {
	twos := bits.TrailingZeros64(uint64(den))
	den >>= twos
	fives := 0
	for ; den%5 == 0; den /= 5 {
		fives++
	}
	return max(twos, fives), den == 1
}

// plus returns a + b, false where it leaves ±(2⁶³ - 1).
func plus(a, b int64) (int64, bool) {
	n := a + b
	return n, (n > a) == (b > 0) && n != least
}

// times returns a · b, false where it leaves ±(2⁶³ - 1).
func times(a, b int64) (int64, bool) {
	high, low := bits.Mul64(size(a), size(b))
	if high != 0 || low > math.MaxInt64 {
		return 0, false
	}
	if (a < 0) != (b < 0) {
		return -int64(low), true
	}
	return int64(low), true
}

// size is |n|.
func size(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

func sign(n int64) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}

// gcd is the greatest common divisor, gcd(0, b) = b; b is above 0. After one
// division it goes on in binary (Stein 1967, as in Knuth 4.5.2; from memory).
func gcd(a, b uint64) uint64 {
	if b == 1 {
		return 1
	}
	if a %= b; a == 0 {
		return b
	}
	shift := bits.TrailingZeros64(a | b)
	a >>= bits.TrailingZeros64(a)
	for b != 0 {
		b >>= bits.TrailingZeros64(b)
		if a > b {
			a, b = b, a
		}
		b -= a
	}
	return a << shift
}
