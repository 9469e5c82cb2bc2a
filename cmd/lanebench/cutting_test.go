package main

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stocks5600 is the cutting example with stocks of 5600 mm: widths and counts
// seen at https://graphsearch.epfl.ch/en/concept/826868, with the bound 73;
// that 73 is reached from memory.
const stocks5600 = `# lengths in mm
stock 5600
1380 22
1520 25
1560 12
1710 14
1820 18
1880 18
1930 20
2000 10
2050 12
2100 14
2140 16
2150 18
2200 20
`

func TestCuttingPrintsItsFigures(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text, kerf string
		value            float64
	}{
		{"stocks of 5600", stocks5600, "", 73},
		{"no kerf left over", "stock 3000\n1000 3\n", "", 1},
		{"a kerf costs the third piece", "stock 3000\nkerf 0.001\n1000 3\n", "", 2},
		{"two cuts fit", "Stock: 3006\nKerf: 3\n1000\t3 # exactly\n", "", 1},
		{"the option counts", "stock 3006\nkerf 5\n1000 3\n", "3", 1},
		{"numbers alone", "2\n3000\n1000 3\n1500 2\n", "", 2},
		{"none", "stock 3000\n1000 0\n", "", 0},
		{"two lengths: the least material", "stock 6000\nstock 3000\n2000 4\n", "", 9000},
		{"two lengths: the least cost", "stock 6000 12.5\nstock 3000 7\n2000 4\n", "", 19.5},
		{"offcuts on hand", "stock 6000 12.5\nstock 2100 0 2\n2000 5\n", "", 12.5},
		{"a kerf and a cost", "stock 3006 4\nkerf 3\n1000 6\n", "", 8},
	} {
		args := []string{"cutting", written(t, "tubes.txt", c.text), "--steps", "20000000"}
		if c.kerf != "" {
			args = append(args, "--kerf", c.kerf)
		}
		line, err := run(t, args...)
		require.NoError(t, err, c.name)
		assert.Equal(t, "tubes", line["instance"], c.name)
		assert.InDelta(t, c.value, line["value"], 0, c.name)
		assert.InDelta(t, c.value, line["bound"], 0, c.name)
		assert.Equal(t, true, line["feasible"], c.name)
	}
}

func TestCuttingSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text, says string
	}{
		{"no stock", "1000 3\n", `the line "stock LENGTH" is missing`},
		{"too long", "stock 900\n1000.5 3\n", "a piece of 1000.5 mm is longer than the stock of 900 mm"},
		{"no count", "stock 900\n100 many\n", `line 2: not a packing problem: "many" is no number of pieces`},
		{"count below zero", "stock 900\n100 -1\n", "count -1"},
		{"no length", "stock 900\n0 3\n", "a piece of 0 mm can not be cut"},
		{"stock below zero", "stock -900\n100 3\n", "the length -900 is below 0"},
		{"three words", "stock 900\n100 3 4\n", "line 2 has 3 words"},
		{"a number too many", "stock 900\n100 3\n7\n", `"7" stands alone`},
		{"a stock of five words", "stock 900 1 2 3\n100 3\n", "not 4 numbers"},
		{"no count of stocks", "stock 900 1 many\n100 3\n", `"many" is no number of stocks`},
		{"too few stocks", "stock 900 1 1\n500 3\n", "2 pieces find no stock"},
		{"another number of lengths", "3\n900\n100 3\n", `says that it has "3" lengths; it has 1`},
	} {
		_, err := run(t, "cutting", written(t, "tubes.txt", c.text))
		require.ErrorContains(t, err, c.says, c.name)
		assert.True(t, errors.Is(err, errFailed), c.name)
	}
	_, err := run(t, "cutting", written(t, "tubes.txt", stocks5600), "--kerf", "-3")
	require.ErrorContains(t, err, "below 0")
}
