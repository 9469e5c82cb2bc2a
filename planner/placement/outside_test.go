package placement

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// model writes the placement of whole loops on the standing racks of a cell
// without foes, fixed lanes or pins as a linear program in zeros and ones.
func (c *cell) model() string {
	var goal, rules strings.Builder
	wide, heavy := make([]string, len(c.cols)), make([]string, len(c.cols))
	rack := make([]string, len(c.bases))
	var names []string
	for i := range c.loops {
		once := ""
		for col := range c.standingCols {
			at := i*len(c.cols) + col
			if c.whole[at] >= boundless {
				continue
			}
			name := fmt.Sprintf("x_%d_%d", i, col)
			mass := float64(c.loops[i].k*c.loops[i].gross) / 1e9
			names = append(names, name)
			once += " + " + name
			fmt.Fprintf(&goal, " + %.12f %s\n", c.effort[at], name)
			wide[col] += fmt.Sprintf(" + %.6f %s", float64(c.whole[at])/1e6, name)
			heavy[col] += fmt.Sprintf(" + %.9f %s", mass, name)
			rack[c.cols[col].base] += fmt.Sprintf(" + %.9f %s", mass, name)
		}
		fmt.Fprintf(&rules, "once_%d:%s = 1\n", i, once)
	}
	limit := func(name, sum string, most float64) {
		if sum != "" && most < 1e9 {
			fmt.Fprintf(&rules, "%s:%s <= %.6f\n", name, sum, most)
		}
	}
	for col := range c.standingCols {
		limit(fmt.Sprintf("wide_%d", col), wide[col], float64(c.cols[col].width)/1e6)
		limit(fmt.Sprintf("heavy_%d", col), heavy[col], float64(c.cols[col].mass)/1e9)
	}
	for b := range c.standing {
		limit(fmt.Sprintf("rack_%d", b), rack[b], float64(c.bases[b].load)/1e9)
	}
	return "Minimize\neffort:\n" + goal.String() + "Subject To\n" + rules.String() + "Binaries\n" + strings.Join(names, "\n") + "\nEnd\n"
}

// outside returns the optimum that a general solver finds.
func outside(t *testing.T, solver, model string) float64 {
	t.Helper()
	dir := t.TempDir()
	file, out := filepath.Join(dir, "cell.lp"), filepath.Join(dir, "cell.sol")
	require.NoError(t, os.WriteFile(file, []byte(model), 0o600))
	said, err := exec.CommandContext(t.Context(), solver, file, "ratio", "0", "allow", "0", "solve", "solu", out).CombinedOutput()
	require.NoError(t, err, string(said))
	text, err := os.ReadFile(out)
	require.NoError(t, err)
	first, _, _ := strings.Cut(string(text), "\n")
	value, ok := strings.CutPrefix(first, "Optimal - objective value ")
	require.True(t, ok, first)
	v, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
	require.NoError(t, err)
	return v
}

// A general solver of linear programs in whole numbers agrees: it finds no
// less effort than the bound, no more than the layout, and just that where the
// layout is called optimal.
func TestAgainstAnOutsideSolver(t *testing.T) {
	t.Parallel()
	solver, err := exec.LookPath("cbc")
	if err != nil && os.Getenv("CI") == "" {
		t.Skip("needs the solver cbc: install the package coinor-cbc")
	}
	require.NoError(t, err)
	cells, proved, best := 0, 0, 0
	for seed := uint64(0); cells < 60; seed++ {
		d := seeded(seed)
		in := made(d, recipe{loops: d.from(9, 18), racks: d.from(2, 4), types: 1, stations: 3, levels: 3, width: 1800, frontage: 1, masses: []int{0, 60}[d(2)], places: true, containers: 5})
		l := placed(in, 1)
		b := l.Bounds[0]
		if b.Unplaced > 0 || splitsOf(l) > 0 {
			continue
		}
		cells++
		least := outside(t, solver, cellOf(in).model())
		require.LessOrEqual(t, b.EffortBound, least*(1+1e-7)+1e-7, "seed %d", seed)
		require.GreaterOrEqual(t, b.Effort, least*(1-1e-7)-1e-7, "seed %d", seed)
		if b.Effort <= least*(1+1e-7)+1e-7 {
			best++
		}
		if b.Optimal {
			proved++
			require.InDelta(t, least, b.Effort, 1e-6*(1+least), "seed %d", seed)
		}
	}
	t.Logf("of %d cells %d have the least effort, %d are proved optimal", cells, best, proved)
	assert.GreaterOrEqual(t, best, 57)
	assert.GreaterOrEqual(t, proved, 51)
}
