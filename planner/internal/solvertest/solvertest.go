// Package solvertest lets a solver of linear programs that somebody else wrote
// judge what the planner finds. Only tests use it: it is the one place under
// planner that starts a program and writes files.
package solvertest

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Format is how a model is written down.
type Format string

// The LP format of general solvers, and MPS with names of any length.
const (
	LP  Format = "--lp"
	MPS Format = "--freemps"
)

// Solution is what the solver says of a model.
type Solution struct {
	// Found is false where the solver has no solution, Proved where it gave up
	// before it was sure that none is better.
	Found, Proved bool
	// Value is that of the goal, Columns are those of the columns in the order in
	// which the model has them.
	Value   float64
	Columns []float64
}

// Need skips a test where the solver is not installed; where everything must run
// (CI set) it fails.
func Need(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("glpsol"); err != nil {
		require.Empty(t, os.Getenv("CI"), "glpsol is missing and CI is set: install the package glpk-utils")
		t.Skip("glpsol is not installed: no outside solver judges. Install the package glpk-utils.")
	}
}

// Solve solves a model with the options of the solver. A model without any
// solution fails the test.
func Solve(t testing.TB, f Format, model string, options ...string) Solution {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "model"), filepath.Join(dir, "solution")
	require.NoError(t, os.WriteFile(in, []byte(model), 0o600))
	log, err := exec.CommandContext(t.Context(), "glpsol", append([]string{string(f), in, "--write", out}, options...)...).CombinedOutput()
	require.NoError(t, err, "%s", log)
	said, err := os.ReadFile(out)
	require.NoError(t, err, "%s", log)
	return read(t, string(said))
}

// read reads the solver's plain answer: "s mip ROWS COLUMNS STATUS VALUE", the
// status "o" for optimal, "f" for a solution, "u" for none in time, and a line
// "j COLUMN VALUE" for each column.
func read(t testing.TB, said string) Solution {
	t.Helper()
	var s Solution
	status := ""
	for line := range strings.Lines(said) {
		var kind string
		var rows, columns, n int
		var v float64
		if _, err := fmt.Sscanf(line, "s %s %d %d %s %g", &kind, &rows, &columns, &status, &v); err == nil {
			s = Solution{Found: status != "u", Proved: status == "o", Value: v, Columns: make([]float64, columns)}
		} else if _, err := fmt.Sscanf(line, "j %d %g", &n, &v); err == nil {
			s.Columns[n-1] = v
		}
	}
	require.Contains(t, []string{"o", "f", "u"}, status, "nothing obeys the model: %s", said)
	return s
}
