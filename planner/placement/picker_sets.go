package placement

import (
	"math"
	"slices"
)

// widthCount is a width of candidates and what is left when those so far lie
// side by side.
type widthCount struct{ width, left int64 }

// picked is a set of lots side by side: the last of them and the set of the others.
type picked struct {
	width     int64
	profit    float64
	lot, from int32
}

// pickSets bounds the sets listed for one level.
const pickSets = 20_000

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
	p.work += len(p.sets)
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
