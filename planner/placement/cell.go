package placement

import (
	"math"
	"math/bits"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
)

// boundless stands for "no limit" in widths and masses. Sums of a few of them
// do not overflow.
const boundless = int64(1) << 60

// cell is the frozen input of one cell's search: loops, racks and levels as
// dense numbers. A "base" is a rack that stands, or a type of which racks may
// be added; a "column" is a supply level of a base. Widths are in nanometres
// and count the guide beside each lane, so that the rule
//
//	Σ widths + guide·(lanes − 1) ≤ usable width
//
// reads Σ (width + guide) ≤ usable width + guide.
type cell struct {
	code  plant.CellCode
	index *plant.Index
	facts *plant.Cell
	set   plant.Settings
	guide int64

	loops []loop
	bases []base
	// standing is the number of bases, and of columns, that stand already.
	standing, standingCols int
	cols                   []column
	// frontage is what is left for added racks, boundless where unlimited.
	frontage int64
	// priced is false where the plant gives no costs: then frontage is the cost.
	priced bool
	// steps is the number of search steps for each loop; 0 is the quick mode.
	steps int
	// proof is the number of steps that a proof of the effort may take.
	proof int
	// proved are the goals of a layout whose effort is proved least already.
	proved key

	// Rows are loops, columns are columns. lays is the table of how loops lie
	// and lay[i*len(cols)+col] an index into it, -1 where the loop may not lie
	// there at all. whole is the width that the loop takes there, boundless
	// where it does not fit as a whole; effort its effort per hour there.
	lays   []lay
	lay    []int32
	whole  []int64
	effort []float64
	home   []bool
	// pull is the effort with the price of moving the loop there, which is what
	// the search looks at; the same table where nothing is priced.
	pull      []float64
	movePrice float64
	// today is where loops lie today.
	today spots
	// foes marks pairs of loops that may not be neighbours; nil without any.
	foes []bool
	// least is the least width a loop takes on any level (which may be more
	// than that level has), boundless where it may lie nowhere. popular is the
	// number of loops that may lie on a column.
	least   []int64
	popular []int
	// big marks loops too wide for any level as a whole; bigs counts them.
	big  []bool
	bigs int
	// barred are the types of which the frontage allows not even one more rack.
	barred []base
	// lanePins is true where a loop is pinned to a lane number.
	lanePins bool
	// asLaid is true where moves are limited: a better layout that a proof finds
	// may not take the place of the one that keeps the limit.
	asLaid bool
}

// loop is one loop as the search sees it.
type loop struct {
	*sizing.Loop
	part    plant.Part
	box     plant.Container
	station *plant.Station
	// k is the number of containers; gross the mass of one.
	k, gross int64
	// pins are the pins it must keep; lanes the lane numbers among them.
	pins  []plant.Pin
	lanes []int
	// touchy loops have foes; today is true where it lies somewhere today.
	touchy, today bool
}

// base is a rack that stands or a type of which racks may be added.
type base struct {
	rack structure.Rack
	// load is the mass that may lie on it; width and cost count when added.
	load, width, cost int64
	// first and last+1 of its columns.
	first, end int
	// limited is true where the fill limit applies; free where racks of the
	// type cost nothing and may be added in any number.
	limited, free bool
}

// column is one supply level.
type column struct {
	base  int
	level structure.Level
	// width is the usable width (within the fill limit) and one guide.
	width, mass int64
	// reach is the most of the width that whole lanes can fill.
	reach float64
	// lanes are the widths of lanes that loops may have there, rising.
	lanes []int64
	// fixed are the lanes whose guides can not be moved and that lie within
	// the width; nil on a free level.
	fixed []int64
	// spacer is the width of an empty lane that parts two others, and a guide;
	// guide is the guide alone.
	spacer, guide int64
	class         int
}

// lay is how a loop may lie on a level: one or two ways.
type lay struct {
	ways [2]way
	n    int
}

// way is one flow side.
type way struct {
	side     plant.FlowSide
	capacity int64
	// width is the lane's width and a guide.
	width int64
}

// newCell freezes the input of one cell.
func newCell(in Input, s Settings, g *group, whole overall) *cell {
	c := &cell{
		code: g.code, index: in.Index, facts: in.Index.Cells[g.code], set: in.Plant,
		guide: int64(in.Plant.GuideWidth), steps: max(0, s.Steps), proof: max(0, s.ProofSteps),
	}
	c.addLoops(g.loops)
	c.addPins(whole.pins)
	c.addFoes()
	c.addRacks(g.racks, whole.filled())
	c.addLays()
	c.addEfforts(s.WalkCost)
	c.addToday(whole.spots)
	c.addPull(s)
	return c
}

func (c *cell) addLoops(list []*sizing.Loop) {
	c.loops = make([]loop, len(list))
	for i, l := range list {
		c.loops[i] = loop{Loop: l, k: int64(l.Containers), gross: int64(l.Gross)}
		if p := c.index.Parts[l.Part]; p != nil {
			c.loops[i].part = *p
		}
		if b := c.index.Containers[l.Container]; b != nil {
			c.loops[i].box = *b
		}
		c.loops[i].station = c.index.Stations[plant.StationKey{Cell: l.Cell, Station: l.Station}]
	}
}

// addFoes marks the loops that may not be neighbours: parts of one keep-apart
// group and look-alikes, both ways, not handed on.
func (c *cell) addFoes() {
	var special []int
	meant := map[plant.PartCode]bool{}
	for i := range c.loops {
		if other := c.loops[i].part.LookAlike; other != "" {
			meant[other] = true
		}
	}
	for i := range c.loops {
		if p := c.loops[i].part; p.KeepApart != "" || p.LookAlike != "" || meant[p.Part] {
			special = append(special, i)
		}
	}
	n := len(c.loops)
	for _, i := range special {
		for _, j := range special {
			if !apart(c.loops[i].part, c.loops[j].part) {
				continue
			}
			if c.foes == nil {
				c.foes = make([]bool, n*n)
			}
			c.foes[i*n+j], c.foes[j*n+i] = true, true
			c.loops[i].touchy, c.loops[j].touchy = true, true
		}
	}
}

// apart reports whether two parts must be kept apart. A part need not be kept
// apart from itself.
func apart(a, b plant.Part) bool {
	if a.Part == b.Part {
		return false
	}
	return (a.KeepApart != "" && a.KeepApart == b.KeepApart) || a.LookAlike == b.Part || b.LookAlike == a.Part
}

func (c *cell) foe(i, j int) bool { return c.foes != nil && c.foes[i*len(c.loops)+j] }

// want returns the width that n containers of loop i take on a column, guides
// included, and boundless where they may not lie there.
func (c *cell) want(i, col int, n int64) int64 {
	at := i*len(c.cols) + col
	if n == c.loops[i].k {
		return c.whole[at]
	}
	if c.lay[at] < 0 {
		return boundless
	}
	w, _ := c.lays[c.lay[at]].narrowest(n)
	return w
}

// narrowest returns the least width of n containers and the way to get it.
func (l *lay) narrowest(n int64) (int64, way) {
	best, by := boundless, way{}
	for _, w := range l.ways[:l.n] {
		if need := times(lanes(n, w.capacity), w.width); need < best {
			best, by = need, w
		}
	}
	return best, by
}

// lanes returns how many lanes of that capacity n containers need.
func lanes(n, capacity int64) int64 { return (n + capacity - 1) / capacity }

// times multiplies two numbers of 0 or more, and answers boundless where the
// product is larger.
func times(a, b int64) int64 {
	if hi, lo := bits.Mul64(uint64(a), uint64(b)); hi == 0 && lo <= uint64(boundless) {
		return int64(lo)
	}
	return boundless
}

// addEfforts computes the effort of each loop on each level, in kg per net
// hour (planning rules, section 5).
func (c *cell) addEfforts(walk float64) {
	C := len(c.cols)
	c.effort = make([]float64, len(c.loops)*C)
	for i := range c.loops {
		l := &c.loops[i]
		f := newForces(l, walk)
		for col := range c.cols {
			b := &c.bases[c.cols[col].base]
			c.effort[i*C+col] = f.at(c.cols[col].level.Level, distance(l.station, &b.rack))
		}
	}
}

// distance is the straight line from a station to a rack in metres, 0 where
// either's place is not known.
func distance(s *plant.Station, r *structure.Rack) float64 {
	if s == nil || s.Place == nil || !r.Known {
		return 0
	}
	return math.Hypot(s.Place.X.Metres()-r.Place.X.Metres(), s.Place.Y.Metres()-r.Place.Y.Metres())
}

// key names a loop of the cell.
func (c *cell) key(i int) demand.Key { return c.loops[i].Key }
