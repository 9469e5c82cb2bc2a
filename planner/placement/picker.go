package placement

import (
	"cmp"
	"slices"
)

// picker solves the 0-1 knapsack of one level: which lots that fit side by
// side bring most profit. It is a depth-first search in the order of profit
// per width, cut off where even fractions of lots would not bring more; where
// it takes too long, the widths are counted in steps, which never makes the
// answer too small.
type picker struct {
	lots      []lot
	list      []int // candidates, then in order
	best, now []int
	value     float64
	nodes     int
	// table is the most profit within so many steps, and taken which lots make
	// it, a row for each.
	table []float64
	taken []bool
}

// pickNodes bounds the search for one level, pickSteps the steps into which its
// width is cut.
const (
	pickNodes = 300
	pickSteps = 1500
)

// most returns the largest profit of lots from the list within width and mass,
// or a bound on it, and leaves the best set found in best.
func (p *picker) most(lots []lot, width, mass int64) float64 {
	p.lots, p.best, p.now, p.value, p.nodes = lots, p.best[:0], p.now[:0], 0, pickNodes
	slices.SortFunc(p.list, func(a, b int) int {
		x, y := &lots[a], &lots[b]
		return cmp.Or(cmp.Compare(y.profit*float64(x.width), x.profit*float64(y.width)), cmp.Compare(a, b))
	})
	p.try(0, width, mass, 0)
	if p.nodes < 0 {
		return min(p.fractions(0, width), p.inSteps(width))
	}
	return p.value
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

// inSteps is the most profit with the widths of lots rounded down to steps and
// no limit of mass; it leaves the lots in best.
func (p *picker) inSteps(width int64) float64 {
	step := max(1, width/pickSteps)
	n := int(width / step)
	p.table = append(p.table[:0], make([]float64, n+1)...)
	p.taken = append(p.taken[:0], make([]bool, (n+1)*len(p.list))...)
	for row, k := range p.list {
		size, profit := int(p.lots[k].width/step), p.lots[k].profit
		taken := p.taken[row*(n+1) : (row+1)*(n+1)]
		for at := n; at >= size; at-- {
			if v := p.table[at-size] + profit; v > p.table[at] {
				p.table[at], taken[at] = v, true
			}
		}
	}
	p.best = p.best[:0]
	for row, at := len(p.list)-1, n; row >= 0; row-- {
		if p.taken[row*(n+1)+at] {
			p.best = append(p.best, p.list[row])
			at -= int(p.lots[p.list[row]].width / step)
		}
	}
	return p.table[n]
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
