package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/placement"
)

func TestCellsPrintsATable(t *testing.T) {
	t.Parallel()
	cmd := root()
	var out bytes.Buffer
	cmd.SetOut(&out)
	cmd.SetArgs([]string{"cells", "--parts", "6,9", "--seeds", "2", "--bare", "--fill", "90", "--each"})
	require.NoError(t, cmd.ExecuteContext(t.Context()))
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	require.Len(t, lines, 8)
	assert.True(t, strings.HasPrefix(lines[3], "| 6: 2 |"), lines[3])
	assert.True(t, strings.HasPrefix(lines[4], "| 6 |"), lines[4])
	assert.True(t, strings.HasSuffix(lines[7], "of 2 |"), lines[7])

	_, err := run(t, "cells", "--fill", "120")
	assert.Error(t, err)
}

func TestCellsSumsBeforeItDivides(t *testing.T) {
	t.Parallel()
	r := reached{seconds: []float64{1, 3}, splits: []int{0, 1}, bounds: []placement.Bound{
		{Unplaced: 2, UnplacedBound: 1, AddedCost: 110, AddedCostBound: 100, Effort: 10, EffortBound: 8},
		{AddedCost: 100, AddedCostBound: 100, Effort: 90, EffortBound: 90, Optimal: true},
	}}
	assert.Equal(t, "| 5 | 2.000 | 3.000 | 2 (1) | 5.0 % | 1 | 2.04 % | 25.00 % | 1 of 2 |", r.row("5"))
}
