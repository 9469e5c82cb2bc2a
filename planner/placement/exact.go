package placement

import "math"

// exact searches all ways to share out the containers of a small cell's loops
// over the levels of a set of racks, by effort; it looks at widths and masses
// only, so what it finds is a bound.
type exact struct {
	c *cell
	// shelves are the columns of the levels, racks the rack of each.
	shelves, racks []int
	// width and mass are what is left on each level, load on each rack.
	width, mass, load []int64
	// least is, by loop and level, the least effort of one container on that
	// level or a later one; rest that of all loops from one on.
	least [][]float64
	rest  []float64
	best  float64
	nodes int
	// splits is how many more loops may be split.
	splits int
}

// exactLoops and exactNodes bound the cells and the work of an exact search.
const (
	exactLoops = 8
	exactNodes = 60_000
)

// exactly returns the least effort of layouts with no container left over on
// the standing racks and a set of added ones and no more than so many loops
// split, no more than that of a known layout; false where that takes too long
// to find.
func (c *cell) exactly(set []int, splits int, known float64) (float64, bool) {
	e := &exact{c: c, best: known, nodes: exactNodes, splits: splits}
	for b := range c.bases {
		n := set[b]
		if b < c.standing {
			n = 1
		}
		for range n {
			e.open(b)
		}
	}
	e.rest = make([]float64, len(c.loops)+1)
	e.least = make([][]float64, len(c.loops))
	for i := len(c.loops) - 1; i >= 0; i-- {
		e.least[i] = make([]float64, len(e.shelves)+1)
		e.least[i][len(e.shelves)] = math.Inf(1)
		for s := len(e.shelves) - 1; s >= 0; s-- {
			e.least[i][s] = min(e.least[i][s+1], e.each(i, s))
		}
		e.rest[i] = e.rest[i+1]
		if c.least[i] < boundless {
			e.rest[i] += float64(c.loops[i].k) * e.least[i][0]
		}
	}
	e.loop(0, 0)
	return e.best, e.nodes > 0
}

// open adds the levels of a rack of base b.
func (e *exact) open(b int) {
	base := &e.c.bases[b]
	for col := base.first; col < base.end; col++ {
		e.shelves, e.racks = append(e.shelves, col), append(e.racks, len(e.load))
		e.width, e.mass = append(e.width, int64(e.c.cols[col].reach)), append(e.mass, e.c.cols[col].mass)
	}
	e.load = append(e.load, base.load)
}

// each is the effort of one container of loop i on shelf s.
func (e *exact) each(i, s int) float64 {
	at := i*len(e.c.cols) + e.shelves[s]
	if e.c.lay[at] < 0 {
		return math.Inf(1)
	}
	return e.c.effort[at] / float64(e.c.loops[i].k)
}

// loop shares out loop i and those after it.
func (e *exact) loop(i int, effort float64) {
	switch {
	case i == len(e.c.loops):
		e.best = min(e.best, effort)
	case e.c.least[i] >= boundless:
		e.loop(i+1, effort)
	default:
		e.share(i, 0, e.c.loops[i].k, effort)
	}
}

// share lays what is left of loop i on shelf s and those after it.
func (e *exact) share(i, s int, left int64, effort float64) {
	if left == 0 {
		e.loop(i+1, effort)
		return
	}
	e.nodes--
	// A way that is better only within rounding is no better.
	if e.nodes <= 0 || effort+float64(left)*e.least[i][s]+e.rest[i+1] >= e.best*(1-1e-10) {
		return
	}
	rack, gross := e.racks[s], e.c.loops[i].gross
	least := int64(1)
	if e.splits == 0 && left == e.c.loops[i].k {
		least = left
	}
	for n := least; n <= left; n++ {
		need, mass := e.need(i, s, n), times(n, gross)
		if need > e.width[s] || mass > min(e.mass[s], e.load[rack]) {
			break
		}
		e.take(s, need, mass)
		part := 0
		if left == e.c.loops[i].k && n < left {
			part = 1
		}
		e.splits -= part
		e.share(i, s+1, left-n, effort+float64(n)*e.each(i, s))
		e.splits += part
		e.take(s, -need, -mass)
	}
	e.share(i, s+1, left, effort)
}

func (e *exact) take(s int, width, mass int64) {
	e.width[s] -= width
	e.mass[s] -= mass
	e.load[e.racks[s]] -= mass
}

// need is the width of n containers of loop i on shelf s.
func (e *exact) need(i, s int, n int64) int64 {
	id := e.c.lay[i*len(e.c.cols)+e.shelves[s]]
	if id < 0 {
		return boundless
	}
	w, _ := e.c.lays[id].narrowest(n)
	return w
}
