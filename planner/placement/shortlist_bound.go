package placement

import (
	"math"
	"slices"
)

// spend counts work.
func (p *shortlist) spend(work int) {
	p.g.lp.Work += int64(work)
}

// tighten raises the bound on layouts of the bundles of list until that brings little
// more, drops those that no layout has that is aimed at, and returns what is bid at the
// end, for which it is noted what bundles are worth less; false where no layout is left
// that is aimed at.
func (p *shortlist) tighten(list []stand, n *shortNode) (float64, bool) {
	b := p.b
	if slices.ContainsFunc(list, func(s stand) bool { return len(s.list) == 0 }) {
		return math.Inf(1), false
	}
	p.bar(list)
	for last := math.Inf(-1); ; {
		bid := p.converge(list)
		n.bound = max(n.bound, bid)
		if n.bound >= b.aim || bid > math.Inf(-1) && !p.drop(list, bid) {
			return bid, false
		}
		if !b.on() || math.IsInf(bid, -1) {
			return bid, true
		}
		if path, ok := p.g.whole(); ok {
			if st, _ := b.a.layout(path, b.set); st != nil && b.take(st) {
				continue
			}
			return bid, true
		}
		if p.stale() && bid > last {
			last = bid
			continue
		}
		// Deeper in the tree jams bring less than they cost.
		if bid-last < 0.02*(b.aim-bid) || n.depth > 0 || !p.jam() {
			return bid, true
		}
		last = bid
	}
}

// bar bars the columns of the programme that are no bundles of list.
func (p *shortlist) bar(list []stand) {
	for k := range p.g.cols {
		p.g.cols[k].barred = p.g.cols[k].stall >= 0
	}
	for s := range list {
		cols := p.cols[list[s].stall]
		for k := range list[s].list {
			if c := cols[list[s].list[k].lots]; c >= 0 {
				p.g.cols[c].barred = false
			}
		}
		p.spend(len(list[s].list))
	}
}

// repairs is how many pivots a repair may take for each row.
const repairs = 3

// converge takes bundles into the programme until none lowers its cost, and returns
// the best bound on the way, at whose prices it is noted what each bundle is worth
// less; −∞ where the programme has no precision left.
func (p *shortlist) converge(list []stand) float64 {
	best := math.Inf(-1)
	var at, kept []float64
	last := false // whether the last scan was at the prices that are kept
	above := p.b.aim * (1 + 1e-6)
	for p.g.sound() && p.g.repair(above, repairs*len(p.g.lp.X)) && (p.g.lp.Value() > above || p.g.settle()) {
		at = append(p.g.prices(at), p.jamPrices()...)
		v, found := p.scan(list, at, true)
		if last = v > best; last {
			best, kept = v, append(kept[:0], at...)
		}
		if v >= p.b.aim {
			break
		}
		if p.g.lp.Value() > above && !found {
			above = math.Inf(1)
			continue
		}
		if !found || p.g.lp.Value()-v < 0.001*(p.b.aim-v) {
			break
		}
	}
	if kept == nil || last {
		return best
	}
	best, _ = p.scan(list, kept, false)
	return best
}

// jamPrices are the prices of the jams.
func (p *shortlist) jamPrices() []float64 {
	list := make([]float64, len(p.g.jams))
	for k := range list {
		list[k] = max(0, -p.g.lp.Price[p.g.first+k])
	}
	return list
}

// scan returns the bound at prices, less what rounding may have added, and notes what
// each bundle is worth less than the best of its stall; where it learns, the best
// bundles that lower the cost of the programme enter it, and it reports whether there
// are any.
func (p *shortlist) scan(list []stand, at []float64, learn bool) (bound float64, found bool) {
	sum, size := p.offer(at)
	for s := range list {
		least := p.weigh(&list[s])
		if learn {
			found = p.enter(&list[s]) || found
		}
		for k := range list[s].list {
			list[s].list[k].less -= least
		}
		sum, size = sum+float64(list[s].times)*least, size+float64(list[s].times)*math.Abs(least)
	}
	return sum - 1e-12*size, found
}

// offer takes prices of loops, fee, rents and jams, and returns their sum over what they
// are paid for, and the same without regard to signs.
func (p *shortlist) offer(at []float64) (sum, size float64) {
	a := p.b.a
	n := a.priced()
	a.offer(at[:n])
	add := func(v float64) { sum, size = sum+v, size+math.Abs(v) }
	add(-a.fee * float64(a.splits))
	for _, i := range a.loops {
		add(a.bid[i])
	}
	for k := range a.ups {
		add(a.ups[k].price)
	}
	for b, rent := range a.rent {
		if rent > 0 {
			add(-rent * a.standing(b))
		}
	}
	p.priced, p.jamPrice = p.priced[:0], append(p.jamPrice[:0], at[n:]...)
	for k, price := range p.jamPrice {
		if price > 0 {
			p.priced = append(p.priced, k)
			add(-price * float64(p.g.jams[k].most))
		}
	}
	return sum, size
}

// weigh notes what the bundles of a stall are worth, and returns the least.
func (p *shortlist) weigh(s *stand) float64 {
	p.b.a.pay(&p.b.a.stalls[s.stall])
	lots, least := p.lots[s.stall], math.Inf(1)
	for k := range s.list {
		b := &s.list[k]
		b.less = p.worth(s.stall, lots[b.lots], b.whole)
		least = min(least, b.less)
	}
	p.spend(len(s.list) * (6 + len(p.priced)))
	return least
}

// entering is how many bundles of a stall enter the programme at once.
const entering = 4

// enter takes those bundles of a stall into the programme that lower its cost most, and
// reports whether there are any that it did not know.
func (p *shortlist) enter(s *stand) bool {
	below := p.g.lp.Price[p.g.stalls+s.stall] - 1e-12*p.g.dear
	var best []int
	for k := range s.list {
		if v := s.list[k].less; v < below && (len(best) < entering || v < s.list[best[entering-1]].less) {
			at, _ := slices.BinarySearchFunc(best, v, func(k int, v float64) int {
				if s.list[k].less <= v {
					return -1
				}
				return 1
			})
			best = slices.Insert(best, at, k)
			best = best[:min(len(best), entering)]
		}
	}
	found := false
	cols := p.cols[s.stall]
	for _, k := range best {
		if at := s.list[k].lots; cols[at] < 0 {
			cols[at] = p.g.learn(p.g.pattern(s.stall, p.lots[s.stall][at]))
			found = true
		}
	}
	return found
}

// worth is what lots on a stall cost beyond what they bring at the prices of the scan.
func (p *shortlist) worth(stall int, lots []int32, whole crowd) float64 {
	v := 0.0
	for _, l := range lots {
		v -= p.b.a.stalls[stall].lots[l].profit
	}
	for _, k := range p.priced {
		if n := p.g.jams[k].of(stall, lots, whole); n != 0 {
			v += p.jamPrice[k] * float64(n)
		}
	}
	return v
}

// drop drops the bundles that no layout better than is looked for has where so much is
// bid, and bars their columns; false where a stall has none left.
func (p *shortlist) drop(list []stand, bid float64) bool {
	for s := range list {
		list[s].list = slices.DeleteFunc(list[s].list, func(b bundle) bool { return bid+b.less >= p.b.aim })
		if len(list[s].list) == 0 {
			return false
		}
	}
	p.bar(list)
	return true
}

// stale reports whether the programme takes a share of what is barred since it was
// brought to its least cost.
func (p *shortlist) stale() bool {
	for r, id := range p.g.lp.IDs {
		if p.g.cols[id].barred && p.g.lp.X[r] > 1e-6 {
			return true
		}
	}
	return false
}

// mostJams bounds the jams of a programme, jamRound those that are added at once.
const (
	mostJams = 80
	jamRound = 20
)

// jam adds rows for the jams that the shares of the programme break most; false where
// there are none.
func (p *shortlist) jam() bool {
	most := min(jamRound, mostJams-len(p.g.jams))
	if most <= 0 {
		return false
	}
	var list []shared
	for r, id := range p.g.lp.IDs {
		if c := &p.g.cols[id]; c.stall >= 0 && p.g.lp.X[r] > 1e-6 && c.whole.size() > 1 {
			list = append(list, shared{c.whole, p.g.lp.X[r]})
		}
	}
	loops := len(p.b.a.c.loops)
	p.spend(loops * loops * loops / 6)
	sets := oddJams(list, loops, most)
	for _, o := range sets {
		p.g.keep(o)
	}
	return len(sets) > 0
}
