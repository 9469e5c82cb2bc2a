package floor

import "lanewright/planner/plant"

// corners lists, for each edge of the network, the edges that a vehicle may take
// after it: a graph whose points are the aisles in their direction of travel
// (Caldwell, On finding minimum routes in a network with turn penalties,
// Communications of the ACM 4, 1961, 107-108; from memory).
type corners struct {
	next edges
	// from is the point that each edge leaves.
	from []int32
}

// turning returns the corners of the network, or nil where every turn is allowed.
func (n *Network) turning(p *plant.Plant) *corners {
	rules := newTurnRules(p)
	if !rules.any {
		return nil
	}
	c := &corners{from: make([]int32, len(n.out.list))}
	for i := range n.points {
		for k := n.out.first[i]; k < n.out.first[i+1]; k++ {
			c.from[k] = int32(i)
		}
	}
	var arcs []arc
	for k, e := range n.out.list {
		for next := n.out.first[e.to]; next < n.out.first[e.to+1]; next++ {
			f := n.out.list[next]
			turn := plant.Turn{From: n.points[c.from[k]], At: n.points[e.to], To: n.points[f.to]}
			if rules.allow(turn, e.aisle == f.aisle && p.Aisles[e.aisle].NoTurning) {
				arcs = append(arcs, arc{int32(k), edge{to: next}})
			}
		}
	}
	c.next = newEdges(len(n.out.list), arcs)
	return c
}

// MayTurn reports whether a vehicle that drives may come from one point over another
// to a third; aisles that are not there may always be turned into.
func (n *Network) MayTurn(from, at, to plant.PointCode) bool {
	a, okFrom := n.index[from]
	b, okAt := n.index[at]
	c, okTo := n.index[to]
	if n.corners == nil || !okFrom || !okAt || !okTo {
		return true
	}
	comes := false
	for k := n.out.first[a]; k < n.out.first[a+1]; k++ {
		if n.out.list[k].to != b {
			continue
		}
		comes = true
		for _, next := range n.corners.next.from(k) {
			if n.out.list[next.to].to == c {
				return true
			}
		}
	}
	return !comes
}

// turnRules are the rows of the sheet Turns.
type turnRules struct {
	any  bool
	rows map[plant.Turn]bool
}

func newTurnRules(p *plant.Plant) turnRules {
	r := turnRules{len(p.Turns) > 0, map[plant.Turn]bool{}}
	for _, t := range p.Turns {
		k := plant.Turn{From: t.From, At: t.At, To: t.To}
		allowed, twice := r.rows[k]
		r.rows[k] = t.Allowed && (allowed || !twice)
	}
	for _, a := range p.Aisles {
		r.any = r.any || a.NoTurning
	}
	return r
}

// allow judges a turn by the row that says most about it: one with both ends, then
// those with one, of which one that forbids counts, then one with none. Where no
// row speaks of it, it is allowed unless it goes straight back into an aisle in
// which nobody may turn round.
func (r turnRules) allow(t plant.Turn, back bool) bool {
	if allowed, ok := r.rows[t]; ok {
		return allowed
	}
	from, okFrom := r.rows[plant.Turn{From: t.From, At: t.At}]
	to, okTo := r.rows[plant.Turn{At: t.At, To: t.To}]
	switch {
	case okFrom && okTo:
		return from && to
	case okFrom:
		return from
	case okTo:
		return to
	}
	if allowed, ok := r.rows[plant.Turn{At: t.At}]; ok {
		return allowed
	}
	return !back
}

// byAisles goes from aisle to aisle.
type byAisles struct {
	*dijkstra
	n    *Network
	cost []Leg
	// ends are the best ways to each point.
	ends []Leg
	// last is the edge by which the best way comes to each point, -1 for none.
	last []int32
}

// byAisles returns a function that makes searches which keep the turning rules.
func (n *Network) byAisles(cost []Leg) func() walker {
	after := make([]Leg, len(n.corners.next.list))
	for k, e := range n.corners.next.list {
		after[k] = cost[e.to]
	}
	return func() walker {
		return &byAisles{newDijkstra(n.corners.next, after), n, cost, make([]Leg, len(n.points)), make([]int32, len(n.points))}
	}
}

func (b *byAisles) walk(from int32) {
	b.clear()
	for k := b.n.out.first[from]; k < b.n.out.first[from+1]; k++ {
		b.start(k, b.cost[k])
	}
	b.settle()
	for i := range b.ends {
		b.ends[i], b.last[i] = Leg{never, never}, -1
	}
	b.ends[from] = Leg{}
	for k, e := range b.n.out.list {
		if b.best[k].Time != never && less(b.best[k], b.ends[e.to]) {
			b.ends[e.to], b.last[e.to] = b.best[k], int32(k)
		}
	}
}

func (b *byAisles) way(to int32) Leg { return b.ends[to] }
