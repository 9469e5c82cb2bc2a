package placement

import (
	"math"
	"slices"
)

// asking asks for a lot on a stall no more than so often, or no less: its jam with a sign
// may count no more than most. Without a sign it asks for nothing.
type asking jam

// forkLot finds the lot of a loop in parts that the programme takes most nearly half a
// time more than a whole number of times: that often or less is one side, more the other.
func (p *shortlist) forkLot() ([2]side, bool) {
	type place struct {
		stall int
		lot   int32
	}
	times := map[place]float64{}
	var list []place
	for r, id := range p.g.lp.IDs {
		c := &p.g.cols[id]
		for _, k := range c.lots {
			if p.b.a.stalls[c.stall].lots[k].share < 1 {
				at := place{c.stall, k}
				if _, ok := times[at]; !ok {
					list = append(list, at)
				}
				times[at] += p.g.lp.X[r]
			}
		}
	}
	best, off := place{}, 0.5-1e-3
	for _, at := range list {
		if d := math.Abs(times[at] - math.Floor(times[at]) - 0.5); d < off {
			best, off = at, d
		}
	}
	if off == 0.5-1e-3 {
		return [2]side{}, false
	}
	n := int(math.Floor(times[best]))
	more := asking{stall: best.stall, lot: best.lot, sign: -1, most: -n - 1}
	less := asking{stall: best.stall, lot: best.lot, sign: 1, most: n}
	return [2]side{{ask: more}, {ask: less}}, true
}

// limits is where the jam stands that asks for a lot, −1 where nothing is asked for.
func (g *programme) limits(q asking) int {
	if q.sign == 0 {
		return -1
	}
	at := slices.IndexFunc(g.jams, func(j jam) bool { return j.sign == q.sign && j.stall == q.stall && j.lot == q.lot })
	if at < 0 {
		at = len(g.jams)
		q.most = g.loose(jam(q))
		g.keep(jam(q))
	}
	return at
}

// loose is what the jam of a lot counts at most in every layout.
func (g *programme) loose(j jam) int {
	l := &g.a.stalls[j.stall].lots[j.lot]
	return int(g.a.c.loops[l.loop].k/l.n) * max(0, j.sign)
}

// limit makes the jams of lots what is asked for, without a word to the simplex.
func (g *programme) limit(asked []asking) {
	for k := range g.jams {
		if j := g.jams[k]; j.sign != 0 {
			g.most(k, g.loose(j))
		}
	}
	for _, q := range asked {
		if k := g.limits(q); k >= 0 {
			g.most(k, min(q.most, g.jams[k].most))
		}
	}
}

// most makes a jam count no more than so much.
func (g *programme) most(k, most int) {
	g.want[g.first+k] += float64(most - g.jams[k].most)
	g.jams[k].most = most
}

// ask asks for lots from now on.
func (p *shortlist) ask(asked []asking) {
	for _, q := range asked {
		p.g.limits(q) // it has a row from now on
	}
	had := make([]int, len(p.g.jams))
	for k := range had {
		had[k] = p.g.jams[k].most
	}
	p.g.limit(asked)
	for k, was := range had {
		if by := p.g.jams[k].most - was; by != 0 {
			p.g.lp.Want(p.g.first+k, float64(by))
		}
	}
}

// resume goes on with the programme where a node was left: it was kept before its last
// fork.
func (p *shortlist) resume(n *shortNode) {
	p.g.lp = n.lp
	p.g.limit(n.asked[:len(n.asked)-1])
	p.g.grow()
	p.ask(n.asked)
}
