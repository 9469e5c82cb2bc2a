package floor

import (
	"cmp"
	"slices"

	"lanewright/planner/plant"
)

// Strip is a stretch of single-file aisles in which two vehicles can neither pass
// nor meet: aisles that follow one another at points where there is nothing else
// are one stretch, for there is nowhere to give way.
type Strip struct {
	// From and To are the ends of its first aisle in the order of the sheet.
	From, To plant.PointCode
	Aisles   int
}

// Strips returns the single-file stretches of the network. Step.Strip counts them
// from 1.
func (n *Network) Strips() []Strip { return n.strips }

// number finds the single-file stretches and tells each arc the one it lies in.
func (n *Network) number(p *plant.Plant, arcs []arc) {
	wide := make([]bool, len(n.points)) // some aisle at the point is none
	for _, a := range arcs {
		if !p.Aisles[a.aisle].SingleFile {
			wide[a.from], wide[a.to] = true, true
		}
	}
	group := make([]int32, len(p.Aisles)) // the least row that an aisle is joined with
	for i := range group {
		group[i] = int32(i)
	}
	at := make([]int32, len(n.points)) // one aisle at each point, counted from 1
	for _, a := range arcs {
		if !p.Aisles[a.aisle].SingleFile {
			continue
		}
		for _, end := range []int32{a.from, a.to} {
			if !wide[end] && at[end] > 0 {
				join(group, at[end]-1, a.aisle)
			}
			at[end] = a.aisle + 1
		}
	}
	n.name(p, arcs, group)
}

// join makes two aisles one group, named by the lower row.
func join(group []int32, a, b int32) {
	a, b = root(group, a), root(group, b)
	group[max(a, b)] = min(a, b)
}

func root(group []int32, a int32) int32 {
	for group[a] != a {
		a = group[a]
	}
	return a
}

func (n *Network) name(p *plant.Plant, arcs []arc, group []int32) {
	number, counted := map[int32]int32{}, map[int32]bool{}
	order := slices.Clone(arcs)
	slices.SortStableFunc(order, func(a, b arc) int { return cmp.Compare(a.aisle, b.aisle) })
	for _, a := range order {
		if !p.Aisles[a.aisle].SingleFile || counted[a.aisle] {
			continue
		}
		counted[a.aisle] = true
		r := root(group, a.aisle)
		if number[r] == 0 {
			n.strips = append(n.strips, Strip{From: p.Aisles[r].From, To: p.Aisles[r].To})
			number[r] = int32(len(n.strips))
		}
		n.strips[number[r]-1].Aisles++
	}
	for i := range arcs {
		if p.Aisles[arcs[i].aisle].SingleFile {
			arcs[i].strip = number[root(group, arcs[i].aisle)]
		}
	}
}
