package floor

import (
	"slices"

	"lanewright/planner/plant"
)

// Step is one aisle of a way.
type Step struct {
	From, To plant.PointCode
	Leg
	// Strip is the single-file stretch that the aisle lies in, from 1; 0 for none.
	Strip int
}

// Guide tells ways aisle by aisle. It keeps the search from the last point it was
// asked about and serves one goroutine.
type Guide struct {
	n    *Network
	ride Ride
	cost []Leg
	walk walker
	at   int32
}

// Guide returns a guide for a ride.
func (n *Network) Guide(r Ride) *Guide {
	g := &Guide{n: n, ride: r, cost: n.cost(r), walk: n.walker(r)(), at: -1}
	switch w := g.walk.(type) {
	case byPoints:
		w.trace = true
	case *byAisles:
		w.trace = true
	}
	return g
}

// Way returns the aisles of a quickest way, whose time and length are those of
// Quickest; ok is false where there is none. The way from a point to itself has no
// aisle.
func (g *Guide) Way(from, to plant.PointCode) (steps []Step, ok bool) {
	if from == to {
		return nil, true
	}
	start, okFrom := g.n.index[from]
	end, okTo := g.n.index[to]
	if !okFrom || !okTo {
		return nil, false
	}
	if g.at != start {
		g.walk.walk(start)
		g.at = start
	}
	if g.walk.way(end).Time == never {
		return nil, false
	}
	for _, k := range g.edges(end) {
		e := g.n.out.list[k]
		steps = append(steps, Step{g.n.points[g.n.leaves(k)], g.n.points[e.to], g.cost[k], int(e.strip)})
	}
	return steps, true
}

// edges lists the edges of the best way to a point.
func (g *Guide) edges(end int32) []int32 {
	var list []int32
	switch w := g.walk.(type) {
	case byPoints:
		for at := end; at != g.at; at = g.n.leaves(w.from[at]) {
			list = append(list, w.from[at])
		}
	case *byAisles:
		for k := w.last[end]; ; {
			list = append(list, k)
			corner := w.from[k]
			if corner < 0 {
				break
			}
			k = g.n.corners.next.leaves(corner)
		}
	}
	slices.Reverse(list)
	return list
}

// leaves returns the point that edge number k leaves.
func (n *Network) leaves(k int32) int32 { return n.out.leaves(k) }

func (e edges) leaves(k int32) int32 {
	at, found := slices.BinarySearch(e.first, k)
	if !found {
		return int32(at - 1)
	}
	for at+1 < len(e.first) && e.first[at+1] == k {
		at++ // points without edges begin where the next one does
	}
	return int32(at)
}
