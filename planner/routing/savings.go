package routing

import (
	"cmp"
	"slices"
	"time"

	"lanewright/planner/units"
)

// savings returns a first set of routes: one for each stop, then joined end to
// start where that saves most (Clarke, Wright, Scheduling of vehicles from a
// central depot to a number of delivery points, Operations Research 12, 1964,
// 568-581), here with directed ways: going on from a to b instead of over the
// market saves way(a, home) + way(home, b) − way(a, b).
func (p *problem) savings() []int32 {
	c := newChains(p)
	for _, s := range p.savingsList() {
		c.join(s.from, s.to)
	}
	return c.order()
}

type saving struct {
	from, to int32
	saved    units.Length
}

// savingsList lists the joints of neighbours by what they save.
func (p *problem) savingsList() []saving {
	var list []saving
	for a := int32(1); int(a) <= len(p.stops); a++ {
		for _, b := range p.nearTo(a) {
			list = append(list, p.saving(a, b), p.saving(b, a))
		}
	}
	slices.SortFunc(list, func(a, b saving) int {
		return cmp.Or(cmp.Compare(b.saved, a.saved), cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to))
	})
	return slices.Compact(list)
}

func (p *problem) saving(a, b int32) saving {
	return saving{a, b, p.leg(a, home).Length + p.leg(home, b).Length - p.leg(a, b).Length}
}

// chains are routes that only grow by being joined.
type chains struct {
	p    *problem
	next []int32
	// head is the first stop of each stop's chain; tail the last stop of the
	// chain, sum its load, both at its head.
	head, tail []int32
	sum        []load
	drive      []time.Duration
}

func newChains(p *problem) *chains {
	n := len(p.stops) + 1
	c := &chains{p, make([]int32, n), make([]int32, n), make([]int32, n), slices.Clone(p.loads), make([]time.Duration, n)}
	for a := 1; a < n; a++ {
		c.head[a], c.tail[a], c.drive[a] = int32(a), int32(a), p.trip(int32(a)).Time
	}
	return c
}

// join lets the chain of b follow that of a, if a ends the one and b begins the
// other and one round can serve both.
func (c *chains) join(a, b int32) {
	h := c.head[a]
	if c.tail[h] != a || c.head[b] != b || h == b {
		return
	}
	l := c.sum[h].plus(c.sum[b])
	drive := c.drive[h] + c.drive[b] + c.p.leg(a, b).Time - c.p.leg(a, home).Time - c.p.leg(home, b).Time
	if !c.p.carries(l) || c.p.round(l, drive) > c.p.limit.round {
		return
	}
	c.next[a], c.tail[h], c.sum[h], c.drive[h] = b, c.tail[b], l, drive
	for s := b; s != home; s = c.next[s] {
		c.head[s] = h
	}
}

func (c *chains) order() []int32 {
	var order []int32
	for a := int32(1); int(a) < len(c.head); a++ {
		if c.head[a] != a {
			continue
		}
		for s := a; s != home; s = c.next[s] {
			order = append(order, s)
		}
		order = append(order, home)
	}
	return order
}
