package packing

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/search"
)

// model is the assignment model of a problem (Martello and Toth 1990, ch. 8) in
// the LP format of general solvers: x says which piece lies in which bin, y
// which bins are used.
func model(p Problem, bins int64) string {
	var use, rows, names strings.Builder
	for b := range bins {
		fmt.Fprintf(&use, " + y%d", b)
		fmt.Fprintf(&names, " y%d\n", b)
		for i, c := range p.Pieces {
			fmt.Fprintf(&rows, " + %d x%d_%d", c.Size, i, b)
			fmt.Fprintf(&names, " x%d_%d\n", i, b)
		}
		fmt.Fprintf(&rows, " - %d y%d <= 0\n", p.Capacity, b)
	}
	for i := range p.Pieces {
		for b := range bins {
			fmt.Fprintf(&rows, " + x%d_%d", i, b)
		}
		rows.WriteString(" = 1\n")
	}
	return "Minimize\n obj:" + use.String() + "\nSubject To\n" + rows.String() + "Binaries\n" + names.String() + "End\n"
}

// outside solves a model with a general solver.
func outside(t *testing.T, lp string) int64 {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.lp"), filepath.Join(dir, "out.txt")
	require.NoError(t, os.WriteFile(in, []byte(lp), 0o600))
	text, err := exec.CommandContext(t.Context(), "glpsol", "--lp", in, "--cuts", "--write", out).CombinedOutput()
	require.NoError(t, err, string(text))
	said, err := os.ReadFile(out)
	require.NoError(t, err)
	// The line of the solution: s mip ROWS COLUMNS STATUS VALUE, "o" for optimal.
	found := regexp.MustCompile(`(?m)^s mip \d+ \d+ o (\d+)$`).FindStringSubmatch(string(said))
	require.NotNil(t, found, string(said))
	n, err := strconv.ParseInt(found[1], 10, 64)
	require.NoError(t, err)
	return n
}

// TestOutsideSolverAgrees compares with a general solver on problems that it
// can still prove.
func TestOutsideSolverAgrees(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("glpsol"); err != nil {
		require.Empty(t, os.Getenv("CI"), "glpsol is not installed: install the package glpk-utils")
		t.Skip("glpsol is not installed: no outside solver judges the packings. Install the package glpk-utils.")
	}
	rng := search.Stream(1, "outside")
	for n := range 30 {
		room := int64(50 + 50*(n%3))
		p := uniform(9+n%5, room, room/6, room*3/5)(rng)
		r := solved(t, p)
		assert.True(t, r.Proved(), "problem %d", n)
		assert.Equal(t, outside(t, model(p, r.Count)), r.Count, "problem %d: %v", n, p)
	}
}
