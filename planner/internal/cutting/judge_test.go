package cutting

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/internal/solvertest"
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

// TestOutsideSolverAgrees compares with a general solver that has every pattern
// before it, on small and medium problems that it can prove.
func TestOutsideSolverAgrees(t *testing.T) {
	t.Parallel()
	solvertest.Need(t)
	rng := rand.New(rand.NewPCG(50, 1))
	judged, proved := 0, 0
	for n := range 50 {
		p := random(rng, 3+n%5, 1+n%4, 4+n%20)
		for i := range p.Items {
			p.Items[i].Length += 10
		}
		r, said := solved(t, p, 0), solvertest.Solve(t, solvertest.LP, model(p), "--tmlim", "60")
		if !said.Proved {
			continue
		}
		best := int64(math.Round(said.Value))
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
