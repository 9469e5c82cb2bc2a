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

// Quickest returns the quickest ways among points for a vehicle of the given
// speed; of two equally quick ways the shorter counts. An edge takes its length
// divided by the lesser of the speed and its limit, rounded to the nanosecond.
// Points that are not in the network reach nothing but themselves. Speed must
// be positive. Threads below 1 count as 1 and never change the result.
func (n *Network) Quickest(points []plant.PointCode, speed units.Speed, threads int) *Table {
	cost := make([]Leg, len(n.out.list))
	for i, e := range n.out.list {
		v := speed
		if e.limit > 0 {
			v = min(v, e.limit)
		}
		cost[i] = Leg{v.Time(e.length), e.length}
	}
	return n.table(points, cost, threads)
}

// Shortest returns the ways of least length among points, whatever their time:
// the Time of its legs is 0. No vehicle drives fewer metres.
func (n *Network) Shortest(points []plant.PointCode, threads int) *Table {
	cost := make([]Leg, len(n.out.list))
	for i, e := range n.out.list {
		cost[i] = Leg{0, e.length}
	}
	return n.table(points, cost, threads)
}

// table runs one search per point. Each search writes its own row, so the
// number of threads changes nothing.
func (n *Network) table(points []plant.PointCode, cost []Leg, threads int) *Table {
	t := &Table{points: points, index: make(map[plant.PointCode]int, len(points)), legs: make([]Leg, len(points)*len(points))}
	for i, p := range points {
		t.index[p] = i
	}
	threads = max(1, min(threads, len(points)))
	var group errgroup.Group
	for worker := range threads {
		group.Go(func() error {
			d := newDijkstra(n.out, cost)
			for i := worker; i < len(points); i += threads {
				n.row(d, points, i, t.legs[i*len(points):(i+1)*len(points)])
			}
			return nil
		})
	}
	_ = group.Wait() // no search can fail
	return t
}

// row fills the legs from points[i].
func (n *Network) row(d *dijkstra, points []plant.PointCode, i int, row []Leg) {
	for j := range row {
		row[j] = Leg{Time: never}
	}
	if from, ok := n.index[points[i]]; ok {
		d.run(from)
		for j, p := range points {
			if to, ok := n.index[p]; ok {
				row[j] = d.best[to]
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
