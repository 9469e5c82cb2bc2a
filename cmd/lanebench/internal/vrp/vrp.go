// Package vrp reads vehicle routing problems in the format of TSPLIB as
// collections of published problems use it, and judges routes for them from
// scratch.
package vrp

import (
	"errors"
	"math"

	"lanewright/planner/tours"
)

// Instance is one problem as its file has it. Numbers are by node from 0; node 0
// is the depot.
type Instance struct {
	Name string
	// X and Y are coordinates, nil where the file has a table.
	X, Y []float64
	// Table has all legs in rows, nil where there are coordinates.
	Table    []float64
	Demand   []int64
	Capacity int64
	// Limit is what a route's legs and services may take; 0 for no limit.
	Limit float64
	// Service is by node and counts to the limit, not to the cost.
	Service []float64
	// Exact legs are not rounded to whole numbers.
	Exact bool
}

// ErrFormat marks files that are no such problem.
var ErrFormat = errors.New("not a routing problem")

// Nodes counts depot and stops.
func (v *Instance) Nodes() int { return len(v.Demand) }

// Leg is the length from a to b.
func (v *Instance) Leg(a, b int) float64 {
	if v.Table != nil {
		return v.Table[a*v.Nodes()+b]
	}
	dx, dy := v.X[a]-v.X[b], v.Y[a]-v.Y[b]
	d := math.Sqrt(float64(dx*dx) + float64(dy*dy))
	if v.Exact {
		return d
	}
	return math.Floor(d + 0.5)
}

// Value is the length of routes.
func (v *Instance) Value(routes [][]int32) float64 {
	var sum float64
	for _, r := range routes {
		sum += v.length(r)
	}
	return sum
}

func (v *Instance) length(route []int32) float64 {
	var sum float64
	at := 0
	for _, x := range route {
		sum += v.Leg(at, int(x))
		at = int(x)
	}
	return sum + v.Leg(at, 0)
}

// tolerance is what sums of fractions may differ by.
const tolerance = 1e-6

// Keeps reports whether routes serve every stop once and keep all limits.
func (v *Instance) Keeps(routes [][]int32) bool {
	seen := make([]bool, v.Nodes())
	count := 1
	for _, r := range routes {
		var load int64
		var time float64
		for _, x := range r {
			if x < 1 || int(x) >= v.Nodes() || seen[x] {
				return false
			}
			seen[x] = true
			count++
			load += v.Demand[x]
			time += v.Service[x]
		}
		time += v.length(r)
		if load > v.Capacity || v.Limit > 0 && time > v.Limit+tolerance {
			return false
		}
	}
	return count == v.Nodes()
}

// Bound is a value that no routes are below: each stop has a leg to it and one
// from it, and so many routes must leave and reach the depot as the demand
// fills.
func (v *Instance) Bound() float64 {
	n := v.Nodes()
	if n < 2 {
		return 0
	}
	var total int64
	var in, on float64
	for b := 1; b < n; b++ {
		to, from := math.Inf(1), math.Inf(1)
		for a := range n {
			if a != b {
				d := v.Leg(a, b)
				to = min(to, d)
				if v.Table != nil {
					d = v.Leg(b, a)
				}
				from = min(from, d)
			}
		}
		in, on = in+to, on+from
		total += v.Demand[b]
	}
	routes := float64(max((total+v.Capacity-1)/max(v.Capacity, 1), 1))
	home, away := math.Inf(1), math.Inf(1)
	for a := 1; a < n; a++ {
		home, away = min(home, v.Leg(a, 0)), min(away, v.Leg(0, a))
	}
	return max(in+routes*home, on+routes*away)
}

// tableMost is up to how many nodes all legs are kept in a table.
const tableMost = 2500

// Problem is the instance in whole numbers, and how many of them are one of the
// file's units. Fractions of a limit of time are rounded up, so that no route
// that keeps it in whole numbers breaks it.
func (v *Instance) Problem() (*tours.Problem, float64) {
	n := v.Nodes()
	scale := v.scale()
	p := &tours.Problem{Stops: n - 1, X: v.X, Y: v.Y, Loads: []tours.Load{{Mean: v.Demand, Capacity: v.Capacity}}}
	if v.Limit > 0 {
		p.MaxTime = max(int64(math.Floor(v.Limit*scale+tolerance)), 1)
		p.Service = make([]int64, n)
		for i, s := range v.Service {
			p.Service[i] = int64(math.Ceil(s*scale - tolerance))
		}
	}
	way := func(a, b int32) int32 { return int32(math.Ceil(v.Leg(int(a), int(b))*scale - tolerance)) }
	if v.Table == nil && n > tableMost {
		p.Way = way
		if !v.Exact && scale == 1 {
			p.Way = v.rounded
		}
		return p, scale
	}
	p.Costs = make([]int32, n*n)
	for a := range n {
		for b := range n {
			if v.Table == nil && b < a {
				p.Costs[a*n+b] = p.Costs[b*n+a]
				continue
			}
			p.Costs[a*n+b] = way(int32(a), int32(b))
		}
	}
	return p, scale
}

// rounded is a leg between coordinates in whole numbers.
func (v *Instance) rounded(a, b int32) int32 {
	dx, dy := v.X[a]-v.X[b], v.Y[a]-v.Y[b]
	return int32(math.Sqrt(float64(dx*dx)+float64(dy*dy)) + 0.5)
}

// scale is 1 for whole numbers, else the largest power of ten up to a million
// that keeps every leg below 2^30.
func (v *Instance) scale() float64 {
	longest, whole := 1.0, !v.Exact && v.Limit == math.Trunc(v.Limit)
	for _, d := range v.Table {
		longest = max(longest, d)
		whole = whole && d == math.Trunc(d)
	}
	for i := range v.X {
		longest = max(longest, 2*v.Leg(0, i))
	}
	if whole {
		return 1
	}
	scale := 1e6
	for scale > 1 && longest*scale > 1<<30 {
		scale /= 10
	}
	return scale
}
