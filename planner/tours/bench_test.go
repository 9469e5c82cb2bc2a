package tours_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/planner/tours"
)

// plane makes up stops in a square with loads of which about fifteen fill a
// route.
func plane(n int, seed uint64) *tours.Problem {
	rnd := rand.New(rand.NewPCG(seed, 2))
	w := n + 1
	p := &tours.Problem{Stops: n, X: make([]float64, w), Y: make([]float64, w), Costs: make([]int32, w*w)}
	load := tours.Load{Mean: make([]int64, w), Capacity: 750}
	for a := range w {
		p.X[a], p.Y[a] = 1000*rnd.Float64(), 1000*rnd.Float64()
		if a > 0 {
			load.Mean[a] = int64(1 + rnd.IntN(100))
		}
	}
	for a := range w {
		for b := range w {
			p.Costs[a*w+b] = int32(math.Hypot(p.X[a]-p.X[b], p.Y[a]-p.Y[b]) + 0.5)
		}
	}
	p.Loads = []tours.Load{load}
	return p
}

// BenchmarkKicks measures kicks: their time should hardly depend on the number
// of stops.
func BenchmarkKicks(b *testing.B) {
	for _, n := range []int{300, 1000, 2000} {
		p := plane(n, 1)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			const kicks = 20_000
			for b.Loop() {
				r, err := tours.Solve(b.Context(), p, tours.Limits{Steps: kicks}, tours.Settings{Seed: 1})
				require.NoError(b, err)
				b.ReportMetric(float64(r.Cost), "cost")
			}
			b.ReportMetric(float64(b.N)*kicks/b.Elapsed().Seconds(), "kicks/s")
		})
	}
}

// BenchmarkChildren measures children of a population, after the annealing that
// comes before them, on direct ways and on one-way streets.
func BenchmarkChildren(b *testing.B) {
	for _, c := range []struct {
		name    string
		problem *tours.Problem
	}{{"plane", plane(200, 1)}, {"streets", roads(200, 1)}} {
		p := c.problem
		b.Run(c.name, func(b *testing.B) {
			const children = 1000
			for b.Loop() {
				r, err := tours.Solve(b.Context(), p, tours.Limits{Steps: 200 * children * 10 / 7}, tours.Settings{Seed: 1})
				require.NoError(b, err)
				b.ReportMetric(float64(r.Cost), "cost")
			}
			b.ReportMetric(float64(b.N)*children/b.Elapsed().Seconds(), "children/s")
		})
	}
}
