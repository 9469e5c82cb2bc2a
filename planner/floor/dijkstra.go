package floor

import (
	"cmp"
	"math"
)

// dijkstra finds the best ways from one point to all others (Dijkstra, A note
// on two problems in connexion with graphs, Numerische Mathematik 1, 1959,
// 269-271). Costs compare by time, then by length; both are never negative, so
// the order in which equal points leave the heap changes nothing.
type dijkstra struct {
	edges edges
	cost  []Leg
	best  []Leg
	// from is the edge by which the best way comes to each point; it is kept only
	// where trace is set.
	from  []int32
	trace bool
	// heap is a binary heap of open points, place the position of each point
	// in it, or -1.
	heap  []int32
	place []int32
}

func newDijkstra(e edges, cost []Leg) *dijkstra {
	points := len(e.first) - 1
	return &dijkstra{edges: e, cost: cost, best: make([]Leg, points), heap: make([]int32, 0, points), place: make([]int32, points)}
}

// run fills best with the ways from start.
func (d *dijkstra) run(start int32) {
	d.clear()
	d.start(start, Leg{})
	d.settle()
}

func (d *dijkstra) clear() {
	for i := range d.best {
		d.best[i] = Leg{never, math.MaxInt64}
		d.place[i] = -1
	}
	if d.trace {
		d.from = append(d.from[:0], make([]int32, len(d.best))...)
	}
}

// start makes a way that has cost so much already end at a point.
func (d *dijkstra) start(at int32, way Leg) {
	if way.Time == never || !less(way, d.best[at]) {
		return
	}
	d.best[at] = way
	d.push(at)
	if d.trace {
		d.from[at] = -1
	}
}

// settle goes on from all points where a way has started.
func (d *dijkstra) settle() {
	for len(d.heap) > 0 {
		at := d.pop()
		for k := d.edges.first[at]; k < d.edges.first[at+1]; k++ {
			way := plus(d.best[at], d.cost[k])
			if to := d.edges.list[k].to; way.Time != never && less(way, d.best[to]) {
				d.best[to] = way
				d.push(to)
				if d.trace {
					d.from[to] = k
				}
			}
		}
	}
}

// less compares by time, then by length.
func less(a, b Leg) bool {
	return cmp.Or(cmp.Compare(a.Time, b.Time), cmp.Compare(a.Length, b.Length)) < 0
}

// plus adds two legs; a sum that is too far is never.
func plus(a, b Leg) Leg {
	if b.Time > far || b.Length > far {
		return Leg{Time: never}
	}
	s := Leg{a.Time + b.Time, a.Length + b.Length}
	if s.Time > far || s.Length > far {
		return Leg{Time: never}
	}
	return s
}

// push puts an open point where its cost belongs, whether or not it is in the
// heap already.
func (d *dijkstra) push(p int32) {
	i := d.place[p]
	if i < 0 {
		i = int32(len(d.heap))
		d.heap = append(d.heap, p)
	}
	for i > 0 {
		parent := (i - 1) / 2
		if !less(d.best[p], d.best[d.heap[parent]]) {
			break
		}
		d.put(i, d.heap[parent])
		i = parent
	}
	d.put(i, p)
}

// pop takes out the open point of least cost.
func (d *dijkstra) pop() int32 {
	top, last := d.heap[0], d.heap[len(d.heap)-1]
	d.heap = d.heap[:len(d.heap)-1]
	d.place[top] = -1
	if len(d.heap) == 0 {
		return top
	}
	i := int32(0)
	for {
		child := 2*i + 1
		if int(child) >= len(d.heap) {
			break
		}
		if other := child + 1; int(other) < len(d.heap) && less(d.best[d.heap[other]], d.best[d.heap[child]]) {
			child = other
		}
		if !less(d.best[d.heap[child]], d.best[last]) {
			break
		}
		d.put(i, d.heap[child])
		i = child
	}
	d.put(i, last)
	return top
}

func (d *dijkstra) put(i, p int32) {
	d.heap[i] = p
	d.place[p] = i
}
