package storage

import (
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/units"
)

// TestRatioTextIsExact checks that what Ratio.String writes is read back to
// the same number, however long it is.
func TestRatioTextIsExact(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := units.R(rapid.Int64().Draw(t, "num"), rapid.Int64Min(1).Draw(t, "den"))
		for range rapid.IntRange(0, 12).Draw(t, "factors") {
			r = r.Mul(units.R(rapid.Int64Min(1).Draw(t, "num"), rapid.Int64Min(1).Draw(t, "den")))
		}
		back, err := parseRatio(r.String())
		require.NoError(t, err)
		require.True(t, r.Equal(back), r.String())
	})
}

func TestLongRatios(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("1234567890", 8)
	for _, text := range []string{
		long, "-" + long, long + "/7", "-3/" + long, long + ".000000000000000000000123", "1" + strings.Repeat("0", 70),
	} {
		want, ok := new(big.Rat).SetString(text)
		require.True(t, ok)
		r, err := parseRatio(text)
		require.NoError(t, err, text)
		got, ok := new(big.Rat).SetString(r.String())
		require.True(t, ok)
		assert.Zero(t, want.Cmp(got), text)
	}
	for _, text := range []string{long + "x", long + "/0", "", "1e99999", long + "e5"} {
		_, err := parseRatio(text)
		assert.ErrorIs(t, err, units.ErrNotANumber, text)
	}
}

func TestWeekdays(t *testing.T) {
	t.Parallel()
	for text, days := range map[string][7]bool{
		"":                            {},
		"Sun":                         {true},
		"Mon,Tue,Wed,Thu,Fri":         {false, true, true, true, true, true, false},
		"Sun,Mon,Tue,Wed,Thu,Fri,Sat": {true, true, true, true, true, true, true},
	} {
		v, err := weekdays(&days).Value()
		require.NoError(t, err)
		assert.Equal(t, text, v)
		var back [7]bool
		require.NoError(t, weekdays(&back).Scan(v))
		assert.Equal(t, days, back)
	}
}

func TestSpecialRefusesOtherTypes(t *testing.T) {
	t.Parallel()
	var n int64
	assert.Error(t, whole(&n).Scan("7"))
	var s string
	assert.Error(t, words(&s).Scan(int64(7)))
	var f float64
	assert.Error(t, double(&f).Scan("7"))
	var r units.Ratio
	assert.Error(t, ratio(&r).Scan("seven"))
}
