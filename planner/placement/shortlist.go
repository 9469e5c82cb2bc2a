package placement

import (
	"cmp"
	"math"
	"slices"

	"lanewright/planner/internal/patterns"
)

// shortlist is every bundle that a layout with less effort than is aimed at may have on
// its levels: what a branching is left with where these are few enough. The programme
// that takes shares of them may have rows that no auction could price, for jams, and
// its bound is so near to the best layout that most of the bundles go (Baldacci,
// Christofides, Mingozzi, An exact algorithm for the vehicle routing problem based on
// the set partitioning formulation with additional cuts, Mathematical Programming 115,
// 2008, from memory).
type shortlist struct {
	b *branching
	// g is the programme, the same for all shortlists of a branching.
	g *programme
	// stands are the bundles of each stall, lots what they consist of, by stall.
	stands []stand
	lots   [][][]int32
	// cols are the columns of bundles in the programme, −1 without one.
	cols [][]int32
	// jamPrice are the prices of jams in the last scan, priced those above nothing.
	jamPrice []float64
	priced   []int
	// nodes are what has yet to be looked at.
	nodes []shortNode
}

// shortNode is a part of the tree that has yet to be looked at: what is known of its
// bound, how many forks lead to it, and the bundles that keep to them.
type shortNode struct {
	bound float64
	depth int
	list  []stand
	// asked is what is asked of lots.
	asked []asking
	// lp is the programme as it was where they part.
	lp *patterns.Simplex
}

// mostBundles is how many bundles a shortlist may have, searchBundles how many of them a
// stall for a search through all.
const (
	mostBundles   = 200_000
	searchBundles = 2_000
)

// newShortlist lists the bundles of the lots that are open, where value is bid; nil
// where there are too many, or too many loops.
func (b *branching) newShortlist(value float64) *shortlist {
	if len(b.a.c.loops) > awardLoops {
		return nil
	}
	p := &shortlist{b: b, cols: make([][]int32, len(b.a.stalls)), lots: make([][][]int32, len(b.a.stalls))}
	left := mostBundles
	for s := range b.a.stalls {
		t := &b.a.stalls[s]
		if t.times == 0 {
			continue
		}
		list, lots, ok := b.a.bundles(t, b.aim-value, left)
		if !ok || !b.on() {
			return nil
		}
		left -= len(list)
		p.lots[s] = lots
		p.stands = append(p.stands, stand{stall: s, times: t.times, list: list})
	}
	if b.short == nil {
		b.short = newProgramme(b.a, b.p.key.effort)
		b.short.lp.Barred = func(id int) bool { return b.short.cols[id].barred }
	}
	p.g = b.short
	if b.root != nil {
		p.g.lp = b.root
		p.g.limit(nil)
	}
	p.g.trim()
	for s, lots := range p.lots {
		p.cols[s] = make([]int32, len(lots))
		for k := range lots {
			p.cols[s][k] = p.g.column(s, lots[k])
			if p.cols[s][k] < 0 && b.g.column(s, lots[k]) >= 0 {
				p.cols[s][k] = p.g.learn(p.g.pattern(s, lots[k]))
			}
		}
	}
	return p
}

// prove looks for layouts with less effort than is aimed at among the bundles of the
// shortlist, and returns the least effort that they can have, as far as it is proved.
func (p *shortlist) prove(bound float64) float64 {
	b := p.b
	p.nodes = []shortNode{{bound: bound, list: p.stands}}
	for len(p.nodes) > 0 {
		last := len(p.nodes) - 1
		n := p.nodes[last]
		p.nodes = p.nodes[:last]
		switch {
		case n.bound >= b.aim:
		case b.on():
			p.follow(n)
		default:
			bound = n.bound
			for _, o := range p.nodes {
				bound = min(bound, o.bound)
			}
			return bound
		}
	}
	return b.aim
}

// follow looks for layouts in a part of the tree until there is nothing better than
// is aimed at in it, and leaves what it turns away from.
func (p *shortlist) follow(n shortNode) {
	b := p.b
	if n.lp != nil {
		p.resume(&n)
	}
	list := n.list
	for {
		value, open := p.tighten(list, &n)
		if !open {
			return
		}
		f, ok := p.fork(list)
		if n.depth == 0 {
			p.g.trim()
			b.root = p.g.lp.Clone()
		}
		if !ok && b.on() && !math.IsInf(value, -1) {
			if p.deal() {
				continue
			}
			f, ok = p.forkInside()
		}
		if p.search(list, value, b.look) {
			return
		}
		if ok && b.on() {
			p.nodes = append(p.nodes, n.on(f[1], p.left(list, f[1].keeps), p.g.lp.Clone()))
			n = n.on(f[0], p.left(list, f[0].keeps), nil)
			list = n.list
			p.ask(n.asked)
			continue
		}
		switch {
		case !b.on():
			p.nodes = append(p.nodes, n)
		case !p.search(list, value, min(b.last, *b.a.steps*workPerStep/awardWork)):
			b.doubt = min(b.doubt, n.bound)
		}
		return
	}
}

// side is one side of a fork. Where keeps is there it tells whether a bundle on a stall,
// with loops that lie there whole and others in part, may be in a layout.
type side struct {
	keeps func(stall int, whole, parts crowd) bool
	ask   asking
}

// on is the node on a side of a fork, lp being the programme where they part.
func (n shortNode) on(s side, list []stand, lp *patterns.Simplex) shortNode {
	return shortNode{n.bound, n.depth + 1, list, append(slices.Clone(n.asked), s.ask), lp}
}

// keepTo is the side on which a loop lies in some of its places.
func keepTo(loop int, places []int) side {
	return side{keeps: func(stall int, whole, parts crowd) bool {
		return !(whole.has(loop) && !slices.Contains(places, stall) || parts.has(loop) && !slices.Contains(places, inParts))
	}}
}

// left are the bundles that keep to the side of a fork.
func (p *shortlist) left(list []stand, keeps func(stall int, whole, parts crowd) bool) []stand {
	out := make([]stand, len(list))
	for k, s := range list {
		out[k] = stand{stall: s.stall, times: s.times, list: make([]bundle, 0, len(s.list))}
		for _, b := range s.list {
			if keeps == nil || keeps(s.stall, b.whole, b.parts) {
				out[k].list = append(out[k].list, b)
			}
		}
		p.spend(2*len(s.list) + forkWork)
	}
	return out
}

// search looks through all layouts of the bundles of list, value being what is bid;
// false where there are too many or that takes too long.
func (p *shortlist) search(list []stand, value float64, steps int) bool {
	b := p.b
	if !b.on() || math.IsInf(value, -1) {
		return false
	}
	w := b.a.newAward(b.aim - value)
	for _, s := range list {
		if len(s.list) > searchBundles {
			return false
		}
		s.list = slices.Clone(s.list)
		slices.SortStableFunc(s.list, func(x, y bundle) int { return cmp.Compare(x.less, y.less) })
		w.add(s, p.lots[s.stall])
	}
	w.found = func(path []chosen, spent float64) float64 {
		w.nodes -= len(b.a.loops)
		if b.a.effortOf(path) >= b.target {
			return b.aim - value
		}
		w.nodes -= workPerStep
		st, sure := b.a.layout(path, b.set)
		if st != nil {
			b.take(st)
		} else if !sure {
			b.doubt = min(b.doubt, value+spent)
		}
		return b.aim - value
	}
	return w.search(steps)
}

// fork finds a loop to divide the places of that it has in the bundles of list.
func (p *shortlist) fork(list []stand) ([2]side, bool) {
	b := p.b
	whole, parts := make([]crowd, len(b.a.stalls)), crowd{}
	for _, s := range list {
		for k := range s.list {
			whole[s.stall] = whole[s.stall].or(s.list[k].whole)
			parts = parts.or(s.list[k].parts)
		}
		p.spend(len(s.list))
	}
	p.spend(len(b.a.loops) * b.lots)
	forks := b.forks(p.g, func(stall int, l *lot) bool {
		if l.share == 1 {
			return whole[stall].has(l.loop)
		}
		return parts.has(l.loop)
	})
	return p.hopeful(forks)
}

// forkWork is the work of a fork for each stall at least.
const forkWork = 200

// triedForks is how many forks are tried before one is chosen, triedPivots how many
// pivots each side may take.
const (
	triedForks  = 6
	triedPivots = 20
)

// hopeful is the fork both sides of which seem to cost most: those that are worth most
// are tried with the bundles that the programme has.
func (p *shortlist) hopeful(forks []fork) ([2]side, bool) {
	if len(forks) == 0 {
		return [2]side{}, false
	}
	best, most := [2]side{}, -1.0
	now := p.g.lp.Value()
	least := 1e-3 * (p.b.aim - now)
	for _, f := range forks[:min(len(forks), triedForks)] {
		sides := [2]side{keepTo(f.loop, f.sides[0]), keepTo(f.loop, f.sides[1])}
		if len(forks) == 1 {
			return sides, true
		}
		worth := 1.0
		for _, s := range sides {
			worth *= max(least, min(p.tried(s), p.b.aim)-now)
		}
		if worth > most {
			best, most = sides, worth
		}
	}
	return best, true
}

// tried is what the programme costs on a side of a fork with the bundles that it has,
// as far as that is less than is aimed at.
func (p *shortlist) tried(s side) float64 {
	had := p.g.lp
	var barred []int
	for k := range p.g.cols {
		if c := &p.g.cols[k]; c.stall >= 0 && !c.barred && !s.keeps(c.stall, c.whole, c.parts) {
			c.barred = true
			barred = append(barred, k)
		}
	}
	p.g.lp = had.Clone()
	cost := math.Inf(1)
	if p.g.repair(p.b.aim, triedPivots) || p.g.lp.Value() < p.b.aim && p.b.on() {
		cost = p.g.lp.Value()
	}
	had.Work = p.g.lp.Work + int64(len(p.g.cols)+len(had.X)*len(had.X)/4)
	p.g.lp = had
	for _, k := range barred {
		p.g.cols[k].barred = false
	}
	return cost
}

// forkInside finds a fork where every loop has its place: two loops to lie together or
// not, or how often a lot lies on a stall.
func (p *shortlist) forkInside() ([2]side, bool) {
	if q, ok := p.g.pairing(len(p.b.a.c.loops)); ok {
		return [2]side{{keeps: q.together}, {keeps: q.apart}}, true
	}
	return p.forkLot()
}
