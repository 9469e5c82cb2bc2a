package placement

import (
	"cmp"
	"math"
	"slices"
)

// picker solves the 0-1 knapsack of one level: which lots that fit side by
// side bring most profit. It is a depth-first search in the order of profit
// per width, cut off where even fractions of lots would not bring more; where
// it takes too long, sets of lots are listed without regard to their mass,
// which never makes the answer too small.
type picker struct {
	lots      []lot
	list      []int // candidates, then in order
	best, now []int
	value     float64
	nodes     int
	// sets are those looked at, front and next the places of those that count.
	sets        []picked
	front, next []int32
	// counts tell how much of the level candidates of a width leave.
	counts []widthCount
}

// widthCount is a width of candidates and what is left when those so far lie
// side by side.
type widthCount struct{ width, left int64 }

// picked is a set of lots side by side: the last of them and the set of the others.
type picked struct {
	width     int64
	profit    float64
	lot, from int32
}

// pickNodes bounds the search for one level, pickSets the sets listed.
const (
	pickNodes = 60
	pickSets  = 20_000
)

// most returns the largest profit of lots from the list within width and mass,
// or a bound on it, and leaves the best set found in best.
func (p *picker) most(lots []lot, width, mass int64) float64 {
	p.lots, p.best, p.now, p.value, p.nodes = lots, p.best[:0], p.now[:0], 0, pickNodes
	p.sort()
	p.try(0, width, mass, 0)
	if p.nodes < 0 {
		return min(p.fractions(0, width), p.anyMass(width))
	}
	return p.value
}

// sort puts the candidates of most profit per width first.
func (p *picker) sort() {
	slices.SortFunc(p.list, func(a, b int) int {
		x, y := &p.lots[a], &p.lots[b]
		return cmp.Or(cmp.Compare(y.profit*float64(x.width), x.profit*float64(y.width)), cmp.Compare(a, b))
	})
}

// try decides about candidate at and those after it.
func (p *picker) try(at int, width, mass int64, profit float64) {
	if profit > p.value {
		p.value = profit
		p.best = append(p.best[:0], p.now...)
	}
	for ; at < len(p.list); at++ {
		if p.nodes--; p.nodes < 0 || profit+p.fractions(at, width) <= p.value {
			return
		}
		l := &p.lots[p.list[at]]
		if l.width > width || l.mass > mass {
			continue
		}
		p.now = append(p.now, p.list[at])
		p.try(at+1, width-l.width, mass-l.mass, profit+l.profit)
		p.now = p.now[:len(p.now)-1]
	}
}

// anyMass is the most profit within a width, whatever the mass, or what try found
// where that is more; it leaves the lots in best. The sets of the first
// candidates that no other beats in both width and profit are listed, for one
// candidate more after another (Nemhauser, Ullmann, Discrete dynamic programming
// and capital allocation, Management Science 15, 1969, from memory), but for
// those that can not become best.
func (p *picker) anyMass(width int64) float64 {
	p.useful(width)
	p.sets = append(p.sets[:0], picked{lot: -1, from: -1})
	p.front = append(p.front[:0], 0)
	best, value := int32(-1), p.value
	for at := 0; at < len(p.list) && len(p.front) > 0; at++ {
		if len(p.sets) > pickSets {
			return p.fractions(0, width)
		}
		from := len(p.sets)
		p.extend(at, width)
		for m := from; m < len(p.sets); m++ {
			if p.sets[m].profit > value {
				best, value = int32(m), p.sets[m].profit
			}
		}
		p.prune(at+1, width, value)
	}
	if best >= 0 {
		p.best = p.best[:0]
	}
	for m := best; m > 0; m = p.sets[m].from {
		p.best = append(p.best, int(p.sets[m].lot))
	}
	return value
}

// useful drops candidates that no set needs: of one width as many, those of most
// profit, as fit side by side. In the order of the list these come first.
func (p *picker) useful(width int64) {
	p.counts = p.counts[:0]
	p.list = slices.DeleteFunc(p.list, func(k int) bool {
		w := p.lots[k].width
		i := slices.IndexFunc(p.counts, func(c widthCount) bool { return c.width == w })
		if i < 0 {
			i = len(p.counts)
			p.counts = append(p.counts, widthCount{w, width})
		}
		p.counts[i].left -= w
		return p.counts[i].left < 0
	})
}

// extend lists the sets with and without candidate at, by width, of which none
// beats another.
func (p *picker) extend(at int, width int64) {
	k := p.list[at]
	l := &p.lots[k]
	p.next = p.next[:0]
	last := math.Inf(-1)
	for i, j := 0, 0; ; {
		if j < len(p.front) && p.sets[p.front[j]].width+l.width > width {
			j = len(p.front)
		}
		if i == len(p.front) && j == len(p.front) {
			break
		}
		if i < len(p.front) && (j == len(p.front) || p.sets[p.front[i]].width <= p.sets[p.front[j]].width+l.width) {
			if m := p.front[i]; p.sets[m].profit > last {
				last = p.sets[m].profit
				p.next = append(p.next, m)
			}
			i++
			continue
		}
		if x := &p.sets[p.front[j]]; x.profit+l.profit > last {
			last = x.profit + l.profit
			p.next = append(p.next, int32(len(p.sets)))
			p.sets = append(p.sets, picked{x.width + l.width, last, int32(k), p.front[j]})
		}
		j++
	}
	p.front, p.next = p.next, p.front
}

// prune drops the sets that the candidates from one on can not make worth more
// than a value.
func (p *picker) prune(from int, width int64, value float64) {
	p.front = slices.DeleteFunc(p.front, func(m int32) bool {
		x := &p.sets[m]
		return x.profit+p.fractions(from, width-x.width) <= value
	})
}

// fractions is the most profit of candidates from at on when the last may be
// cut to what is left of the width.
func (p *picker) fractions(at int, width int64) float64 {
	sum := 0.0
	for ; at < len(p.list); at++ {
		l := &p.lots[p.list[at]]
		if l.profit <= 0 {
			return sum
		}
		if l.width > width {
			return sum + l.profit*float64(width)/float64(l.width)
		}
		width -= l.width
		sum += l.profit
	}
	return sum
}
