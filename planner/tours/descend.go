package tours

import "fmt"

// descent improves routes around stops that were touched: for each of them the
// best move that joins it to one of its neighbours, until there is none
// (localised as in Accorsi, Vigo, A fast and scalable heuristic for the solution
// of large-scale capacitated vehicle routing problems, Transportation Science
// 55, 2021, 832-856; from memory, own code).
type descent struct {
	queue  []int32
	queued []bool
	best   move
	// slack is what breaches and wishes of the two routes cost now.
	slack int64
	moves int
	// checked lets every move prove its delta: for tests.
	checked bool
}

// touch puts a stop into the queue.
func (k *kicks) touch(x int32) {
	if x != depot && !k.queued[x] {
		k.queued[x] = true
		k.queue = append(k.queue, x)
	}
}

// descend empties the queue.
func (k *kicks) descend() {
	k.refreshStale()
	for i := 0; i < len(k.queue); i++ {
		u := k.queue[i]
		k.queued[u] = false
		for k.improve(u) {
		}
	}
	k.queue = k.queue[:0]
}

// improve makes the best move at u; it reports false where none improves.
func (k *kicks) improve(u int32) bool {
	k.best = move{}
	for _, b := range k.f.nearTo(u)[:min(reach, k.f.k)] {
		r := &k.routes[k.nodes[u].route]
		k.slack = r.over + r.side + k.f.Fixed
		if at := k.nodes[b.stop].route; at != k.nodes[u].route {
			k.slack += k.routes[at].over + k.routes[at].side
		}
		to, from := k.f.legs(u, b)
		k.joins(u, b.stop, to, 0)
		k.joins(u, b.stop, from, 1)
	}
	if k.best.kind == none {
		return false
	}
	k.moves++
	m := k.best
	k.touchEnds(&m)
	before := k.value()
	k.make(&m)
	if k.checked && k.value()-before != m.delta {
		panic(fmt.Sprintf("move %+v changed the value by %d", m, k.value()-before))
	}
	return true
}

// touchEnds queues the stops that m gives new neighbours.
func (k *kicks) touchEnds(m *move) {
	for _, x := range [4]int32{m.u, m.v, m.i, m.k} {
		if x != depot {
			k.touch(x)
			k.touch(k.nodes[x].link[0])
			k.touch(k.nodes[x].link[1])
		}
	}
}

// way is what the leg from a to b costs, seen in direction d.
func (k *kicks) way(a, b int32, d uint8) int64 {
	if d == 0 {
		return int64(k.f.leg(a, b))
	}
	return int64(k.f.legInto(a, b))
}

// joins tries the moves that let v follow u, seen in direction d, by a leg of
// cost leg.
func (k *kicks) joins(u, v, leg int32, d uint8) {
	nu, nv := &k.nodes[u], &k.nodes[v]
	d &= 1
	if nu.link[d] == v {
		return
	}
	out, in := nu.leg[d], nv.leg[1-d]
	if leg < max(out, in) {
		base := int64(leg) - int64(out) - int64(in)
		if nu.route != nv.route {
			k.try(tails, d, u, v, 0, 0, base+k.way(nv.link[1-d], nu.link[d], d))
			k.trades(u, v, base, d)
		}
		k.shifts(u, v, base, d)
	}
	if leg < max(out, nv.leg[d]) {
		k.turns(u, v, leg, d)
	}
}

// try keeps the move if it is the best so far.
func (k *kicks) try(what kind, d uint8, u, v, i, j int32, delta int64) {
	if delta-k.slack >= k.best.delta {
		return
	}
	m := move{what, d, u, v, i, j, delta}
	if m.delta = k.weighMove(&m); m.delta < k.best.delta {
		k.best = m
	}
}

// reach is how many neighbours of a stop the local search tries; measured.
const reach = 12

// longestShift and longestTrade are how many stops a string that moves has.
const (
	longestShift = 3
	longestTrade = 2
)

// shifts tries strings that end or begin at u before v.
func (k *kicks) shifts(u, v int32, base int64, d uint8) {
	nu, nv := &k.nodes[u], &k.nodes[v]
	su, pv := nu.link[d], nv.link[1-d]
	i := u
	for range longestShift {
		if i == depot || i == v {
			break
		}
		n := &k.nodes[i]
		pi := n.link[1-d]
		k.try(shift, d, u, v, i, 0, base+k.way(pi, su, d)+k.way(pv, i, d)-int64(n.leg[1-d]))
		i = pi
	}
	base += int64(nu.leg[d]) - int64(nu.leg[1-d])
	j := su
	for range longestShift - 1 {
		if j == depot || j == v || pv == u || pv == j {
			break
		}
		n := &k.nodes[j]
		sj := n.link[d]
		delta := base + k.way(nu.link[1-d], sj, d) + k.way(pv, j, d) - int64(n.leg[d])
		if !k.f.symmetric {
			delta += k.turnedMore(u, j, d)
		}
		k.try(shiftTurned, d, u, v, j, 0, delta)
		j = sj
	}
}

// turnedMore is what driving from b back to a costs more than from a to b.
func (k *kicks) turnedMore(a, b int32, d uint8) int64 {
	if d == 1 {
		a, b = b, a
	}
	return k.along[b].back - k.along[a].back
}

// trades tries strings that end at u against strings that end before v.
func (k *kicks) trades(u, v int32, base int64, d uint8) {
	su, last := k.nodes[u].link[d], k.nodes[v].link[1-d]
	if last == depot {
		return
	}
	base += k.way(last, su, d)
	i := u
	for range longestTrade {
		ni := &k.nodes[i]
		pi := ni.link[1-d]
		j := last
		for range longestTrade {
			nj := &k.nodes[j]
			pj := nj.link[1-d]
			k.try(trade, d, u, v, i, j, base+k.way(pj, i, d)+k.way(pi, j, d)-int64(ni.leg[1-d])-int64(nj.leg[1-d]))
			if j = pj; j == depot {
				break
			}
		}
		if i = pi; i == depot {
			break
		}
	}
}

// turns tries what turns a string round: u is followed by v, and what follows u
// by what follows v.
func (k *kicks) turns(u, v, leg int32, d uint8) {
	nu, nv := &k.nodes[u], &k.nodes[v]
	su, sv := nu.link[d], nv.link[d]
	if nu.route != nv.route {
		delta := int64(leg) + k.way(su, sv, d) - int64(nu.leg[d]) - int64(nv.leg[d])
		if !k.f.symmetric {
			delta += k.turnedHead(v, d) + k.turnedTail(su, d)
		}
		k.try(turnTails, d, u, v, 0, 0, delta)
		return
	}
	if k.ahead(v, u, d) {
		u, v, su, sv = v, u, sv, su
		nu, nv = nv, nu
		leg = int32(k.way(u, v, d))
	}
	delta := int64(leg) + k.way(su, sv, d) - int64(nu.leg[d]) - int64(nv.leg[d])
	if !k.f.symmetric {
		delta += k.turnedMore(su, v, d)
	}
	k.try(turn, d, u, v, 0, 0, delta)
}

// turnedHead is what driving from v back to the depot costs more than from the
// depot to v.
func (k *kicks) turnedHead(v int32, d uint8) int64 {
	first := k.routes[k.nodes[v].route].ends[d&1]
	return k.turnedMore(first, v, d) + k.way(first, depot, d) - k.way(depot, first, d)
}

// turnedTail is the same from the depot back to x, against from x to the depot.
func (k *kicks) turnedTail(x int32, d uint8) int64 {
	if x == depot {
		return 0
	}
	last := k.routes[k.nodes[x].route].ends[(1-d)&1]
	return k.turnedMore(x, last, d) + k.way(depot, last, d) - k.way(last, depot, d)
}
