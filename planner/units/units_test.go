package units_test

import (
	"math"
	"math/big"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/units"
)

// TestExactUnits: the inch and the pound are exact by the international yard
// and pound agreement of 1959 (NIST SP 811, appendix B; seen in several
// places quoting it).
func TestExactUnits(t *testing.T) {
	t.Parallel()
	length := func(v string, unit units.Length) units.Length {
		l, ok := units.Lengths(units.MustRatio(v), unit)
		require.True(t, ok)
		return l
	}
	mass := func(v string, unit units.Ratio) units.Mass {
		m, ok := units.Masses(units.MustRatio(v), unit)
		require.True(t, ok)
		return m
	}
	pound := units.Pound.Ratio()
	assert.EqualValues(t, 25_400_000, length("1", units.Inch))
	assert.EqualValues(t, 304_800_000, length("1", units.Foot))
	assert.EqualValues(t, 914_400_000, length("1", units.Yard))
	assert.EqualValues(t, 396_875, length("1/64", units.Inch), "1/64 in is whole in nanometres")
	assert.Equal(t, 1219.2, length("48", units.Inch).MM(), "48 x 40 in pallet; ISO 3676 prints 1219")
	assert.Equal(t, 1016.0, length("40", units.Inch).MM())
	assert.InDelta(t, 50.706, 23*float64(units.Kilogram)/float64(units.Pound), 5e-4, "23 kg in lb (recomputed)")
	assert.EqualValues(t, 453_592_370, mass("1", pound))
	assert.EqualValues(t, 23_133_210_870, mass("51", pound), "51 lb")
	assert.EqualValues(t, 28_349_523, mass("1", units.OunceRatio), "28 349 523.125 µg, rounded once")
	assert.EqualValues(t, 453_592_370, mass("16", units.OunceRatio), "16 oz are a pound exactly")
	_, ok := units.Lengths(units.MustRatio("1e20"), units.Metre)
	assert.False(t, ok)
}

// TestFloatTrap is the textbook kanban count that float64 gets wrong.
func TestFloatTrap(t *testing.T) {
	t.Parallel()
	d, w, p, one, c := 2000.0, 0.08, 0.02, 1.10, 22.0
	assert.Equal(t, 11.0, math.Ceil(d*(w+p)*one/c), "what float64 says")
	exact := units.Int(2000).Mul(units.MustRatio("0.08").Add(units.MustRatio("0.02"))).Mul(units.MustRatio("1.10")).Div(units.Int(22))
	assert.EqualValues(t, 10, exact.Ceil())
}

func TestParseRatio(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{"12": "12", " 0.080 ": "0.08", "1e-3": "0.001", "3/8": "0.375", "1/3": "1/3", "-2.50": "-2.5", "100/3": "100/3"} {
		r, err := units.ParseRatio(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, r.String())
	}
	for _, text := range []string{"", "abc", "1e99", "1e-99999999", "0x10", "1_000", "1/0", "NaN", "Inf", "1,5", "1e5e5"} {
		_, err := units.ParseRatio(text)
		assert.ErrorIs(t, err, units.ErrNotANumber, text)
	}
}

func TestDecimalsAreReadExactly(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`-?[0-9]{0,12}\.?[0-9]{0,12}`).Draw(t, "text")
		want, ok := new(big.Rat).SetString(text)
		got, err := units.ParseRatio(text)
		require.Equal(t, ok, err == nil, text)
		if ok {
			back, ok := new(big.Rat).SetString(got.String())
			require.True(t, ok && back.Cmp(want) == 0, "%s read as %s", text, got)
		}
	})
}

func TestRounding(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-1_000_000, 1_000_000).Draw(t, "n")
		d := rapid.Int64Range(1, 1000).Draw(t, "d")
		r := units.R(n, d)
		require.Equal(t, int64(math.Floor(float64(n)/float64(d))), r.Floor())
		require.Equal(t, int64(math.Ceil(float64(n)/float64(d))), r.Ceil())
		back, err := units.ParseRatio(r.String())
		require.NoError(t, err)
		require.True(t, r.Equal(back))
	})
	huge := units.Int(math.MaxInt64).Mul(units.Int(1000))
	assert.EqualValues(t, math.MaxInt64, huge.Ceil(), "never wraps around")
	assert.EqualValues(t, math.MinInt64, units.Int(0).Sub(huge).Floor())
}

func TestArithmeticMatchesBig(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) (units.Ratio, *big.Rat) {
			n, d := rapid.Int64().Draw(t, name), rapid.Int64Range(1, math.MaxInt64).Draw(t, name+"/")
			return units.R(n, d), big.NewRat(n, d)
		}
		a, x := draw("a")
		b, y := draw("b")
		require.Equal(t, new(big.Rat).Add(x, y).Cmp(x), a.Add(b).Cmp(a))
		require.True(t, a.Add(b).Sub(b).Equal(a))
		if !b.IsZero() {
			require.True(t, a.Div(b).Mul(b).Equal(a))
		}
		require.Equal(t, x.Cmp(y) >= 0, a.Max(b).Equal(a))
	})
}

func TestSpeed(t *testing.T) {
	t.Parallel()
	assert.Equal(t, 50*time.Second, units.MetrePerSecond.Time(50*units.Metre))
	assert.Equal(t, "7.5", units.Minutes(450*time.Second).String())
}

func TestStrings(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "416 mm", (416 * units.Millimetre).String())
	assert.Equal(t, "387.35 mm", (15*units.Inch + units.Inch/4).String())
	assert.Equal(t, "11.5 kg", (11*units.Kilogram + 500*units.Gram).String())
	assert.Equal(t, "1250.5", (1250*units.Unit + units.Unit/2).String())
}

// TestStress: 29,000 ksi are 199.948 GPa (recomputed from exact definitions).
func TestStress(t *testing.T) {
	t.Parallel()
	e, ok := units.Stresses(units.Int(29_000_000), units.PSIRatio)
	assert.True(t, ok)
	assert.InDelta(t, 199.948, float64(e)/float64(units.Gigapascal), 5e-4)
	psi, _ := units.Stresses(units.Int(1), units.PSIRatio)
	assert.Equal(t, units.Stress(6895), psi)
	assert.InDelta(t, 6894.757293168, units.PSIRatio.Float64(), 5e-10, "1 psi in Pa (recomputed)")
	assert.Equal(t, "235 MPa", (235 * units.Megapascal).String())
	assert.True(t, e.Ratio().Equal(units.Int(int64(e))))
}
