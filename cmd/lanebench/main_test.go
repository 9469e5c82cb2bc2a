package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/testdata/plants"
)

// run runs one command line and returns its line of JSON.
func run(t *testing.T, args ...string) (map[string]any, error) {
	t.Helper()
	cmd := root()
	var out bytes.Buffer
	cmd.SetOut(&out)
	cmd.SetErr(&bytes.Buffer{})
	cmd.SetArgs(args)
	if err := cmd.ExecuteContext(t.Context()); err != nil {
		return nil, err
	}
	var line map[string]any
	require.NoError(t, json.Unmarshal(out.Bytes(), &line), out.String())
	return line, nil
}

func TestEveryCommandPrintsItsFigures(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for instance, args := range map[string][]string{
		"plant-c3-l40": {"plant", "--cells", "3", "--loops", "40", "--seed", "5", "--out", filepath.Join(dir, "plant")},
		"cell-p25":     {"cell", "--parts", "25", "--seed", "5", "--out", filepath.Join(dir, "cell")},
		"skerrow":      {"skerrow", "--out", filepath.Join(dir, "skerrow.xlsx")},
	} {
		line, err := run(t, args...)
		require.NoError(t, err)
		assert.Equal(t, instance, line["instance"])
		assert.Greater(t, line["value"], 50.0, "rows of %s", instance)
		for _, key := range []string{"bound", "feasible", "seconds", "seed"} {
			assert.Contains(t, line, key, instance)
		}
	}
	written, err := os.ReadFile(filepath.Join(dir, "skerrow.xlsx"))
	require.NoError(t, err)
	assert.True(t, bytes.Equal(plants.Skerrow, written))
}

func TestSameSeedSameFiles(t *testing.T) {
	t.Parallel()
	files := func(seed string) map[string]string {
		dir := filepath.Join(t.TempDir(), "plant")
		_, err := run(t, "plant", "--cells", "4", "--loops", "90", "--seed", seed, "--out", dir)
		require.NoError(t, err)
		names, err := filepath.Glob(filepath.Join(dir, "*.csv"))
		require.NoError(t, err)
		all := map[string]string{}
		for _, name := range names {
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			all[filepath.Base(name)] = string(data)
		}
		return all
	}
	assert.Equal(t, files("1"), files("1"))
	assert.NotEqual(t, files("1"), files("2"))
}

func TestRunPlansAndTakesTheTime(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "cell")
	_, err := run(t, "cell", "--parts", "12", "--out", dir)
	require.NoError(t, err)
	line, err := run(t, "run", dir, "--seed", "3")
	require.NoError(t, err)
	assert.Equal(t, "cell", line["instance"])
	assert.EqualValues(t, 3, line["seed"])
	assert.GreaterOrEqual(t, line["value"], line["bound"])
	assert.Contains(t, line["phases"], "read")
	assert.Contains(t, line["phases"], "placement")
}

func TestWhatGoesWrongIsSaid(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	for _, c := range []struct {
		name   string
		args   []string
		says   string
		failed bool
	}{
		{"no folder", []string{"plant", "--cells", "3"}, "required flag", false},
		{"too few loops", []string{"plant", "--cells", "9", "--loops", "8", "--out", "x"}, "at least as many", false},
		{"no parts", []string{"cell", "--parts", "0", "--out", "x"}, "--parts must be 1 or more", false},
		{"folder below a file", []string{"cell", "--out", filepath.Join(file, "x")}, "make folder", true},
		{"workbook below a file", []string{"skerrow", "--out", filepath.Join(file, "x.xlsx")}, "not a directory", true},
		{"nothing to read", []string{"run", filepath.Join(file, "none")}, "none", true},
	} {
		_, err := run(t, c.args...)
		require.ErrorContains(t, err, c.says, c.name)
		assert.Equal(t, c.failed, errors.Is(err, errFailed), c.name)
	}
}
