package placement

import (
	"cmp"
	"slices"
)

// state is a layout under construction. It always obeys every hard rule; what
// has no lane is counted in missing.
type state struct {
	c       *cell
	racks   []openRack
	shelves []shelf
	items   []item
	free    []int
	// head is the first item of each loop, -1 without any.
	head    []int
	missing []int64
	// added counts the racks added, by base.
	added []int
	seats seating
	// chains is true where descend looks at chains of two items; lightest is the
	// least effort of each loop on any level.
	chains   bool
	lightest []float64
}

// openRack is a rack that the layout may use.
type openRack struct {
	base  int
	mass  int64
	first int // its first shelf
}

// shelf is a supply level of an open rack.
type shelf struct {
	col, rack  int
	used, mass int64
	touchy     int
	items      []int
}

// item is a stretch of neighbouring lanes: n containers of a loop on a shelf.
type item struct {
	loop, shelf, pos int
	n, need          int64
	// anchor is true where the item has the lanes to which its loop is pinned.
	anchor bool
	// next is the loop's next item, -1 for none.
	next int
}

// newState returns the empty layout of the standing racks and of added racks
// of each base.
func newState(c *cell, added []int) *state {
	st := &state{c: c, head: make([]int, len(c.loops)), missing: make([]int64, len(c.loops)), added: make([]int, len(c.bases))}
	for i := range c.loops {
		st.head[i], st.missing[i] = -1, c.loops[i].k
	}
	for b := range c.standing {
		st.open(b)
	}
	for b := c.standing; b < len(c.bases) && added != nil; b++ {
		for range added[b] {
			st.open(b)
		}
	}
	return st
}

// open adds a rack of base b.
func (st *state) open(b int) {
	base := &st.c.bases[b]
	st.racks = append(st.racks, openRack{base: b, first: len(st.shelves)})
	for col := base.first; col < base.end; col++ {
		st.shelves = append(st.shelves, shelf{col: col, rack: len(st.racks) - 1})
	}
	if b >= st.c.standing {
		st.added[b]++
	}
}

// copyFrom makes st the same layout as o.
func (st *state) copyFrom(o *state) {
	st.c = o.c
	st.racks = append(st.racks[:0], o.racks...)
	for len(st.shelves) < len(o.shelves) {
		st.shelves = append(st.shelves, shelf{})
	}
	st.shelves = st.shelves[:len(o.shelves)]
	for i := range o.shelves {
		items := append(st.shelves[i].items[:0], o.shelves[i].items...)
		st.shelves[i] = o.shelves[i]
		st.shelves[i].items = items
	}
	st.items = append(st.items[:0], o.items...)
	st.free = append(st.free[:0], o.free...)
	st.head = append(st.head[:0], o.head...)
	st.missing = append(st.missing[:0], o.missing...)
	st.added = append(st.added[:0], o.added...)
}

func (st *state) clone() *state {
	n := &state{}
	n.copyFrom(st)
	return n
}

// put lays n containers of loop i on shelf s. The caller has asked fits.
func (st *state) put(i int, n int64, s int) int {
	sh := &st.shelves[s]
	id := len(st.items)
	if k := len(st.free); k > 0 {
		id, st.free = st.free[k-1], st.free[:k-1]
	} else {
		st.items = append(st.items, item{})
	}
	l := &st.c.loops[i]
	st.items[id] = item{loop: i, shelf: s, pos: len(sh.items), n: n, need: st.c.want(i, sh.col, n), anchor: st.adrift(i), next: st.head[i]}
	st.head[i] = id
	st.missing[i] -= n
	sh.items = append(sh.items, id)
	sh.used += st.items[id].need
	sh.mass += n * l.gross
	st.racks[sh.rack].mass += n * l.gross
	if l.touchy {
		sh.touchy++
	}
	return id
}

// take lifts an item off its shelf.
func (st *state) take(id int) {
	it := &st.items[id]
	sh := &st.shelves[it.shelf]
	last := len(sh.items) - 1
	sh.items[it.pos] = sh.items[last]
	st.items[sh.items[it.pos]].pos = it.pos
	sh.items = sh.items[:last]
	l := &st.c.loops[it.loop]
	sh.used -= it.need
	sh.mass -= it.n * l.gross
	st.racks[sh.rack].mass -= it.n * l.gross
	if l.touchy {
		sh.touchy--
	}
	st.missing[it.loop] += it.n
	for p := &st.head[it.loop]; ; p = &st.items[*p].next {
		if *p == id {
			*p = it.next
			break
		}
	}
	st.free = append(st.free, id)
}

// lift takes all items of loop i.
func (st *state) lift(i int) {
	for st.head[i] >= 0 {
		st.take(st.head[i])
	}
}

// fits reports whether n more containers of loop i may lie on shelf s.
func (st *state) fits(i int, n int64, s int) bool {
	sh := &st.shelves[s]
	c := st.c
	col := &c.cols[sh.col]
	need := c.want(i, sh.col, n)
	l := &c.loops[i]
	mass := times(n, l.gross)
	if sh.used+need > col.width || sh.mass+mass > col.mass || st.racks[sh.rack].mass+mass > c.bases[st.racks[sh.rack].base].load {
		return false
	}
	if st.head[i] >= 0 && st.lies(i, s) {
		return false
	}
	if col.fixed == nil && !st.adrift(i) && (!l.touchy || sh.touchy == 0) && (sh.touchy < 2) && !st.hasLanePin(sh) {
		return true
	}
	return st.seated(s, i, n)
}

// lies reports whether loop i lies on shelf s.
func (st *state) lies(i, s int) bool {
	for id := st.head[i]; id >= 0; id = st.items[id].next {
		if st.items[id].shelf == s {
			return true
		}
	}
	return false
}

func (st *state) hasLanePin(sh *shelf) bool {
	return st.c.lanePins && slices.ContainsFunc(sh.items, func(id int) bool { return st.items[id].anchor })
}

// adrift reports whether loop i is pinned to lanes and no item has them yet:
// the next one must, those after it may lie anywhere on the pinned rack.
func (st *state) adrift(i int) bool {
	if len(st.c.loops[i].lanes) == 0 {
		return false
	}
	for id := st.head[i]; id >= 0; id = st.items[id].next {
		if st.items[id].anchor {
			return false
		}
	}
	return true
}

// putBack lays an item where it was.
func (st *state) putBack(it item) int {
	id := st.put(it.loop, it.n, it.shelf)
	st.items[id].anchor = it.anchor
	return id
}

// key is what the goals compare, in their order.
type key struct {
	unplaced int64
	cost     int64
	splits   int
	effort   float64
	moved    int64
	// price is that of the moves, in effort.
	price float64
}

// near reports whether two efforts are the same within rounding.
func alike(a, b float64) bool {
	d := a - b
	return d <= 1e-9*(1+max(a, b)) && -d <= 1e-9*(1+max(a, b))
}

// compare orders layouts, the better first.
func (k key) compare(o key) int {
	if d := cmp.Or(cmp.Compare(k.unplaced, o.unplaced), cmp.Compare(k.cost, o.cost), cmp.Compare(k.splits, o.splits)); d != 0 {
		return d
	}
	if a, b := k.effort+k.price, o.effort+o.price; !alike(a, b) {
		return cmp.Compare(a, b)
	}
	return cmp.Compare(k.moved, o.moved)
}

// key computes the goals of st. Sums run in the order of loops and shelves, so
// that equal layouts have equal efforts to the last bit.
func (st *state) key() key {
	var k key
	for b, n := range st.added {
		k.cost += int64(n) * st.c.bases[b].cost
	}
	for i := range st.c.loops {
		k.unplaced += st.missing[i]
		parts := 0
		for id := st.head[i]; id >= 0; id = st.items[id].next {
			parts++
			k.moved += st.moves(id, st.items[id].shelf)
		}
		if parts > 1 {
			k.splits++
		}
	}
	k.effort = st.effort()
	k.price = st.c.movePrice * float64(k.moved)
	return k
}

func (st *state) effort() float64 {
	sum := 0.0
	for i := range st.c.loops {
		part := 0.0
		var of []int
		for id := st.head[i]; id >= 0; id = st.items[id].next {
			of = append(of, id)
		}
		slices.SortFunc(of, func(a, b int) int { return st.items[a].shelf - st.items[b].shelf })
		for _, id := range of {
			part += st.share(id, st.c.effort[i*len(st.c.cols)+st.shelves[st.items[id].shelf].col])
		}
		sum += part
	}
	return sum
}

// at is the effort of an item on shelf s, with the price of its moves.
func (st *state) at(id, s int) float64 {
	return st.share(id, st.c.pull[st.items[id].loop*len(st.c.cols)+st.shelves[s].col])
}

// share is an item's part of the effort of its loop.
func (st *state) share(id int, e float64) float64 {
	it := &st.items[id]
	if k := st.c.loops[it.loop].k; it.n != k {
		return e * float64(it.n) / float64(k)
	}
	return e
}

// moves is the number of containers that lie elsewhere than today when the
// item lies on shelf s; nothing is moved of a loop that is new.
func (st *state) moves(id, s int) int64 {
	it := &st.items[id]
	if !st.c.loops[it.loop].today || st.c.home[it.loop*len(st.c.cols)+st.shelves[s].col] {
		return 0
	}
	return it.n
}

// unplaced sums the containers without a lane.
func (st *state) unplaced() int64 {
	sum := int64(0)
	for _, n := range st.missing {
		sum += n
	}
	return sum
}
