package routing_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/routing"
)

// partition is the model that chooses rounds for all racks out of all rounds that fit
// (Balinski, Quandt, On an integer program for a delivery problem, Operations Research
// 12, 1964, 300-304; from memory), in the LP format of general solvers.
func partition(racks int, costs map[int]int64) string {
	var object, names strings.Builder
	rows := make([]strings.Builder, racks)
	for set := range 1 << racks {
		cost, ok := costs[set]
		if !ok {
			continue
		}
		fmt.Fprintf(&object, " + %d x%d\n", cost, set)
		fmt.Fprintf(&names, " x%d\n", set)
		for i := range racks {
			if set&(1<<i) != 0 {
				fmt.Fprintf(&rows[i], " + x%d\n", set)
			}
		}
	}
	model := "Minimize\n obj:" + object.String() + "Subject To\n"
	for i := range rows {
		model += rows[i].String() + " = 1\n"
	}
	return model + "Binaries\n" + names.String() + "End\n"
}

// outside solves a model with a general solver.
func outside(t *testing.T, lp string) float64 {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.lp"), filepath.Join(dir, "out.txt")
	require.NoError(t, os.WriteFile(in, []byte(lp), 0o600))
	text, err := exec.CommandContext(t.Context(), "glpsol", "--lp", in, "--write", out).CombinedOutput()
	require.NoError(t, err, string(text))
	said, err := os.ReadFile(out)
	require.NoError(t, err)
	// The line of the solution: s mip ROWS COLUMNS STATUS VALUE, "o" for optimal.
	found := regexp.MustCompile(`(?m)^s mip \d+ \d+ o (\S+)$`).FindStringSubmatch(string(said))
	require.NotNil(t, found, string(said))
	n, err := strconv.ParseFloat(found[1], 64)
	require.NoError(t, err)
	return n
}

// TestBoundsAgainstOutsideSolver wants the bounds below what a general solver proves to
// be the fewest routes, the least metres and the least work over all rounds of plants of
// nine racks, and close to it.
func TestBoundsAgainstOutsideSolver(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("glpsol"); err != nil {
		require.Empty(t, os.Getenv("CI"), "glpsol is not installed: install the package glpk-utils")
		t.Skip("glpsol is not installed: no outside solver judges the bounds. Install the package glpk-utils.")
	}
	judged, tight := 0, 0
	for seed := uint64(1000); seed < 1040; seed++ {
		in := tinyOf(seed, 9, 30*time.Minute, time.Hour)
		p := routing.Routes(context.Background(), in, routing.DefaultSettings(), 1, 1, nil)
		if !whole(p, len(in.Racks)) {
			continue
		}
		b := newBrute(in)
		routes, metres, work := map[int]int64{}, map[int]int64{}, map[int]int64{}
		for set := 1; set < 1<<len(b.racks); set++ {
			best := trip{math.Inf(1), math.Inf(1)}
			for _, trips := range b.best {
				best = trip{math.Min(best.metres, trips[set].metres), math.Min(best.minutes, trips[set].minutes)}
			}
			if !math.IsInf(best.metres, 1) {
				routes[set], metres[set] = 1, int64(math.Round(best.metres*1000))
				work[set] = int64(math.Ceil(best.minutes / b.interval(set) * 1e6))
			}
		}
		judged++
		fewest := outside(t, partition(len(b.racks), routes))
		least := outside(t, partition(len(b.racks), metres)) / 1000
		busy := outside(t, partition(len(b.racks), work)) / 1e6 / in.Plant.BusyLimit.Float64()
		assert.LessOrEqual(t, float64(p.Bounds.RoutesBound), fewest, "seed %d", seed)
		assert.LessOrEqual(t, p.Bounds.TravelBound.Metres(), least+1e-3, "seed %d", seed)
		assert.LessOrEqual(t, float64(p.Bounds.HandlersBound), math.Ceil(busy), "seed %d", seed)
		assert.GreaterOrEqual(t, float64(p.Bounds.Routes), fewest, "seed %d", seed)
		if float64(p.Bounds.RoutesBound) >= fewest-1 && p.Bounds.TravelBound.Metres() > 0.6*least {
			tight++
		}
	}
	assert.Greater(t, judged, 10)
	assert.Greater(t, tight, judged/2, "of %d", judged)
}
