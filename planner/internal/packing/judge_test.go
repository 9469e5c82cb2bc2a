package packing

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/internal/solvertest"
	"lanewright/planner/search"
)

// model is the assignment model of a problem (Martello and Toth 1990, ch. 8) in
// the LP format of general solvers: x says which piece lies in which bin, y
// which bins are used.
func model(p Problem, bins int64) string {
	var use, rows, names strings.Builder
	for b := range bins {
		fmt.Fprintf(&use, " + y%d", b)
		fmt.Fprintf(&names, " y%d\n", b)
		for i, c := range p.Pieces {
			fmt.Fprintf(&rows, " + %d x%d_%d", c.Size, i, b)
			fmt.Fprintf(&names, " x%d_%d\n", i, b)
		}
		fmt.Fprintf(&rows, " - %d y%d <= 0\n", p.Capacity, b)
	}
	for i := range p.Pieces {
		for b := range bins {
			fmt.Fprintf(&rows, " + x%d_%d", i, b)
		}
		rows.WriteString(" = 1\n")
	}
	return "Minimize\n obj:" + use.String() + "\nSubject To\n" + rows.String() + "Binaries\n" + names.String() + "End\n"
}

// TestOutsideSolverAgrees compares with a general solver on problems that it
// can still prove.
func TestOutsideSolverAgrees(t *testing.T) {
	t.Parallel()
	solvertest.Need(t)
	rng := search.Stream(1, "outside")
	for n := range 30 {
		room := int64(50 + 50*(n%3))
		p := uniform(9+n%5, room, room/6, room*3/5)(rng)
		r := solved(t, p)
		assert.True(t, r.Proved(), "problem %d", n)
		said := solvertest.Solve(t, solvertest.LP, model(p, r.Count), "--cuts")
		assert.True(t, said.Proved, "problem %d", n)
		assert.InDelta(t, said.Value, r.Count, 1e-6, "problem %d: %v", n, p)
	}
}
