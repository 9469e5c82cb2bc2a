package floor

import (
	"time"

	"golang.org/x/sync/errgroup"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Leg is a way from one point to another.
type Leg struct {
	Time   time.Duration
	Length units.Length
}

// Plus returns the way along a and then b.
func (a Leg) Plus(b Leg) Leg { return Leg{a.Time + b.Time, a.Length + b.Length} }

// Minus returns what is left of a without b.
func (a Leg) Minus(b Leg) Leg { return Leg{a.Time - b.Time, a.Length - b.Length} }

// Table holds the best way from each to each of a list of points. Rows and
// columns are numbered as that list is.
type Table struct {
	points []plant.PointCode
	index  map[plant.PointCode]int
	// legs holds one row per start; a leg of time never does not exist.
	legs []Leg
}

// Ride is how somebody moves over the floor.
type Ride struct {
	// Speed is above 0.
	Speed units.Speed
	// OnFoot is true for a handler who walks, with a cart or without: aisles for
	// people are open to him, those for vehicles are not, and he turns as he likes.
	OnFoot bool
}

// may reports whether an aisle is open to r.
func (r Ride) may(e edge) bool {
	switch e.traffic {
	case plant.OnlyDriven:
		return !r.OnFoot
	case plant.OnlyWalkers:
		return r.OnFoot
	default:
		return true
	}
}

// Quickest returns the quickest ways among points for a ride; of two equally quick
// ways the shorter counts. An edge takes its length divided by the lesser of the
// speed and its limit, rounded to the nanosecond; edges that are not open to the
// ride take forever. A way keeps the turning rules at the points it passes; at its
// ends the vehicle stands and may leave by any aisle.
// Points that are not in the network reach nothing but themselves. Threads below
// 1 count as 1 and never change the result.
func (n *Network) Quickest(points []plant.PointCode, r Ride, threads int) *Table {
	return n.table(points, n.walker(r), threads)
}

// cost is what each edge costs a ride.
func (n *Network) cost(r Ride) []Leg {
	cost := make([]Leg, len(n.out.list))
	for i, e := range n.out.list {
		v := r.Speed
		if e.limit > 0 {
			v = min(v, e.limit)
		}
		cost[i] = Leg{v.Time(e.length), e.length}
		if !r.may(e) {
			cost[i] = Leg{Time: never}
		}
	}
	return cost
}

// Shortest returns the ways of least length among points, whatever their time,
// who may use an aisle and how he may turn: the Time of its legs is 0. Nobody
// drives fewer metres.
func (n *Network) Shortest(points []plant.PointCode, threads int) *Table {
	cost := make([]Leg, len(n.out.list))
	for i, e := range n.out.list {
		cost[i] = Leg{0, e.length}
	}
	return n.table(points, func() walker { return byPoints{newDijkstra(n.out, cost)} }, threads)
}

// walker searches from one point after another.
type walker interface {
	// walk looks for the best ways from a point, way tells the one to another.
	walk(from int32)
	way(to int32) Leg
}

// walker returns a function that makes searches for a ride, each for one
// goroutine. Where nothing is said about turns it goes from point to point, else
// from aisle to aisle.
func (n *Network) walker(r Ride) func() walker {
	cost := n.cost(r)
	if n.corners == nil || r.OnFoot {
		return func() walker { return byPoints{newDijkstra(n.out, cost)} }
	}
	return n.byAisles(cost)
}

// byPoints goes from point to point.
type byPoints struct{ *dijkstra }

func (b byPoints) walk(from int32)  { b.run(from) }
func (b byPoints) way(to int32) Leg { return b.best[to] }

// table runs one search per point. Each search writes its own row, so the
// number of threads changes nothing.
func (n *Network) table(points []plant.PointCode, walkers func() walker, threads int) *Table {
	t := &Table{points: points, index: make(map[plant.PointCode]int, len(points)), legs: make([]Leg, len(points)*len(points))}
	for i, p := range points {
		t.index[p] = i
	}
	threads = max(1, min(threads, len(points)))
	var group errgroup.Group
	for worker := range threads {
		group.Go(func() error {
			w := walkers()
			for i := worker; i < len(points); i += threads {
				n.row(w, points, i, t.legs[i*len(points):(i+1)*len(points)])
			}
			return nil
		})
	}
	_ = group.Wait() // no search can fail
	return t
}

// row fills the legs from points[i].
func (n *Network) row(w walker, points []plant.PointCode, i int, row []Leg) {
	for j := range row {
		row[j] = Leg{Time: never}
	}
	if from, ok := n.index[points[i]]; ok {
		w.walk(from)
		for j, p := range points {
			if to, ok := n.index[p]; ok {
				row[j] = w.way(to)
			}
		}
	}
	for j, p := range points {
		if p == points[i] {
			row[j] = Leg{}
		}
	}
}

// Len returns the number of points.
func (t *Table) Len() int { return len(t.points) }

// Index returns the number of a point in t; ok is false where t lacks it.
func (t *Table) Index(p plant.PointCode) (i int, ok bool) {
	i, ok = t.index[p]
	return i, ok
}

// Leg returns the way from point number i to number j; ok is false where there
// is none.
func (t *Table) Leg(i, j int) (leg Leg, ok bool) {
	leg = t.legs[i*len(t.points)+j]
	return leg, leg.Time != never
}

// Between returns the way from one point to another; ok is false where there is
// none or t lacks a point.
func (t *Table) Between(from, to plant.PointCode) (leg Leg, ok bool) {
	i, okFrom := t.index[from]
	j, okTo := t.index[to]
	if !okFrom || !okTo {
		return Leg{Time: never}, false
	}
	return t.Leg(i, j)
}
