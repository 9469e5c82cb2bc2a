package placement

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// outsideSolver is a solver of linear programs that somebody else wrote. Without
// one the test is skipped; it fails where everything must run (CI set).
func outsideSolver(t *testing.T) string {
	t.Helper()
	path, err := exec.LookPath("cbc")
	if err == nil {
		return path
	}
	if os.Getenv("CI") != "" {
		t.Fatal("cbc is missing and CI is set: install the package coinor-cbc")
	}
	t.Skip("cbc is not installed: no outside solver judges the models. Install the package coinor-cbc.")
	return ""
}

// judged is what the outside solver says about a model.
type judged struct {
	// optimum is the least value; proved is false where the solver gave up
	// before it was sure of it.
	optimum float64
	proved  bool
	columns map[string]float64
}

// judgeNodes bounds the solver's work, in steps of its search so that it gives
// up at the same place on every machine.
const judgeNodes = "4000"

// judge solves a model through its MPS text.
func judge(t *testing.T, path string, m Model) judged {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "cell.mps"), filepath.Join(dir, "cell.txt")
	var text bytes.Buffer
	require.NoError(t, m.WriteMPS(&text))
	require.NoError(t, os.WriteFile(in, text.Bytes(), 0o600))
	log, err := exec.CommandContext(t.Context(), path, in, "-maxNodes", judgeNodes, "-solve", "-solution", out).CombinedOutput()
	require.NoError(t, err, "%s", log)
	solution, err := os.ReadFile(out)
	require.NoError(t, err, "%s", log)
	return readSolution(t, string(solution))
}

// readSolution reads the solver's answer: a line "STATUS - objective value V"
// and a line "NUMBER COLUMN VALUE COST" for each column that is not 0.
func readSolution(t *testing.T, text string) judged {
	t.Helper()
	first, rest, _ := strings.Cut(text, "\n")
	status, value, ok := strings.Cut(first, " - objective value ")
	require.True(t, ok && (status == "Optimal" || strings.HasPrefix(status, "Stopped")), first)
	j := judged{proved: status == "Optimal", columns: map[string]float64{}}
	_, err := fmt.Sscan(value, &j.optimum)
	require.NoError(t, err, first)
	for line := range strings.Lines(rest) {
		var n int
		var name string
		var v float64
		_, err := fmt.Sscan(line, &n, &name, &v)
		require.NoError(t, err, line)
		j.columns[name] = v
	}
	return j
}
