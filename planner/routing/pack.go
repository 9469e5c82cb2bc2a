package routing

import "slices"

// pack puts items 0..n-1, which should come largest first, into few bins. It
// starts with first fit and then looks for fewer bins by trying all ways, until
// it has asked budget times whether a bin fits; it stops at lower, below which
// nobody can get.
// Fits must hold for every single item, and for every beginning of a bin for
// which it holds. Where it holds for every part of such a bin, no two bins of
// the result fit together.
func pack(n int, fits func(bin []int) bool, lower, budget int) [][]int {
	p := packer{n: n, fits: fits, lower: max(lower, 1), budget: budget}
	p.best = p.firstFit()
	if n > 0 && len(p.best) > p.lower {
		p.try(0)
	}
	return p.best
}

type packer struct {
	n             int
	fits          func(bin []int) bool
	lower, budget int
	open, best    [][]int
}

func (p *packer) firstFit() [][]int {
	var bins [][]int
next:
	for item := range p.n {
		for i := range bins {
			bins[i] = append(bins[i], item)
			if p.fits(bins[i]) {
				continue next
			}
			bins[i] = bins[i][:len(bins[i])-1]
		}
		bins = append(bins, []int{item})
	}
	return bins
}

// try puts item and all after it into the open bins or a new one.
func (p *packer) try(item int) {
	if p.budget < 0 || len(p.best) <= p.lower {
		return
	}
	if item == p.n {
		p.best = nil
		for _, b := range p.open {
			p.best = append(p.best, slices.Clone(b))
		}
		return
	}
	for i := range p.open {
		if p.budget--; p.budget < 0 {
			return
		}
		p.open[i] = append(p.open[i], item)
		if p.fits(p.open[i]) {
			p.try(item + 1)
		}
		p.open[i] = p.open[i][:len(p.open[i])-1]
	}
	if len(p.open)+1 < len(p.best) {
		p.open = append(p.open, []int{item})
		p.try(item + 1)
		p.open = p.open[:len(p.open)-1]
	}
}
