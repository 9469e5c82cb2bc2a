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
	path, err := exec.LookPath("glpsol")
	if err == nil {
		return path
	}
	if os.Getenv("CI") != "" {
		t.Fatal("glpsol is missing and CI is set: install the package glpk-utils")
	}
	t.Skip("glpsol is not installed: no outside solver judges the models. Install the package glpk-utils.")
	return ""
}

// judged is what the outside solver says about a model.
type judged struct {
	// optimum is the least value; proved is false where the solver gave up
	// before it was sure of it, found where it had no layout at all.
	optimum       float64
	proved, found bool
	columns       map[string]float64
}

// judgeSeconds is when the solver gives up: far beyond what these cells take,
// and an answer that is not proved is still held against the bounds.
const judgeSeconds = "3"

// judge solves a model through its MPS text.
func judge(t *testing.T, path string, m Model) judged {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "cell.mps"), filepath.Join(dir, "cell.txt")
	var text bytes.Buffer
	require.NoError(t, m.WriteMPS(&text))
	require.NoError(t, os.WriteFile(in, text.Bytes(), 0o600))
	log, err := exec.CommandContext(t.Context(), path, "--freemps", in, "--tmlim", judgeSeconds, "--write", out).CombinedOutput()
	require.NoError(t, err, "%s", log)
	solution, err := os.ReadFile(out)
	require.NoError(t, err, "%s", log)
	return readSolution(t, m, string(solution))
}

// readSolution reads the solver's plain answer: "s mip ROWS COLUMNS STATUS
// VALUE" and a line "j COLUMN VALUE" for each column.
func readSolution(t *testing.T, m Model, text string) judged {
	t.Helper()
	j := judged{columns: map[string]float64{}}
	status := ""
	for line := range strings.Lines(text) {
		var kind string
		var n, rows, columns int
		var v float64
		if _, err := fmt.Sscanf(line, "s %s %d %d %s %g", &kind, &rows, &columns, &status, &v); err == nil {
			require.Equal(t, len(m.Columns), columns)
			j.optimum, j.proved, j.found = v, status == "o", status != "u"
		} else if _, err := fmt.Sscanf(line, "j %d %g", &n, &v); err == nil {
			j.columns[m.Columns[n-1].Name] = v
		}
	}
	require.Contains(t, []string{"o", "f", "u"}, status, "no layout obeys the model: %s", text)
	return j
}
