package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Stops at 3, 6 and 10 on a line; two fit a route.
const lineProblem = "NAME : line\nTYPE : CVRP\nDIMENSION : 4\nEDGE_WEIGHT_TYPE : EUC_2D\nCAPACITY : 2\nNODE_COORD_SECTION\n" +
	"1 0 0\n2 3 0\n3 6 0\n4 10 0\nDEMAND_SECTION\n1 0\n2 1\n3 1\n4 1\nDEPOT_SECTION\n1\n-1\nEOF\n"

func TestRoutingPrintsItsFiguresAndRoutes(t *testing.T) {
	t.Parallel()
	file := written(t, "line.vrp", lineProblem)
	routes := filepath.Join(t.TempDir(), "line.sol")
	line, err := run(t, "routing", file, "--steps", "500", "--seed", "4", "--threads", "2", "--trajectories", "2", "--routes", routes)
	require.NoError(t, err)
	assert.Equal(t, "line", line["instance"])
	assert.InDelta(t, 26, line["value"], 0)
	assert.Equal(t, true, line["feasible"])
	assert.InDelta(t, 4, line["seed"], 0)
	text, err := os.ReadFile(routes)
	require.NoError(t, err)
	assert.Contains(t, string(text), "Route #1: ")
	assert.Contains(t, string(text), "\nCost 26\n")
	line, err = run(t, "routing", file, "--seconds", "0.05", "--threads", "2", "--rounding", "exact")
	require.NoError(t, err)
	assert.InDelta(t, 26, line["value"], 1e-9)
}

func TestRoutingSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	file := written(t, "bad.vrp", "TYPE : CVRP\nDIMENSION : 0\n")
	_, err := run(t, "routing", file)
	require.ErrorIs(t, err, errFailed)
	require.ErrorContains(t, err, `bad.vrp:2: not a routing problem: dimension "0"`)
	_, err = run(t, "routing", filepath.Join(t.TempDir(), "none.vrp"))
	require.ErrorIs(t, err, errFailed)
	for _, args := range [][]string{{"--seconds", "-1"}, {"--threads", "0"}, {"--rounding", "up"}, {"--trajectories", "-1"}} {
		_, err = run(t, append([]string{"routing", file}, args...)...)
		require.Error(t, err)
		require.NotErrorIs(t, err, errFailed)
	}
	_, err = run(t, "routing", file, file, "--routes", "x")
	require.ErrorContains(t, err, "one problem at a time")
}

func TestRoutingSetPrintsGaps(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "line.vrp"), []byte(lineProblem), 0o600))
	list := "set,instance,customers,best_known,distance_rule\nmade-up,line,3,25,rounded-integer\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "best-known.csv"), []byte(list), 0o600))
	cmd := root()
	var out bytes.Buffer
	cmd.SetOut(&out)
	cmd.SetArgs([]string{"routing-set", dir, "--steps", "500", "--seeds", "2"})
	require.NoError(t, cmd.Execute())
	assert.Contains(t, out.String(), "line                        2 runs  mean  4.000 %  worst  4.000 %  failed 0\n")
	assert.Contains(t, out.String(), "made-up ")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "best-known.csv"), []byte("set,instance\nmade-up,line\n"), 0o600))
	_, err := run(t, "routing-set", dir)
	require.ErrorContains(t, err, "best-known.csv:2: not a list of best known values")
}
