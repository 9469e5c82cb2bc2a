package floor

import (
	"slices"
	"sync"

	"lanewright/planner/plant"
)

// Tables remembers the tables of one network, so that callers of one run that ask
// for the same points and the same ride share one. It may be used from many
// goroutines; a nil Tables remembers nothing.
type Tables struct {
	mu   sync.Mutex
	made []madeTable
}

type madeTable struct {
	network *Network
	ride    Ride
	table   *Table
}

// mostTables bounds how many tables are kept, the latest ones.
const mostTables = 16

// Quickest returns n.Quickest(points, r, threads), which it makes only once.
func (t *Tables) Quickest(n *Network, points []plant.PointCode, r Ride, threads int) *Table {
	if t == nil {
		return n.Quickest(points, r, threads)
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, m := range t.made {
		if m.network == n && m.ride == r && slices.Equal(m.table.points, points) {
			return m.table
		}
	}
	made := madeTable{n, r, n.Quickest(slices.Clone(points), r, threads)}
	t.made = append(t.made[max(0, len(t.made)+1-mostTables):], made)
	return made.table
}
