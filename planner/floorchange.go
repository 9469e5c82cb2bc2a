package planner

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// FloorChange counts what changes on the floor when one plan takes the place of
// another.
type FloorChange struct {
	// Racks are those on which a lane in use changes, or that come or go. Lanes are
	// the lanes whose part, containers or place on their level change, come or go.
	Racks, Lanes int
	// Loops are those that lie elsewhere, have other containers, come or go.
	Loops int
	// Containers are those to be carried: to another rack or level, or to the floor
	// for the first time.
	Containers int
}

// ChangeOnFloor compares two plans of a plant; before may be nil, then all of it is new.
func ChangeOnFloor(before, after *Plan) FloorChange {
	if before == nil {
		before = &Plan{}
	}
	was, now := lanesBySpot(before), lanesBySpot(after)
	var c FloorChange
	racks := map[plant.RackCode]bool{}
	for at := range union(was, now) {
		if was[at] != now[at] {
			c.Lanes++
			racks[at.Rack] = true
		}
	}
	c.Racks = len(racks)
	on, at := containersOn(before), containersOn(after)
	for k := range union(on, at) {
		moved := 0
		for level, n := range at[k] {
			moved += max(0, n-on[k][level])
		}
		c.Containers += moved
		if !sameCounts(on[k], at[k]) {
			c.Loops++
		}
	}
	return c
}

// lanesBySpot are the supply lanes in use.
func lanesBySpot(p *Plan) map[placement.Spot]placement.Lane {
	m := map[placement.Spot]placement.Lane{}
	for _, l := range p.Lanes {
		if !l.Empty() {
			m[placement.Spot{Rack: l.Rack, Level: l.Level, Lane: l.Lane}] = l
		}
	}
	return m
}

// containersOn are the containers of each loop on each level.
func containersOn(p *Plan) map[demand.Key]map[surface]int {
	m := map[demand.Key]map[surface]int{}
	for _, l := range p.Lanes {
		if l.Empty() {
			continue
		}
		if m[l.Loop] == nil {
			m[l.Loop] = map[surface]int{}
		}
		m[l.Loop][surface{l.Rack, l.Level}] += l.Containers
	}
	return m
}

func sameCounts(a, b map[surface]int) bool {
	if len(a) != len(b) {
		return false
	}
	for k, n := range a {
		if b[k] != n {
			return false
		}
	}
	return true
}

// union is the keys of two maps.
func union[K comparable, V any](a, b map[K]V) map[K]bool {
	keys := map[K]bool{}
	for k := range a {
		keys[k] = true
	}
	for k := range b {
		keys[k] = true
	}
	return keys
}

// sortedKeys is union in the order of compare.
func sortedKeys[K comparable, V any](a, b map[K]V, compare func(x, y K) int) []K {
	var list []K
	for k := range union(a, b) {
		list = append(list, k)
	}
	slices.SortFunc(list, compare)
	return list
}
