package placement

import (
	"cmp"
	"slices"

	"lanewright/planner/demand"
)

// Moves lists what changes its rack or level against today's layout, by cell,
// station and part. A loop's new places are paired with those it leaves, both
// by rack and level; what is left over is new (From nil) or gone (To nil).
// Containers are the fewer of those that lie at the old place today, where the
// sheet says how many, and those that the plan puts at the new one. A plant without a current layout has no moves.
func Moves(in Input, l Layout) []Move {
	if len(in.Index.Plant.Current) == 0 {
		return nil
	}
	spots := assigned(in, l)
	planned := map[demand.Key][]todaySpot{}
	for _, lane := range l.Lanes {
		if lane.Empty() {
			continue
		}
		list := planned[lane.Loop]
		if n := len(list); n > 0 && list[n-1].Rack == lane.Rack && list[n-1].Level == lane.Level {
			list[n-1].containers += lane.Containers
			continue
		}
		planned[lane.Loop] = append(list, todaySpot{Spot: Spot{lane.Rack, lane.Level, lane.Lane}, containers: lane.Containers})
	}
	loops := byKey(in.Loops)
	keys := map[demand.Key]bool{}
	for k := range spots {
		keys[k] = true
	}
	for k := range planned {
		keys[k] = true
	}
	var moves []Move
	for k := range keys {
		most := 0
		if loops[k] != nil {
			most = loops[k].Containers
		}
		moves = append(moves, pairUp(k, spots[k], planned[k], most)...)
	}
	slices.SortStableFunc(moves, func(a, b Move) int {
		return cmp.Or(demand.Key{Part: a.Part, Cell: a.Cell, Station: a.Station}.Compare(demand.Key{Part: b.Part, Cell: b.Cell, Station: b.Station}))
	})
	return moves
}

// pairUp makes the moves of one loop.
func pairUp(k demand.Key, from, to []todaySpot, containers int) []Move {
	left, reached := without(from, to), without(to, from)
	var moves []Move
	for i := range max(len(left), len(reached)) {
		m := Move{Part: k.Part, Cell: k.Cell, Station: k.Station}
		if i < len(left) {
			m.From, m.Containers = &left[i].Spot, left[i].containers
			if left[i].unknown {
				m.Containers = max(1, containers*left[i].lanes/lanesOf(from))
			}
		}
		if i < len(reached) {
			m.To = &reached[i].Spot
			if i >= len(left) || left[i].unknown || reached[i].containers < m.Containers {
				m.Containers = reached[i].containers
			}
		}
		moves = append(moves, m)
	}
	return moves
}

// lanesOf counts today's lanes.
func lanesOf(list []todaySpot) int {
	n := 0
	for _, s := range list {
		n += s.lanes
	}
	return n
}

// without returns the spots of a whose level is not in b.
func without(a, b []todaySpot) []todaySpot {
	var list []todaySpot
	for _, s := range a {
		if !slices.ContainsFunc(b, func(o todaySpot) bool { return o.Rack == s.Rack && o.Level == s.Level }) {
			list = append(list, s)
		}
	}
	return list
}
