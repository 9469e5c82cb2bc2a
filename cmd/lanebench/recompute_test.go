package main

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
	"lanewright/cmd/lanebench/internal/recompute"
	"lanewright/cmd/lanebench/internal/scale"
	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/testdata/plants"
)

// planOf reads dir, plans it and returns the plan document.
func planOf(t *testing.T, dir string, threads int) []byte {
	t.Helper()
	read, err := importers.ReadFiles(context.Background(), dir)
	require.NoError(t, err)
	require.False(t, read.Findings.HasErrors(), "%+v", read.Findings)
	in := planner.Input{Plant: &read.Plant, Findings: read.Findings}
	plan, err := planner.Run(context.Background(), in, planner.DefaultSettings(in.Plant), planner.Options{Threads: threads})
	require.NoError(t, err)
	var document bytes.Buffer
	require.NoError(t, wire.WritePlan(&document, plan))
	return document.Bytes()
}

// agrees plans p twice and recomputes the plan from its sheets.
func agrees(t *testing.T, p *plant.Plant) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "plant")
	require.NoError(t, export.WriteFolder(dir, export.Workbook(p)))
	document := planOf(t, dir, 1)
	assert.True(t, bytes.Equal(document, planOf(t, dir, 2)), "two threads give the same bytes")
	wrong, err := recompute.Check(dir, document)
	require.NoError(t, err)
	for i, w := range wrong {
		if i == 20 {
			t.Errorf("and %d more", len(wrong)-i)
			break
		}
		t.Error(w)
	}
}

// TestPlansAgreeWithTheirSheets: plans of made-up plants of several seeds and
// sizes obey the rules when other code recomputes them from the sheets.
func TestPlansAgreeWithTheirSheets(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		cells, loops int
		seed         uint64
	}{{1, 1, 1}, {1, 12, 2}, {2, 60, 3}, {5, 150, 4}, {8, 320, 5}, {14, 450, 6}} {
		t.Run(fmt.Sprintf("%d cells, %d loops, seed %d", c.cells, c.loops, c.seed), func(t *testing.T) {
			t.Parallel()
			agrees(t, scale.Plant(c.cells, c.loops, c.seed))
		})
	}
	for seed := range uint64(4) {
		t.Run(fmt.Sprintf("a cell, seed %d", seed), func(t *testing.T) {
			t.Parallel()
			agrees(t, scale.Cell(40, seed))
		})
	}
}

// TestSkerrowAgrees does the same for the made-up plant that comes with the
// program, through its canonical form.
func TestSkerrowAgrees(t *testing.T) {
	t.Parallel()
	read, err := importers.ReadBytes(context.Background(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	require.False(t, read.Findings.HasErrors(), "%+v", read.Findings)
	agrees(t, &read.Plant)
}
