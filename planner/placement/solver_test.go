package placement

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/planner/internal/solvertest"
)

// judged is what an outside solver says about a model.
type judged struct {
	solvertest.Solution
	columns map[string]float64
}

// judgeSeconds is when the solver gives up: far beyond what these cells take,
// and an answer that is not proved is still held against the bounds.
const judgeSeconds = "3"

// judge solves a model through its MPS text.
func judge(t *testing.T, m Model) judged {
	t.Helper()
	var text bytes.Buffer
	require.NoError(t, m.WriteMPS(&text))
	j := judged{solvertest.Solve(t, solvertest.MPS, text.String(), "--tmlim", judgeSeconds), map[string]float64{}}
	require.Len(t, j.Columns, len(m.Columns))
	for n, v := range j.Columns {
		j.columns[m.Columns[n].Name] = v
	}
	return j
}
