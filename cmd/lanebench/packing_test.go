package main

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// written writes a file of a test and returns its name.
func written(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

func TestPackingPrintsItsFigures(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		value      float64
	}{
		{"count first", "5\n10\n6\n5\n5\n4\n3\n", 3},
		{"capacity first", "10\n5\n6\n5\n5\n4\n3\n", 3},
		{"windows lines and decimals", "\ufeff3\r\n100.0\r\n49.5\r\n50.5\r\n0.01\r\n", 2},
		{"count that is the capacity", "2\n2\n1\n1\n", 1},
		{"one of a named file", "1\n u3_00\n 10 3 2\n5\n6\n5\n", 2},
		{"nothing to pack", "0\n10\n", 0},
	} {
		line, err := run(t, "packing", written(t, "p.txt", c.text), "--seed", "4", "--steps", "1000000")
		require.NoError(t, err, c.name)
		assert.InDelta(t, c.value, line["value"], 0, c.name)
		assert.InDelta(t, c.value, line["bound"], 0, c.name)
		assert.Equal(t, true, line["feasible"], c.name)
		assert.InDelta(t, 4, line["seed"], 0, c.name)
	}
	line, err := run(t, "packing", written(t, "t60_00.txt", "2\n4\n3\n1\n"), "--seconds", "0.5")
	require.NoError(t, err)
	assert.Equal(t, "t60_00", line["instance"])
}

func TestPackingReadsNamedProblems(t *testing.T) {
	t.Parallel()
	list, err := parsePackings("file", "2\n a_0\n 10 2 1\n5\n5\n a_1\n 7.5 1 1\n2.25\n")
	require.NoError(t, err)
	require.Len(t, list, 2)
	assert.Equal(t, "a_1", list[1].name)
	assert.EqualValues(t, 750, list[1].problem.Capacity, "in hundredths")
	assert.EqualValues(t, 225, list[1].problem.Pieces[0].Size)
}

func TestPackingSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text, says string
	}{
		{"empty", "", "the number of pieces and the capacity are missing"},
		{"one size missing", "5\n10\n6\n5\n5\n4\n", `it holds 4 sizes; neither "5" nor "10"`},
		{"too large", "1\n10\n11\n", "piece 1 of size 11 fits no bin of capacity 10"},
		{"nothing", "1\n10\n0\n", "size 0; sizes must be 1 or more"},
		{"below zero", "1\n10\n-2\n", "size -2"},
		{"no number", "1\n10\nwide\n", `"wide" is no number`},
		{"no such number", "1\n10\nNaN\n", `"NaN" is no number`},
		{"too long", "1\n10\n1234567890123\n", "is no number below a thousand million"},
		{"sign after the point", "1\n10\n1.-5\n", "is no number"},
		{"named, too short", "1\n a\n 10 3 2\n5\n", `problem "a" says that it has "3" pieces`},
		{"named, too few", "3\n a\n 10 1 1\n5\n", `it has "3" problems; it has 1`},
		{"named, cut off", "1\n a\n 10\n", `problem "a" ends too soon`},
	} {
		_, err := run(t, "packing", written(t, "p.txt", c.text))
		require.ErrorContains(t, err, c.says, c.name)
		assert.True(t, errors.Is(err, errFailed), c.name)
	}
	for _, args := range [][]string{{"--seconds", "-1"}, {"--seconds", "NaN"}, {"--steps", "-1"}} {
		_, err := run(t, append([]string{"packing", "none"}, args...)...)
		require.ErrorContains(t, err, "--seconds must be", args)
		assert.False(t, errors.Is(err, errFailed), args)
	}
	_, err := run(t, "packing", filepath.Join(t.TempDir(), "none"))
	require.ErrorContains(t, err, "read problem")
}
