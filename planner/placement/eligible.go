package placement

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"

	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// addRacks makes a base of each rack that stands and of each type of which a
// rack may be added, and a column of each of their supply levels.
func (c *cell) addRacks(racks []*structure.Rack, filled map[plant.RackCode]bool) {
	var front int64
	for _, r := range racks {
		// Today's layout leaves the rack empty: a plan that uses it opens it.
		opens := len(filled) > 0 && !filled[r.Rack]
		c.addBase(base{rack: *r, limited: opens})
		front += int64(r.Type.Width)
	}
	c.standing, c.standingCols = len(c.bases), len(c.cols)
	c.frontage = boundless
	if c.facts != nil && c.facts.Frontage > 0 {
		c.frontage = max(0, int64(c.facts.Frontage)-front)
	}
	for _, t := range c.index.Plant.RackTypes {
		c.priced = c.priced || t.Cost > 0
	}
	var proposed structure.Rack
	for i, t := range c.addable() {
		if i == 0 {
			proposed = structure.Propose(c.index, c.code, t, "")
		}
		b := base{rack: proposed.As(t), limited: true, width: int64(t.Width)}
		b.cost = b.width
		if c.priced {
			b.cost = int64(costOf(c.index, t))
		}
		b.free = b.cost <= 0 && (b.width <= 0 || c.frontage >= boundless)
		if b.width > c.frontage {
			b.load = loads(t)
			c.barred = append(c.barred, b)
			continue
		}
		c.addBase(b)
	}
}

// addable lists the types of which the cell may get a rack, by code.
func (c *cell) addable() []*plant.RackType {
	if len(c.loops) == 0 {
		return nil
	}
	var types []*plant.RackType
	for i := range c.index.Plant.RackTypes {
		t := &c.index.Plant.RackTypes[i]
		allowed := c.facts == nil || len(c.facts.RackTypes) == 0 || slices.Contains(c.facts.RackTypes, t.RackType)
		if allowed && c.index.RackTypes[t.RackType] == t {
			types = append(types, t)
		}
	}
	slices.SortFunc(types, func(a, b *plant.RackType) int { return cmp.Compare(a.RackType, b.RackType) })
	return types
}

func (c *cell) addBase(b base) {
	b.load = loads(b.rack.Type)
	b.first = len(c.cols)
	for _, l := range b.rack.Levels {
		if l.Kind == plant.Supply {
			c.cols = append(c.cols, c.column(l, b.limited))
			c.cols[len(c.cols)-1].base = len(c.bases)
		}
	}
	b.end = len(c.cols)
	c.bases = append(c.bases, b)
}

// loads is the mass that may lie on a rack of type t.
func loads(t *plant.RackType) int64 {
	if t.MassLimit <= 0 {
		return boundless
	}
	return int64(t.MassLimit - t.OwnMass)
}

func (c *cell) column(l structure.Level, limited bool) column {
	usable := int64(l.UsableWidth)
	if limited {
		usable = l.UsableWidth.Ratio().Mul(c.set.FillLimit).Floor()
	}
	col := column{level: l, width: usable + c.guide, guide: c.guide, mass: boundless}
	if l.MassLimit > 0 {
		col.mass = int64(l.MassLimit)
	}
	if len(l.Fixed) > 0 {
		col.fixed = within(l.Fixed, usable, c.guide)
		col.width = 0
		for _, w := range col.fixed {
			col.width += w + c.guide
		}
	}
	return col
}

// within returns the lanes from the left that end within the usable width.
func within(widths []units.Length, usable, guide int64) []int64 {
	fixed := []int64{}
	right := int64(0)
	for _, w := range widths {
		if right += int64(w); right > usable {
			break
		}
		fixed = append(fixed, int64(w))
		right += guide
	}
	return fixed
}

// addLays decides for each loop and column whether and how it may lie there.
func (c *cell) addLays() {
	C := len(c.cols)
	c.lay, c.whole = make([]int32, len(c.loops)*C), make([]int64, len(c.loops)*C)
	c.classify()
	type kind struct {
		box   plant.ContainerCode
		class int
	}
	known := map[kind]int32{}
	for i := range c.loops {
		l := &c.loops[i]
		for b := range c.bases {
			serves := c.serves(l, b)
			for col := c.bases[b].first; col < c.bases[b].end; col++ {
				at := i*C + col
				c.lay[at], c.whole[at] = -1, boundless
				if !serves || !pinned(l, &c.bases[b].rack, c.cols[col].level.Level.Level) || l.gross > min(c.cols[col].mass, c.bases[b].load) {
					continue
				}
				k := kind{l.Container, c.cols[col].class}
				id, ok := known[k]
				if !ok {
					id = c.lie(l, &c.cols[col])
					known[k] = id
				}
				c.lay[at] = id
				c.whole[at] = c.wholeWidth(l, col, id)
			}
		}
	}
	c.addSpacers()
	c.addReach()
	c.least, c.popular, c.big = make([]int64, len(c.loops)), make([]int, C), make([]bool, len(c.loops))
	for i := range c.loops {
		c.least[i] = boundless
		c.big[i] = C > 0 && slices.Min(c.whole[i*C:(i+1)*C]) >= boundless
		for col := range C {
			if c.lay[i*C+col] >= 0 {
				w, _ := c.lays[c.lay[i*C+col]].narrowest(c.loops[i].k)
				c.least[i] = min(c.least[i], w)
				c.popular[col]++
			}
		}
		if c.big[i] = c.big[i] && c.least[i] < boundless; c.big[i] {
			c.bigs++
		}
	}
}

// wholeWidth is the width of all containers of l on col, boundless where they
// do not fit an empty level.
func (c *cell) wholeWidth(l *loop, col int, id int32) int64 {
	if id < 0 || times(l.k, l.gross) > min(c.cols[col].mass, c.bases[c.cols[col].base].load) {
		return boundless
	}
	w, _ := c.lays[id].narrowest(l.k)
	if w > c.cols[col].width {
		return boundless
	}
	return w
}

// classify gives columns on which every container lies alike one class.
func (c *cell) classify() {
	type geometry struct {
		length, clear units.Length
		width         int64
	}
	classes := map[geometry]int{}
	for i := range c.cols {
		col := &c.cols[i]
		if col.fixed != nil {
			col.class = -1 - i
			continue
		}
		g := geometry{col.level.LaneLength, col.level.ClearHeight, col.width}
		if _, ok := classes[g]; !ok {
			classes[g] = len(classes)
		}
		col.class = classes[g]
	}
}

// lie returns how l lies on col: a way for each flow side of which a lane
// fits. It returns -1 where none does.
func (c *cell) lie(l *loop, col *column) int32 {
	var y lay
	widest := col.width - c.guide
	if col.fixed != nil {
		widest = slices.Max(append([]int64{0}, col.fixed...))
	}
	for _, side := range l.box.Sides() {
		lane, ok := sizing.LaneOn(l.box, l.Containers, col.level.Level, c.set, side)
		if !ok || int64(lane.Width) > widest {
			continue
		}
		y.ways[y.n] = way{side, int64(lane.Capacity), int64(lane.Width) + c.guide}
		y.n++
	}
	if y.n == 0 {
		return -1
	}
	c.lays = append(c.lays, y)
	return int32(len(c.lays) - 1)
}

// addSpacers sets the width of an empty lane between two lanes that must not
// be neighbours: the least lane width that a loop of the cell has there.
func (c *cell) addSpacers() {
	for col := range c.cols {
		least := boundless
		for i := range c.loops {
			if id := c.lay[i*len(c.cols)+col]; id >= 0 {
				for _, w := range c.lays[id].ways[:c.lays[id].n] {
					least = min(least, w.width)
				}
			}
		}
		c.cols[col].spacer = least
	}
}

// serves reports whether base b serves the station of l within its walk limit.
func (c *cell) serves(l *loop, b int) bool {
	r := &c.bases[b].rack
	if _, ok := slices.BinarySearch(r.Stations, l.Station); !ok {
		return false
	}
	return near(l.station, r)
}

// near compares the straight line from station to rack with the walk limit,
// exactly. Where either's place is not known nothing is checked.
func near(s *plant.Station, r *structure.Rack) bool {
	if s == nil || s.Place == nil || !r.Known {
		return true
	}
	dx, dy := gap(s.Place.X, r.Place.X), gap(s.Place.Y, r.Place.Y)
	limit := uint64(max(0, s.WalkLimit))
	if dx > limit || dy > limit {
		return false
	}
	xh, xl := bits.Mul64(dx, dx)
	yh, yl := bits.Mul64(dy, dy)
	low, carry := bits.Add64(xl, yl, 0)
	high, _ := bits.Add64(xh, yh, carry)
	lh, ll := bits.Mul64(limit, limit)
	return high < lh || (high == lh && low <= ll)
}

// gap returns |a − b|, which no int64 difference can overflow as uint64.
func gap(a, b units.Length) uint64 {
	if a < b {
		a, b = b, a
	}
	return uint64(a) - uint64(b)
}

// pinned reports whether the pins of l allow that rack and level.
func pinned(l *loop, r *structure.Rack, level int) bool {
	for _, p := range l.pins {
		if r.Proposed || p.Rack != r.Rack || (p.Level > 0 && p.Level != level) {
			return false
		}
	}
	return true
}

// taken lists the rack codes that stand, in lower case: codes that differ only
// in case are one code.
func taken(racks []structure.Rack) map[string]bool {
	m := make(map[string]bool, len(racks))
	for _, r := range racks {
		m[strings.ToLower(string(r.Rack))] = true
	}
	return m
}
