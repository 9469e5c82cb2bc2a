package tours_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/tours"
)

const impossible = math.MaxInt64 / 4

// cheapest is what the best routes cost, by trying all orders of all sets of
// stops and all ways to divide the stops into such sets.
func cheapest(p *tours.Problem) int64 {
	all := 1<<p.Stops - 1
	single := make([][]int64, p.Labels+1)
	for label := range single {
		single[label] = make([]int64, all+1)
		for set := 1; set <= all; set++ {
			single[label][set] = bestOrder(p, label, set)
		}
	}
	most := p.Stops
	if p.MaxRoutes > 0 {
		most = p.MaxRoutes
	}
	// best[k][set] is for at most k routes; labelled ones are dealt first.
	best := make([][]int64, most+1)
	for k := range best {
		best[k] = make([]int64, all+1)
		for set := 1; set <= all; set++ {
			best[k][set] = impossible
		}
	}
	for k := 1; k <= most; k++ {
		for set := 1; set <= all; set++ {
			best[k][set] = divide(single[0], best[k-1], set, best[k-1][set])
		}
	}
	for label := 1; label <= p.Labels; label++ {
		for k := most; k >= 1; k-- {
			for set := all; set >= 1; set-- {
				best[k][set] = divide(single[label], best[k-1], set, best[k][set])
			}
		}
	}
	return best[most][all]
}

// divide tries all parts of set as one route.
func divide(single, rest []int64, set int, least int64) int64 {
	for part := set; part > 0; part = (part - 1) & set {
		if single[part] < impossible {
			least = min(least, single[part]+rest[set&^part])
		}
	}
	return least
}

func bestOrder(p *tours.Problem, label, set int) int64 {
	least := int64(impossible)
	var order []int32
	var extend func(left int)
	extend = func(left int) {
		if left == 0 {
			one := *p
			one.Stops = len(order)
			if cost, ok := checkSingle(p, tours.Route{Label: label, Stops: order}); ok {
				least = min(least, cost)
			}
			return
		}
		for x := range p.Stops {
			if left>>x&1 == 1 {
				order = append(order, int32(x+1))
				extend(left &^ (1 << x))
				order = order[:len(order)-1]
			}
		}
	}
	extend(set)
	return least
}

func checkSingle(p *tours.Problem, r tours.Route) (int64, bool) {
	times := p.Times
	if times == nil {
		times = p.Costs
	}
	cost, ok := checkRoute(p, times, p.Stops+1, r)
	on := map[int32]bool{}
	for _, x := range r.Stops {
		on[x] = true
	}
	for _, a := range p.Apart {
		ok = ok && !(on[a[0]] && on[a[1]])
	}
	return cost + p.Fixed, ok
}

// TestNothingIsCheaper: tiny problems of every shape are solved to the optimum
// that trying everything finds, and to no less.
func TestNothingIsCheaper(t *testing.T) {
	t.Parallel()
	for bits := range 32 {
		has := shape{bits&1 > 0, bits&2 > 0, bits&4 > 0, bits&8 > 0, bits&16 > 0}
		t.Run(fmt.Sprintf("%+v", has), func(t *testing.T) {
			t.Parallel()
			for seed := range uint64(2) {
				p := random(5+int(seed), seed+uint64(bits), has)
				if seed == 1 {
					p.MaxRoutes = 3
				}
				requireCheapest(t, p, 3000, seed)
			}
		})
	}
}

// TestNothingIsCheaperThanAPopulationFinds: the same with more stops, of which a
// population searches eight.
func TestNothingIsCheaperThanAPopulationFinds(t *testing.T) {
	t.Parallel()
	for _, has := range []shape{{}, {directed: true}, {timed: true, second: true}, {directed: true, timed: true, second: true, variance: true}} {
		t.Run(fmt.Sprintf("%+v", has), func(t *testing.T) {
			t.Parallel()
			requireCheapest(t, random(7, 3, has), 5000, 1)
			requireCheapest(t, random(8, 4, has), 20_000, 1)
			few := random(8, 5, has)
			few.MaxRoutes = 3
			requireCheapest(t, few, 20_000, 1)
		})
	}
}

// requireCheapest solves p and compares with trying everything.
func requireCheapest(t *testing.T, p *tours.Problem, steps int, seed uint64) {
	t.Helper()
	want := cheapest(p)
	r, err := tours.Solve(t.Context(), p, tours.Limits{Steps: steps}, tours.Settings{Seed: seed})
	require.NoError(t, err)
	cost, ok := check(p, r.Routes)
	assert.Equal(t, r.Feasible, ok)
	assert.Equal(t, r.Cost, cost)
	if want >= impossible {
		assert.False(t, r.Feasible)
		return
	}
	assert.True(t, r.Feasible, "seed %d", seed)
	assert.Equal(t, want, cost, "seed %d", seed)
}
