package placement

import (
	"cmp"
	"math"
	"slices"
)

// relaxed are the necessary conditions of a cell with what can be proved from
// them.
type relaxed struct {
	c    *cell
	cuts []cut
	// hopeless counts the containers of loops that may lie nowhere.
	hopeless int64
	// unplaced is the proved bound.
	unplaced int64
}

func newRelaxed(c *cell) *relaxed {
	r := &relaxed{c: c, hopeless: c.hopeless()}
	if len(c.loops) > 0 {
		r.cuts = c.cuts()
	}
	r.unplaced = r.hopeless + r.short()
	return r
}

// hopeless counts the containers of loops that may lie nowhere.
func (c *cell) hopeless() int64 {
	n := int64(0)
	for i := range c.loops {
		if c.least[i] >= boundless {
			n += c.loops[i].k
		}
	}
	return n
}

// short adds up the bounds of cuts that share no loop, each with the most that
// racks within the frontage could add to it.
func (r *relaxed) short() int64 {
	type found struct{ cut, n int }
	var list []found
	for i := range r.cuts {
		t := &r.cuts[i]
		if n := t.short(t.standing + r.mostAdded(t)); n > 0 {
			list = append(list, found{i, int(n)})
		}
	}
	slices.SortStableFunc(list, func(a, b found) int { return cmp.Compare(b.n, a.n) })
	used := make([]bool, len(r.c.loops))
	sum := int64(0)
	for _, f := range list {
		t := &r.cuts[f.cut]
		if slices.ContainsFunc(t.loops, func(i int) bool { return used[i] }) {
			continue
		}
		sum += int64(f.n)
		for _, i := range t.loops {
			used[i] = true
		}
	}
	return sum
}

// mostAdded is the most of a cut's resource that racks within the frontage
// can add: exact for few racks, else in fractions of racks.
func (r *relaxed) mostAdded(t *cut) float64 {
	if r.c.frontage >= boundless {
		for _, e := range t.each {
			if e > 0 {
				return math.Inf(1)
			}
		}
		return 0
	}
	nodes := 2000
	var try func(k int, left int64) float64
	try = func(k int, left int64) float64 {
		if k == len(t.each) || nodes < 0 {
			return 0
		}
		width := r.c.bases[r.c.standing+k].width
		if width <= 0 {
			if t.each[k] > 0 {
				return math.Inf(1)
			}
			return try(k+1, left)
		}
		best := 0.0
		for n := int64(0); n*width <= left; n++ {
			nodes--
			best = max(best, float64(n)*t.each[k]+try(k+1, left-n*width))
		}
		return best
	}
	best := try(0, r.c.frontage)
	if nodes >= 0 {
		return best
	}
	best = 0
	for k, e := range t.each {
		best = max(best, e/float64(r.c.bases[r.c.standing+k].width)*float64(r.c.frontage))
	}
	return best
}

// needs is what each cut asks of the racks added when all but leave of the
// containers that may lie somewhere get a lane.
func (r *relaxed) needs(leave int64) []float64 {
	list := make([]float64, len(r.cuts))
	for i := range r.cuts {
		need := r.cuts[i].need(leave)
		list[i] = need*(1-1e-12) - r.cuts[i].standing
	}
	return list
}

// cheapest returns a lower bound on the cost of the racks added in any layout
// that leaves at most leave containers of loops that may lie somewhere without
// a lane. known is the cost of such a layout.
func (r *relaxed) cheapest(leave, known int64) int64 {
	if known == 0 {
		return 0
	}
	best := known
	v := cover{r: r, left: r.needs(leave), now: make([]int, len(r.c.bases)), limit: known, nodes: coverNodes}
	root := v.atLeast(r.c.standing)
	v.keep = func(_ []int, cost int64) int64 {
		best = min(best, cost)
		return best
	}
	v.try(r.c.standing, 0, r.c.frontage)
	if v.nodes < 0 {
		return min(best, root)
	}
	return best
}
