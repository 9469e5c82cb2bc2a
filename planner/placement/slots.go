package placement

import (
	"cmp"
	"slices"
)

// slots are the widths of lanes that loops of a cell may have on each column.
type slots struct {
	c *cell
	// Column col has slots first[col]:first[col+1].
	first []int
	col   []int
	width []int64
	// grid is the step into which a column's width is cut.
	grid []int64
	// Of the last column looked at: the slots of its dearest filling; and, where
	// widths were counted in steps, the most that steps 0, 1... can cost, and the
	// slot that comes last there, -1 for none.
	chosen []int
	most   []float64
	last   []int
	wanted []wanted
	// now, value and nodes are those of the exact search.
	now   []int
	value float64
	nodes int
}

// steps bounds the steps into which a width is cut.
const steps = 1000

func newSlots(c *cell) *slots {
	t := &slots{c: c, grid: make([]int64, len(c.cols))}
	for col := range c.cols {
		t.first = append(t.first, len(t.width))
		g := int64(0)
		for _, w := range c.cols[col].lanes {
			t.width, t.col = append(t.width, w), append(t.col, col)
			g = gcd(g, w)
		}
		t.grid[col] = max(1, g, c.cols[col].width/steps)
	}
	t.first = append(t.first, len(t.width))
	return t
}

// at returns the slot of a width on a column.
func (t *slots) at(col int, width int64) int {
	i, _ := slices.BinarySearch(t.width[t.first[col]:t.first[col+1]], width)
	return t.first[col] + i
}

// dearest returns the most that lanes side by side on a column can cost. Where
// the grid is coarser than the widths they count as no wider than they are, so
// that it is never too little. On a level with fixed lanes each costs no more
// than the dearest lane it could hold.
func (t *slots) dearest(price []float64, col int) float64 {
	k := &t.c.cols[col]
	if k.fixed != nil {
		sum := 0.0
		for _, w := range k.fixed {
			if s := t.dearestUpTo(price, col, w+k.guide); s >= 0 {
				sum += price[s]
			}
		}
		return sum
	}
	if !t.pricey(price, col) {
		return 0
	}
	if v, ok := t.packed(price, col); ok {
		return v
	}
	return t.inSteps(price, col)
}

// inSteps is the same with widths counted in steps, which may be too much but never
// too little.
func (t *slots) inSteps(price []float64, col int) float64 {
	n := int(t.c.cols[col].width / t.grid[col])
	t.most, t.last = slices.Grow(t.most[:0], n+1)[:n+1], slices.Grow(t.last[:0], n+1)[:n+1]
	t.most[0], t.last[0] = 0, -1
	t.gather(price, col, n)
	for at := 1; at <= n; at++ {
		most, last := t.most[at-1], -1
		for _, w := range t.wanted {
			// Widths rise.
			if w.size > at {
				break
			}
			if sum := t.most[at-w.size] + w.price; sum > most {
				most, last = sum, w.slot
			}
		}
		t.most[at], t.last[at] = most, last
	}
	t.chosen = t.chosen[:0]
	for at := n; at > 0; {
		s := t.last[at]
		if s < 0 {
			at--
			continue
		}
		t.chosen = append(t.chosen, s)
		at -= int(t.width[s] / t.grid[col])
	}
	return t.most[n]
}

// packNodes bounds the exact search for the dearest filling of a column.
const packNodes = 2000

// packed is the most that lanes side by side on a column can cost, found by a
// depth-first search through the widths, those of the highest price per width first;
// false where that takes too long.
func (t *slots) packed(price []float64, col int) (float64, bool) {
	t.wanted = t.wanted[:0]
	most := 0.0
	for s := t.first[col]; s < t.first[col+1]; s++ {
		if price[s] > most && t.width[s] <= t.c.cols[col].width {
			t.wanted = append(t.wanted, wanted{slot: s, price: price[s], dense: price[s] / float64(t.width[s])})
			most = price[s]
		}
	}
	slices.SortFunc(t.wanted, func(a, b wanted) int { return cmp.Or(compareFloats(b.dense, a.dense), cmp.Compare(a.slot, b.slot)) })
	t.value, t.nodes, t.now, t.chosen = 0, packNodes, t.now[:0], t.chosen[:0]
	t.pack(0, t.c.cols[col].width, 0)
	return t.value, t.nodes >= 0
}

// pack decides how many lanes there are of the wanted width at and those after it.
func (t *slots) pack(at int, left int64, sum float64) {
	if sum > t.value {
		t.value = sum
		t.chosen = append(t.chosen[:0], t.now...)
	}
	if t.nodes--; at == len(t.wanted) || t.nodes < 0 || sum+float64(left)*t.wanted[at].dense <= t.value*(1+1e-12) {
		return
	}
	w := t.wanted[at]
	n, had := int(left/t.width[w.slot]), len(t.now)
	for range n {
		t.now = append(t.now, w.slot)
	}
	for ; n >= 0; n-- {
		t.now = t.now[:had+n]
		t.pack(at+1, left-int64(n)*t.width[w.slot], sum+float64(n)*w.price)
	}
}

// lanes calls yield with the slot of each lane of the dearest filling of a column,
// which must have been computed last; on a free level those that cost nothing are left
// out.
func (t *slots) lanes(price []float64, col int, yield func(slot int)) {
	k := &t.c.cols[col]
	switch {
	case k.fixed != nil:
		for _, w := range k.fixed {
			if s := t.dearestUpTo(price, col, w+k.guide); s >= 0 {
				yield(s)
			}
		}
	case t.pricey(price, col):
		for _, s := range t.chosen {
			yield(s)
		}
	}
}

// gather lists the slots of col that cost something and are no wider than n
// steps, the narrowest first; none that costs no more than a narrower one, in
// whose place that may lie.
func (t *slots) gather(price []float64, col, n int) {
	t.wanted = t.wanted[:0]
	most := 0.0
	for s := t.first[col]; s < t.first[col+1]; s++ {
		if price[s] <= most {
			continue
		}
		if size := int(t.width[s] / t.grid[col]); size > 0 && size <= n {
			t.wanted = append(t.wanted, wanted{size: size, slot: s, price: price[s]})
			most = price[s]
		}
	}
}

// wanted is a slot with its width in steps, its price and that per width.
type wanted struct {
	size, slot   int
	price, dense float64
}

func (t *slots) pricey(price []float64, col int) bool {
	return slices.ContainsFunc(price[t.first[col]:t.first[col+1]], func(p float64) bool { return p > 0 })
}

// dearestUpTo is the dearest slot of a column that is no wider, -1 for none.
func (t *slots) dearestUpTo(price []float64, col int, width int64) int {
	best := -1
	for s := t.first[col]; s < t.first[col+1] && t.width[s] <= width; s++ {
		if best < 0 || price[s] > price[best] {
			best = s
		}
	}
	return best
}

// fill notes the lanes of the dearest filling of a column, found just before,
// so many times. Where lanes cost nothing, or all alike by their width, it takes
// those that are used: as far as they fit, or as many as fill the width.
func (t *slots) fill(r *relaxation, col int, times float64) {
	switch {
	case r.linear || !t.pricey(r.price, col):
		t.fillUsed(r, col, times)
	default:
		t.lanes(r.price, col, func(s int) { r.have[s] += times })
	}
}

func (t *slots) fillUsed(r *relaxation, col int, times float64) {
	width := 0.0
	for s := t.first[col]; s < t.first[col+1]; s++ {
		width += r.used[s] * float64(t.width[s])
	}
	share := 1.0
	if has := times * t.c.cols[col].reach; width > has || (width > 0 && t.pricey(r.price, col)) {
		share = has / width
	}
	for s := t.first[col]; s < t.first[col+1]; s++ {
		r.have[s] = share * r.used[s]
	}
	if s := t.first[col]; width == 0 && t.pricey(r.price, col) {
		r.have[s] = times * t.c.cols[col].reach / float64(t.width[s])
	}
}
