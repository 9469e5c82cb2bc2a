package vrp_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/cmd/lanebench/internal/vrp"
)

// TestFloor: ways on a made-up floor obey the triangle inequality, differ by direction
// where aisles are one-way and only there, are whole and never endless; a file of it
// is read back as it was, and no routes are below its bound.
func TestFloor(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		oneWay float64
		seed   uint64
	}{{0, 1}, {0.5, 2}, {1, 3}} {
		v := vrp.Floor(60, c.oneWay, c.seed)
		n := v.Nodes()
		require.Equal(t, 61, n)
		directed := 0
		for a := range n {
			assert.Zero(t, v.Leg(a, a))
			for b := range n {
				if a != b {
					require.Positive(t, v.Leg(a, b))
				}
				if v.Leg(a, b) != v.Leg(b, a) {
					directed++
				}
				for z := range n {
					require.LessOrEqual(t, v.Leg(a, b), v.Leg(a, z)+v.Leg(z, b))
				}
			}
		}
		assert.Equal(t, c.oneWay > 0, directed > n*n/4, "%d of %d ways differ by direction", directed, n*n)
		back, err := vrp.Parse(v.Text())
		require.NoError(t, err)
		assert.Equal(t, v, back)
		value, ok := recomputed(v, solved(t, v, 3000))
		assert.True(t, ok)
		assert.GreaterOrEqual(t, value, v.Bound())
	}
	assert.Equal(t, vrp.Floor(30, 0.5, 7), vrp.Floor(30, 0.5, 7))
	assert.NotEqual(t, vrp.Floor(30, 0.5, 7).Table, vrp.Floor(30, 0.5, 8).Table)
}
