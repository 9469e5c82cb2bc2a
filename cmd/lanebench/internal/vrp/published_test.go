package vrp_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/cmd/lanebench/internal/vrp"
)

// folder is where published problems lie with their best known values
// (best-known.csv: set, instance, ..., best_known in the sixth column).
func folder(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("LANEWRIGHT_ROUTING_PROBLEMS")
	if dir == "" {
		t.Skip("LANEWRIGHT_ROUTING_PROBLEMS names no folder of published routing problems")
	}
	return dir
}

// TestPublished comes within 1 % of what is known to be optimal: Augerat et
// al., Computational results with a branch and cut code for the capacitated
// vehicle routing problem, 1995 (sets A, B, P); values as published with the
// collection CVRPLIB (seen). The smallest is reached.
func TestPublished(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	for _, c := range []struct {
		name  string
		value float64
	}{{"A-n32-k5", 784}, {"A-n80-k10", 1763}, {"B-n78-k10", 1221}, {"P-n101-k4", 681}} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			v, err := vrp.Read(filepath.Join(dir, c.name+".vrp"), "")
			require.NoError(t, err)
			value, ok := recomputed(v, solved(t, v, 300_000))
			assert.True(t, ok)
			assert.LessOrEqual(t, value, 1.01*c.value)
			if c.name == "A-n32-k5" {
				assert.InDelta(t, c.value, value, 0)
			}
			assert.GreaterOrEqual(t, value, c.value, "nothing is below the optimum")
		})
	}
}

// TestNothingBelowTheBestKnown: a few kicks on every problem there is give
// routes that keep all limits, no better than the best known, no worse than a
// tenth above.
func TestNothingBelowTheBestKnown(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	file, err := os.Open(filepath.Join(dir, "best-known.csv"))
	require.NoError(t, err)
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		v, err := vrp.Read(filepath.Join(dir, row[1]+".vrp"), "")
		require.NoError(t, err)
		best, err := strconv.ParseFloat(row[5], 64)
		require.NoError(t, err)
		value, ok := recomputed(v, solved(t, v, 2000))
		assert.True(t, ok, row[1])
		assert.GreaterOrEqual(t, value, best-0.01, row[1])
		assert.LessOrEqual(t, value, 1.1*best, row[1])
	}
}

// recomputed is the length of routes from the coordinates and whether they keep
// all limits, with no help of the package.
func recomputed(v *vrp.Instance, routes [][]int32) (float64, bool) {
	var sum float64
	ok, served := true, map[int32]bool{}
	for _, r := range routes {
		var long, time float64
		var load int64
		x, y := v.X[0], v.Y[0]
		for i := range len(r) + 1 {
			at := int32(0)
			if i < len(r) {
				at = r[i]
				ok = ok && !served[at]
				served[at] = true
			}
			d := math.Hypot(v.X[at]-x, v.Y[at]-y)
			if !v.Exact {
				d = math.Floor(d + 0.5)
			}
			long += d
			load += v.Demand[at]
			time += v.Service[at]
			x, y = v.X[at], v.Y[at]
		}
		sum += long
		ok = ok && load <= v.Capacity && (v.Limit == 0 || long+time <= v.Limit+1e-6)
	}
	return sum, ok && len(served) == len(v.X)-1 && !served[0]
}
