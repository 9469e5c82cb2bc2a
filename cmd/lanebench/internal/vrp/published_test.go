package vrp_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/cmd/lanebench/internal/vrp"
)

// folder is where published problems lie with their best known values
// (best-known.csv: set, instance, ..., best_known in the sixth column): the one that
// LANEWRIGHT_ROUTING_PROBLEMS names, or shared/data/routing beside the checkout or
// any folder that holds it.
func folder(t *testing.T) string {
	t.Helper()
	if dir := os.Getenv("LANEWRIGHT_ROUTING_PROBLEMS"); dir != "" {
		return dir
	}
	at, err := os.Getwd()
	require.NoError(t, err)
	for ; at != filepath.Dir(at); at = filepath.Dir(at) {
		dir := filepath.Join(at, "shared", "data", "routing")
		if _, err := os.Stat(filepath.Join(dir, "best-known.csv")); err == nil {
			return dir
		}
	}
	t.Skip("no folder shared/data/routing beside the checkout, and LANEWRIGHT_ROUTING_PROBLEMS names none")
	return ""
}

// TestAugerat reaches 784 on A-n32-k5, which is optimal: Augerat et al., Computational
// results with a branch and cut code for the capacitated vehicle routing problem, 1995;
// places, loads and value as published with the collection CVRPLIB (seen).
func TestAugerat(t *testing.T) {
	t.Parallel()
	v, err := vrp.Read(filepath.Join("testdata", "A-n32-k5.vrp"), "")
	require.NoError(t, err)
	routes := solved(t, v, 300_000)
	value, ok := recomputed(v, routes)
	assert.True(t, ok)
	assert.InDelta(t, 784, value, 0)
	assert.Len(t, routes, 5)
}

// TestPublished comes within 1 % of what is known to be optimal: sets A, B and P of
// Augerat et al. 1995 (see TestAugerat). What is written out in testdata is what was
// published.
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
			if c.name == "A-n32-k5" {
				own, err := vrp.Read(filepath.Join("testdata", c.name+".vrp"), "")
				require.NoError(t, err)
				assert.Equal(t, v, own)
			}
			value, ok := recomputed(v, solved(t, v, 300_000))
			assert.True(t, ok)
			assert.LessOrEqual(t, value, 1.01*c.value)
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

// TestMadeUp: the same on problems like those of Uchoa et al., New benchmark
// instances for the capacitated vehicle routing problem, European Journal of
// Operational Research 257, 2017, 845-858 (rules from memory), read from text as
// files are; nothing is below the bound, and time helps.
func TestMadeUp(t *testing.T) {
	t.Parallel()
	for seed := range uint64(6) {
		v, err := vrp.Parse(madeUp(40+30*int(seed), seed))
		require.NoError(t, err)
		if seed%2 == 1 {
			v.Exact, v.Limit = true, 4000
			v.Service = slices.Repeat([]float64{10}, v.Nodes())
			v.Service[0] = 0
		}
		first, ok := recomputed(v, solved(t, v, 1))
		assert.True(t, ok, "seed %d", seed)
		value, ok := recomputed(v, solved(t, v, 60_000))
		assert.True(t, ok, "seed %d", seed)
		assert.Less(t, value, first, "seed %d", seed)
		assert.GreaterOrEqual(t, value, v.Bound(), "seed %d", seed)
	}
}

// madeUp is a problem of n stops: the depot in the middle, in a corner or
// anywhere, stops scattered or around a few centres, loads alike, mixed or many
// small and few large, from three to fifteen stops a route.
func madeUp(n int, seed uint64) string {
	rnd := rand.New(rand.NewPCG(seed, 4))
	depots := [][2]int{{500, 500}, {0, 0}, {rnd.IntN(1001), rnd.IntN(1001)}}
	at := depots[rnd.IntN(len(depots))]
	places, loads := fmt.Sprintf("1 %d %d\n", at[0], at[1]), "1 0\n"
	centres := [][2]int{{rnd.IntN(1001), rnd.IntN(1001)}, {rnd.IntN(1001), rnd.IntN(1001)}, {rnd.IntN(1001), rnd.IntN(1001)}}
	total, most := 0, 1
	for i := range n {
		x, y := rnd.IntN(1001), rnd.IntN(1001)
		if seed%3 > 0 && rnd.IntN(2) == 0 {
			c := centres[rnd.IntN(len(centres))]
			x, y = c[0]+int(60*rnd.NormFloat64()), c[1]+int(60*rnd.NormFloat64())
		}
		load := [...]int{1, 1 + rnd.IntN(100), 1 + rnd.IntN(10)}[seed%3]
		if seed%3 == 2 && rnd.IntN(5) == 0 {
			load = 50 + rnd.IntN(51)
		}
		places += fmt.Sprintf("%d %d %d\n", i+2, x, y)
		loads += fmt.Sprintf("%d %d\n", i+2, load)
		total, most = total+load, max(most, load)
	}
	capacity := max((3+rnd.IntN(13))*total/n, most)
	return fmt.Sprintf("NAME : made-up-%d\nTYPE : CVRP\nDIMENSION : %d\nEDGE_WEIGHT_TYPE : EUC_2D\nCAPACITY : %d\nNODE_COORD_SECTION\n%sDEMAND_SECTION\n%sDEPOT_SECTION\n1\n-1\nEOF\n",
		seed, n+1, capacity, places, loads)
}

// recomputed is the length of routes from the coordinates or the table and whether they
// keep all limits, with no help of the package.
func recomputed(v *vrp.Instance, routes [][]int32) (float64, bool) {
	var sum float64
	ok, served := true, map[int32]bool{}
	for _, r := range routes {
		var long, time float64
		var load int64
		last := int32(0)
		for i := range len(r) + 1 {
			at := int32(0)
			if i < len(r) {
				at = r[i]
				ok = ok && !served[at]
				served[at] = true
			}
			switch {
			case v.Table != nil:
				long += v.Table[int(last)*len(v.Demand)+int(at)]
			case v.Exact:
				long += math.Hypot(v.X[at]-v.X[last], v.Y[at]-v.Y[last])
			default:
				long += math.Floor(math.Hypot(v.X[at]-v.X[last], v.Y[at]-v.Y[last]) + 0.5)
			}
			load += v.Demand[at]
			time += v.Service[at]
			last = at
		}
		sum += long
		ok = ok && load <= v.Capacity && (v.Limit == 0 || long+time <= v.Limit+1e-6)
	}
	return sum, ok && len(served) == len(v.Demand)-1 && !served[0]
}
