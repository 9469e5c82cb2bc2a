package cutting

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// model is the pattern model of a problem in the LP format of general solvers
// with every pattern written out: x says how often each is cut, u how many pieces
// stay uncut.
func model(p Problem) string {
	var cost, names strings.Builder
	rows, stocks := make([]strings.Builder, len(p.Items)), make([]strings.Builder, len(p.Stocks))
	dearest := int64(1)
	for _, s := range p.Stocks {
		dearest = max(dearest, s.Cost)
	}
	n := 0
	for s, stock := range p.Stocks {
		fmt.Fprintf(&stocks[s], " 0 z")
		patternsOf(p, stock, func(counts []int64) {
			fmt.Fprintf(&cost, " + %d x%d", stock.Cost, n)
			fmt.Fprintf(&names, " x%d\n", n)
			fmt.Fprintf(&stocks[s], " + x%d", n)
			for i, c := range counts {
				if c > 0 {
					fmt.Fprintf(&rows[i], " + %d x%d", c, n)
				}
			}
			n++
		})
	}
	var text strings.Builder
	for i, t := range p.Items {
		fmt.Fprintf(&cost, " + %d u%d", 1024*dearest, i)
		fmt.Fprintf(&names, " u%d\n", i)
		fmt.Fprintf(&text, "%s + u%d >= %d\n", rows[i].String(), i, t.Count)
	}
	for s, stock := range p.Stocks {
		if stock.Count != Unlimited {
			fmt.Fprintf(&text, "%s <= %d\n", stocks[s].String(), stock.Count)
		}
	}
	return "Minimize\n obj:" + cost.String() + "\nSubject To\n" + text.String() + "Generals\n" + names.String() + "End\n"
}

// patternsOf calls f with each pattern of a stock to which nothing can be added.
func patternsOf(p Problem, s Stock, f func([]int64)) {
	counts := make([]int64, len(p.Items))
	fits := func(pieces, length int64) bool { _, ok := p.rest(s, pieces, length); return ok }
	var extend func(i int, pieces, length int64)
	extend = func(i int, pieces, length int64) {
		if i == len(counts) {
			for j, t := range p.Items {
				if counts[j] < t.Count && fits(pieces+1, length+t.Length) {
					return
				}
			}
			if pieces > 0 {
				f(counts)
			}
			return
		}
		for n := int64(0); n <= p.Items[i].Count; n++ {
			if n > 0 && !fits(pieces+n, length+n*p.Items[i].Length) {
				break
			}
			counts[i] = n
			extend(i+1, pieces+n, length+n*p.Items[i].Length)
		}
		counts[i] = 0
	}
	extend(0, 0, 0)
}

// outside solves a model with a general solver.
func outside(t *testing.T, lp string) int64 {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.lp"), filepath.Join(dir, "out.txt")
	require.NoError(t, os.WriteFile(in, []byte(lp), 0o600))
	text, err := exec.CommandContext(t.Context(), "glpsol", "--lp", in, "--tmlim", "60", "--write", out).CombinedOutput()
	require.NoError(t, err, string(text))
	said, err := os.ReadFile(out)
	require.NoError(t, err)
	// The line of the solution: s mip ROWS COLUMNS STATUS VALUE, "o" for optimal.
	found := regexp.MustCompile(`(?m)^s mip \d+ \d+ o (\d+)$`).FindStringSubmatch(string(said))
	if found == nil {
		return -1
	}
	n, err := strconv.ParseInt(found[1], 10, 64)
	require.NoError(t, err)
	return n
}

// TestOutsideSolverAgrees compares with a general solver that has every pattern
// before it, on small and medium problems that it can prove.
func TestOutsideSolverAgrees(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("glpsol"); err != nil {
		require.Empty(t, os.Getenv("CI"), "glpsol is not installed: install the package glpk-utils")
		t.Skip("glpsol is not installed: no outside solver judges the cuttings. Install the package glpk-utils.")
	}
	rng := rand.New(rand.NewPCG(50, 1))
	judged, proved := 0, 0
	for n := range 50 {
		p := random(rng, 3+n%5, 1+n%4, 4+n%20)
		for i := range p.Items {
			p.Items[i].Length += 10
		}
		r, best := solved(t, p, 0), outside(t, model(p))
		if best < 0 {
			continue
		}
		judged++
		assert.LessOrEqual(t, r.Bound, best, "problem %d: %v", n, p)
		assert.GreaterOrEqual(t, r.Value, best, "problem %d: %v", n, p)
		if r.Proved() {
			proved++
		}
		t.Logf("problem %d: outside %d, value %d, bound %d, steps %d", n, best, r.Value, r.Bound, r.Steps)
	}
	assert.GreaterOrEqual(t, judged, 45)
	assert.GreaterOrEqual(t, proved, 45)
}
