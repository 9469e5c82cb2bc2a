package units_test

import (
	"math"
	"math/big"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/units"
)

// whole draws whole numbers of every size, the ends of int64 and the roots of
// its range among them.
func whole(t *rapid.T, name string) int64 {
	edge := rapid.SampledFrom([]int64{
		0, 1, -1, 2, 3, math.MaxInt64, math.MinInt64, math.MaxInt64 - 1, math.MinInt64 + 1,
		1 << 31, 1<<31 - 1, 1 << 32, 1<<32 + 1, -1 << 32, 1 << 53, 1<<53 + 1, 1 << 62, -1 << 62, 3037000499, 3037000500,
	})
	return rapid.OneOf(edge, rapid.Int64(), rapid.Int64Range(-1000, 1000)).Draw(t, name)
}

// fraction draws a ratio with its twin in math/big: small, at the ends of the
// small form, or far beyond.
func fraction(t *rapid.T, name string) (units.Ratio, *big.Rat) {
	draw := func(part string) (units.Ratio, *big.Rat) {
		n, d := whole(t, name+part), whole(t, name+part+"/")
		if d == 0 {
			d = 1
		}
		return units.R(n, d), big.NewRat(n, d)
	}
	a, x := draw("")
	if rapid.IntRange(0, 3).Draw(t, name+" huge") == 0 {
		b, y := draw("·")
		a, x = a.Mul(b), new(big.Rat).Mul(x, y)
	}
	return a, x
}

// same asserts that got is want, and that it has the one form of that number:
// it deeply equals the ratio made of its text, on a way of its own.
func same(t require.TestingT, want *big.Rat, got units.Ratio) {
	text, ok := new(big.Rat).SetString(got.String())
	require.True(t, ok && text.Cmp(want) == 0, "%s, not %s", got, want)
	again := units.Ratio{}
	if num, den := want.Num(), want.Denom(); num.IsInt64() && den.IsInt64() {
		again = units.R(num.Int64(), den.Int64())
		if num.Int64() != math.MinInt64 {
			require.True(t, again == got, "%s has a form of its own", got)
		}
	} else {
		again = build(num).Div(build(den))
	}
	require.True(t, reflect.DeepEqual(again, got), "%#v and %#v", again, got)
	require.True(t, again.Equal(got))
}

// build makes a ratio of a whole number of any size from its digits in base 2³¹.
func build(n *big.Int) units.Ratio {
	base := units.Int(1 << 31)
	sum, rest, digit := units.Ratio{}, new(big.Int).Abs(n), new(big.Int)
	place := units.Int(1)
	for rest.Sign() > 0 {
		rest.DivMod(rest, big.NewInt(1<<31), digit)
		sum = sum.Add(place.Mul(units.Int(digit.Int64())))
		place = place.Mul(base)
	}
	if n.Sign() < 0 {
		return units.Int(0).Sub(sum)
	}
	return sum
}

func TestOperationsAreThoseOfBig(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, x := fraction(t, "a")
		b, y := fraction(t, "b")
		same(t, x, a)
		same(t, new(big.Rat).Add(x, y), a.Add(b))
		same(t, new(big.Rat).Sub(x, y), a.Sub(b))
		same(t, new(big.Rat).Mul(x, y), a.Mul(b))
		if y.Sign() != 0 {
			same(t, new(big.Rat).Quo(x, y), a.Div(b))
		} else {
			require.Panics(t, func() { a.Div(b) })
		}
		require.Equal(t, x.Cmp(y), a.Cmp(b))
		require.Equal(t, x.Cmp(y) == 0, a.Equal(b))
		require.Equal(t, x.Sign(), a.Sign())
		require.Equal(t, x.Sign() == 0, a.IsZero())
		f, _ := x.Float64()
		require.Equal(t, f, a.Float64())
	})
}

func TestRoundingIsThatOfBig(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, x := fraction(t, "a")
		floor := new(big.Int).Div(x.Num(), x.Denom()) // Euclid: down, as the divisor is positive
		ceil := new(big.Int).Neg(new(big.Int).Div(new(big.Int).Neg(x.Num()), x.Denom()))
		require.Equal(t, within(floor), a.Floor())
		require.Equal(t, within(ceil), a.Ceil())
	})
}

func within(n *big.Int) int64 {
	switch {
	case n.IsInt64():
		return n.Int64()
	case n.Sign() < 0:
		return math.MinInt64
	default:
		return math.MaxInt64
	}
}

// written is the text of x by the rule of String, by math/big alone.
func written(x *big.Rat) string {
	if n, exact := x.FloatPrec(); exact && n <= 24 {
		return x.FloatString(n)
	}
	return x.String()
}

func TestTextAndFloatComeBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, x := fraction(t, "a")
		require.Equal(t, written(x), a.String())
		if text := a.String(); len(text) <= 64 {
			back, err := units.ParseRatio(text)
			require.NoError(t, err)
			same(t, x, back)
		}
		d := units.R(whole(t, "digits"), rapid.SampledFrom([]int64{2, 5, 8, 40, 125, 1000, 1 << 20, 1e12, 1e18, 1 << 30, 1 << 62}).Draw(t, "parts"))
		x, _ = new(big.Rat).SetString(d.String())
		same(t, x, d)
		require.Equal(t, written(x), d.String())
		f := rapid.Float64().Draw(t, "f")
		same(t, new(big.Rat).SetFloat64(f), units.Float(f))
	})
	for _, f := range []float64{math.Inf(1), math.Inf(-1), math.NaN()} {
		assert.Equal(t, units.Ratio{}, units.Float(f))
	}
}

// TestEndsOfInt64: the ends of int64 neither wrap around nor get a second form.
func TestEndsOfInt64(t *testing.T) {
	t.Parallel()
	assert.Panics(t, func() { units.R(1, 0) })
	assert.Equal(t, units.Ratio{}, units.Int(0), "the zero value is 0")
	assert.Equal(t, units.R(0, 5), units.Ratio{})
	same(t, big.NewRat(math.MinInt64, 1), units.Int(math.MinInt64))
	same(t, big.NewRat(1, 1), units.R(math.MinInt64, math.MinInt64))
	same(t, big.NewRat(math.MinInt64, math.MaxInt64), units.R(math.MinInt64, math.MaxInt64))
	same(t, big.NewRat(1, math.MinInt64), units.R(1, math.MinInt64))
	same(t, big.NewRat(math.MinInt64, 3), units.R(math.MinInt64, 3))
	assert.Equal(t, units.Int(math.MaxInt64), units.Int(math.MaxInt64).Add(units.Int(1)).Sub(units.Int(1)), "comes back to the small form")
	same(t, new(big.Rat).SetFloat64(math.Ldexp(1, 63)), units.Float(math.Ldexp(1, 63)))
	same(t, new(big.Rat).SetFloat64(-math.Ldexp(1, 63)), units.Float(-math.Ldexp(1, 63)))
}
