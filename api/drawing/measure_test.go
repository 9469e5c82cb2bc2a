package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/units"
)

func TestLengthsInThePlantsUnit(t *testing.T) {
	t.Parallel()
	const in = units.Inch
	for _, c := range []struct {
		unit measure
		l    units.Length
		want string
	}{
		{"mm", 1500 * units.Millimetre, "1500"}, {"mm", 62_540_000, "62.5"}, {"mm", -40_000, "0"}, {"", units.Millimetre, "1"},
		{"cm", 1505 * units.Millimetre, "150.5"}, {"m", 1505 * units.Millimetre, "1.505"},
		{"in", 60 * in, `60"`}, {"in", 59*in + in/16, `59 1/16"`}, {"in", in * 3 / 4, `3/4"`}, {"in", in * 10 / 16, `5/8"`}, {"in", -in / 2, `-1/2"`}, {"in", 0, `0"`},
		{"in", 2*in - in/40, `2"`}, {"in", 25 * units.Millimetre, `1"`},
		{"ft", 60 * in, `5' 0"`}, {"ft", 59*in + in/2, `4' 11 1/2"`}, {"ft", 11 * in, `11"`}, {"yd", 36 * in, `3' 0"`},
	} {
		assert.Equal(t, c.want, c.unit.long(c.l), "%s of %s", c.l, c.unit)
	}
}

func TestSlopes(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "1 in 24", slope(1.0/24))
	assert.Equal(t, "1 in 21.5", slope(-65.0/1400))
	assert.Equal(t, "level", slope(0))
}

// TestSpread: labels keep their distance, in their order, and stay where they are
// when they have it.
func TestSpread(t *testing.T) {
	t.Parallel()
	assert.Equal(t, []float64{0, 5, 20}, spread([]float64{0, 5, 20}, 3))
	assert.InDeltaSlice(t, []float64{8.5, 11.5, 20}, spread([]float64{10, 10, 20}, 3), 1e-9)
	assert.InDeltaSlice(t, []float64{7, 10, 13}, spread([]float64{9, 10, 11}, 3), 1e-9)
	assert.Empty(t, spread(nil, 3))
	assert.Equal(t, []float64{2, 5, 20}, between([]float64{-1, 2, 20}, 3, 2, 30))
	assert.Equal(t, []float64{0, 24, 27}, between([]float64{0, 27, 30}, 3, -1, 27))
}

func TestWrap(t *testing.T) {
	t.Parallel()
	assert.Equal(t, []string{"Nobody climbs", "on a rack."}, wrap("Nobody climbs on a rack.", 2, 16, false))
	assert.Equal(t, []string{"abcdefgh", "ijklmn"}, wrap("abcdefghijklmn", 2, 8.5, false))
	assert.Equal(t, []string{"at", "57\u00a01/8"}, wrap("at 57\u00a01/8", 2, 7, false))
	assert.Equal(t, []string{""}, wrap("  ", 2, 8, false))
}
