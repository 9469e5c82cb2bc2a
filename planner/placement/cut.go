package placement

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// cut is a necessary condition of every layout: the loops that may lie only on
// some levels need so much of a resource that those levels have.
type cut struct {
	loops []int
	// standing is what the racks that stand have of the resource, each what
	// one more rack of each type adds.
	standing float64
	each     []float64
	// curves holds, for each way of measuring, what the containers of each
	// loop need at least, by loop of the cell.
	curves [][]curve
}

// curve is the least need of the first containers of a loop as a convex line:
// so many containers at so much each, the cheapest first.
type curve []stretch

type stretch struct {
	n    int64
	each float64
}

// mostCuts bounds the number of level sets that are looked at.
const mostCuts = 40

// cuts lists the conditions of a cell.
func (c *cell) cuts() []cut {
	filled := [][]curve{c.curves(func(width int64, _ *column) float64 { return float64(width) })}
	var widths [][]curve
	for _, m := range c.measures() {
		widths = append(widths, c.curves(m))
	}
	masses := [][]curve{c.massCurves()}
	var list []cut
	for _, s := range c.levelSets() {
		f, w, m := c.newCut(s.loops, filled), c.newCut(s.loops, widths), c.newCut(s.loops, masses)
		for b := range c.bases {
			reach, width, mass := c.roomIn(b, s.cols)
			f.count(c, b, reach)
			w.count(c, b, width)
			m.count(c, b, mass)
		}
		list = append(list, f, w)
		if m.standing < float64(boundless) {
			list = append(list, m)
		}
	}
	return list
}

func (c *cell) newCut(loops []int, curves [][]curve) cut {
	return cut{loops: loops, curves: curves, each: make([]float64, len(c.bases)-c.standing)}
}

// count adds what base b has of the resource.
func (t *cut) count(c *cell, b int, has float64) {
	if b < c.standing {
		t.standing += has
	} else {
		t.each[b-c.standing] += has
	}
}

// roomIn is the width that whole lanes can fill, the width and the mass that
// the levels of base b in a set have.
func (c *cell) roomIn(b int, in columns) (reach, width, mass float64) {
	for col := c.bases[b].first; col < c.bases[b].end; col++ {
		if in.has(col) {
			reach += c.cols[col].reach
			width += float64(c.cols[col].width)
			mass += float64(c.cols[col].mass)
		}
	}
	return reach, width, min(mass, float64(max(0, c.bases[b].load)))
}

// columns is a set of columns.
type columns []uint64

func (s columns) add(col int)      { s[col/64] |= 1 << (col % 64) }
func (s columns) has(col int) bool { return s[col/64]&(1<<(col%64)) != 0 }

func (s columns) within(o columns) bool {
	for i := range s {
		if s[i]&^o[i] != 0 {
			return false
		}
	}
	return true
}

func (s columns) size() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// levelSet is a set of levels and the loops that may lie on no other.
type levelSet struct {
	cols  columns
	loops []int
}

// levelSets lists the sets of levels on which some loop may lie, those of
// least clear heights, and all levels.
func (c *cell) levelSets() []levelSet {
	words := (len(c.cols) + 63) / 64
	may := make([]columns, len(c.loops))
	all := make(columns, words)
	var sets []columns
	see := func(s columns) {
		if !slices.ContainsFunc(sets, func(o columns) bool { return slices.Equal(o, s) }) {
			sets = append(sets, s)
		}
	}
	see(all)
	for i := range c.loops {
		may[i] = make(columns, words)
		for col := range c.cols {
			if c.lay[i*len(c.cols)+col] >= 0 {
				may[i].add(col)
				all.add(col)
			}
		}
	}
	for col := range c.cols {
		high := make(columns, words)
		for o := range c.cols {
			if c.cols[o].level.ClearHeight >= c.cols[col].level.ClearHeight {
				high.add(o)
			}
		}
		see(high)
	}
	for i := range c.loops {
		if may[i].size() > 0 {
			see(may[i])
		}
	}
	list := make([]levelSet, 0, len(sets))
	for _, s := range sets {
		set := levelSet{cols: s}
		for i := range c.loops {
			if may[i].size() > 0 && may[i].within(s) {
				set.loops = append(set.loops, i)
			}
		}
		if len(set.loops) > 0 {
			list = append(list, set)
		}
	}
	slices.SortStableFunc(list, func(a, b levelSet) int { return cmp.Compare(len(b.loops), len(a.loops)) })
	return list[:min(len(list), mostCuts)]
}

// massCurves is the mass of the containers of each loop.
func (c *cell) massCurves() []curve {
	list := make([]curve, len(c.loops))
	for i := range c.loops {
		list[i] = curve{{c.loops[i].k, float64(c.loops[i].gross)}}
	}
	return list
}

// curves is the least need of the containers of each loop, over all levels on
// which it may lie, lanes measured by m.
func (c *cell) curves(m measure) []curve {
	list := make([]curve, len(c.loops))
	var tried []laneNeed
	for i := range c.loops {
		tried = tried[:0]
		last := -1
		for col := range c.cols {
			id := c.lay[i*len(c.cols)+col]
			if id < 0 || int(id) == last {
				continue
			}
			last = int(id)
			for _, w := range c.lays[id].ways[:c.lays[id].n] {
				tried = addNeed(tried, laneNeed{w.capacity, m(w.width, &c.cols[col])})
			}
		}
		list[i] = hull(c.loops[i].k, tried)
	}
	return list
}

// laneNeed is a lane that holds so many containers and takes so much width.
type laneNeed struct {
	capacity int64
	width    float64
}

// addNeed keeps the lanes that no other beats in both.
func addNeed(list []laneNeed, n laneNeed) []laneNeed {
	for _, o := range list {
		if o.capacity >= n.capacity && o.width <= n.width {
			return list
		}
	}
	list = slices.DeleteFunc(list, func(o laneNeed) bool { return n.capacity >= o.capacity && n.width <= o.width })
	return append(list, n)
}

// fewContainers bounds the exact computation of a hull.
const fewContainers = 400

// hull returns the lower convex line below the least width of n of k
// containers in lanes of the given kinds.
func hull(k int64, list []laneNeed) curve {
	if len(list) == 0 {
		return nil
	}
	if k > fewContainers {
		each := math.Inf(1)
		for _, l := range list {
			each = min(each, l.width/float64(l.capacity))
		}
		return curve{{k, each}}
	}
	least := make([]float64, k+1)
	for n := int64(1); n <= k; n++ {
		least[n] = math.Inf(1)
		for _, l := range list {
			least[n] = min(least[n], least[max(0, n-l.capacity)]+l.width)
		}
	}
	var line curve
	for n := int64(1); n <= k; n++ {
		s := stretch{1, least[n] - least[n-1]}
		for len(line) > 0 && line[len(line)-1].each >= s.each {
			o := line[len(line)-1]
			line = line[:len(line)-1]
			s = stretch{s.n + o.n, (s.each*float64(s.n) + o.each*float64(o.n)) / float64(s.n+o.n)}
		}
		line = append(line, s)
	}
	return line
}

// stretches gathers those of the cut's loops, the cheapest first.
func (t *cut) stretches(of []curve) []stretch {
	var list []stretch
	for _, i := range t.loops {
		list = append(list, of[i]...)
	}
	slices.SortStableFunc(list, func(a, b stretch) int { return compareFloats(a.each, b.each) })
	return list
}

// need is the least of the resource with all but leave containers placed.
func (t *cut) need(leave int64) float64 {
	most := 0.0
	for _, of := range t.curves {
		list := t.stretches(of)
		sum, left := 0.0, leave
		for p := len(list) - 1; p >= 0; p-- {
			n := min(left, list[p].n)
			left -= n
			sum += float64(list[p].n-n) * list[p].each
		}
		most = max(most, sum)
	}
	return most
}

// short is the least number of containers of the cut without a lane when so
// much of the resource is there.
func (t *cut) short(room float64) int64 {
	most := int64(0)
	if math.IsInf(room, 1) {
		return 0
	}
	for _, of := range t.curves {
		left, out := room, int64(0)
		for _, s := range t.stretches(of) {
			n := s.n
			if s.each > 0 {
				n = min(n, int64(left/s.each*(1+1e-12)+1e-6))
			}
			left = max(0, left-float64(n)*s.each)
			out += s.n - n
		}
		most = max(most, out)
	}
	return most
}
