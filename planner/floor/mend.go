package floor

import (
	"cmp"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Obstacle is why a way is not there.
type Obstacle string

// Obstacles.
const (
	// OneWay: an aisle is one way, against the direction needed.
	OneWay Obstacle = "one-way"
	// Closed: a rule closes an aisle.
	Closed Obstacle = "closed"
	// NotOpen: an aisle is for people or for vehicles only.
	NotOpen Obstacle = "traffic"
	// Turning: the aisles are there, but a turning rule forbids a turn.
	Turning Obstacle = "turning"
	// NoAisle: an aisle is missing.
	NoAisle Obstacle = "no-aisle"
)

// shut is a way that nobody may take.
type shut struct {
	arc
	why Obstacle
}

// Mend is one change after which a way is there: the aisle from From to To opened,
// or built where there is none. From and To are empty for Turning.
type Mend struct {
	Obstacle Obstacle
	From, To plant.PointCode
	Length   units.Length
}

// Mends returns the single changes that would let a ride get from one point to
// another, shortest first, or none where it gets there already. Each helps, turning
// rules apart: the aisle begins where the ride gets to and ends where it gets to the
// goal from. Only where no aisle of the sheet helps is one to be built named, the
// shortest.
func (n *Network) Mends(from, to plant.PointCode, r Ride) []Mend {
	a, okFrom := n.index[from]
	b, okTo := n.index[to]
	if !okFrom || !okTo || n.gets(a, b, r) {
		return nil
	}
	there, back := n.marked(n.out, from, r.may), n.marked(n.in, to, r.may)
	if there[b] {
		return []Mend{{Obstacle: Turning}}
	}
	var list []Mend
	joins := func(x arc, why Obstacle) {
		if there[x.from] && back[x.to] {
			list = append(list, Mend{why, n.points[x.from], n.points[x.to], x.length})
		}
	}
	for _, s := range n.shut {
		if r.may(s.edge) {
			joins(s.arc, s.why)
		}
	}
	for k, e := range n.out.list {
		if !r.may(e) {
			joins(arc{n.leaves(int32(k)), e}, NotOpen)
		}
	}
	if len(list) == 0 {
		return []Mend{n.shortestGap(there, back)}
	}
	slices.SortFunc(list, func(a, b Mend) int {
		return cmp.Or(cmp.Compare(a.Length, b.Length), cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To), cmp.Compare(a.Obstacle, b.Obstacle))
	})
	return slices.Compact(list)
}

// gets reports whether a ride gets from one point to another.
func (n *Network) gets(from, to int32, r Ride) bool {
	w := n.walker(r)()
	w.walk(from)
	return w.way(to).Time != never
}

// shortestGap is the shortest straight aisle that joins two sets of points.
func (n *Network) shortestGap(there, back []bool) Mend {
	best := Mend{Obstacle: NoAisle, Length: never}
	for i := range there {
		for j := range back {
			if !there[i] || !back[j] {
				continue
			}
			if line := Straight(n.places[i], n.places[j]); line < best.Length {
				best = Mend{NoAisle, n.points[i], n.points[j], line}
			}
		}
	}
	return best
}
