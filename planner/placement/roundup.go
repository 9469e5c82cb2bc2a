package placement

import "slices"

// roundUp is a condition on the parts in which a loop of k containers lies, of n each:
//
//	Σ ⌈n / by⌉ ≥ ⌈k / by⌉
//
// A programme that takes shares of parts would count full lanes of by containers for
// all of them, and the last lane is mostly not full (rounding in the manner of
// Chvátal, Edmonds polytopes and a hierarchy of combinatorial problems, Discrete
// Mathematics 4, 1973, from memory).
type roundUp struct {
	loop int
	by   int64
	// need is the right side; price what it is worth to meet it.
	need, price float64
}

// of is the share of the condition that a part of n containers meets.
func (u *roundUp) of(n int64) float64 { return float64((n+u.by-1)/u.by) / u.need }

// upWorth is what a lot is worth for the conditions on its loop.
func (a *auction) upWorth(l *lot) float64 {
	sum := 0.0
	for _, k := range a.upsOf[l.loop] {
		sum += a.ups[k].price * a.ups[k].of(l.n)
	}
	return sum
}

// roundUps are the conditions that a loop in parts has to meet: one for each number of
// containers that a lane of it may hold, but where whole lanes are full.
func (a *auction) roundUps(i int) []roundUp {
	c := a.c
	k := c.loops[i].k
	var list []roundUp
	if a.unsplit && !c.big[i] {
		return nil
	}
	for col := range c.cols {
		id := c.lay[i*len(c.cols)+col]
		if id < 0 || !a.there(col) {
			continue
		}
		for _, w := range c.lays[id].ways[:c.lays[id].n] {
			if by := w.capacity; by > 1 && by < k && k%by > 0 && !slices.ContainsFunc(list, func(u roundUp) bool { return u.by == by }) {
				list = append(list, roundUp{loop: i, by: by, need: float64((k + by - 1) / by)})
			}
		}
	}
	return list
}

// roundUp adds the conditions that the programme breaks to its auction, and returns a
// programme with them; the same one where it breaks none. known is the effort of some
// layout.
func (g *programme) roundUp(known float64) *programme {
	a, had := g.a, len(g.a.ups)
	laid := make([][]share, len(a.c.loops))
	for r, id := range g.lp.IDs {
		for _, at := range g.cols[id].lots {
			l := &a.stalls[g.cols[id].stall].lots[at]
			laid[l.loop] = append(laid[l.loop], share{l.n, g.lp.X[r]})
		}
	}
	for _, i := range a.loops {
		for _, u := range a.roundUps(i) {
			sum := 0.0
			for _, s := range laid[i] {
				sum += s.x * u.of(s.n)
			}
			if sum < 1-1e-4 && !slices.ContainsFunc(a.upsOf[i], func(k int) bool { return a.ups[k].by == u.by }) {
				a.upsOf[i] = append(a.upsOf[i], len(a.ups))
				a.ups = append(a.ups, u)
			}
		}
	}
	if len(a.ups) == had {
		return g
	}
	n := newProgramme(a, known)
	for k := range g.cols {
		if p := &g.cols[k]; p.stall >= 0 {
			n.learn(n.pattern(p.stall, p.lots))
		}
	}
	return n
}

// forget takes back the conditions from one on.
func (a *auction) forget(from int) {
	for k, u := range a.ups[from:] {
		a.upsOf[u.loop] = slices.DeleteFunc(a.upsOf[u.loop], func(at int) bool { return at == from+k })
	}
	a.ups = a.ups[:from]
}

// share is so much of a part of n containers.
type share struct {
	n int64
	x float64
}
