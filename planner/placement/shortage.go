package placement

import (
	"math"
	"slices"

	"lanewright/planner/internal/patterns"
)

// shortage is the linear programme of the lanes of a cell on one set of racks: each
// loop takes lanes of some widths on the levels or leaves containers without one,
// each level gives lanes that fit side by side, and as few containers as possible
// are left out. Splits, masses and efforts count nothing. Whole fillings of levels
// and whole choices of lanes of a loop are its columns, found as they are needed
// (Gilmore, Gomory, A linear programming approach to the cutting-stock problem,
// Operations Research 9, 1961, from memory), so what it misses is only that shares
// of both are allowed. Its numbers guide; what is proved is the cut that its prices
// make.
type shortage struct {
	c     *cell
	slots *slots
	// alike is the first of the columns on which all loops lie alike, times how many
	// levels of the set each of these stands for.
	alike []int
	times []int64
	// At loop i, options opts[first[i]:first[i+1]] for the set, the last of which
	// leaves one container out.
	opts  []option
	first []int
	// price is what a lane costs by slot, in containers, and last what one left out
	// does.
	price []float64
	lanes laneTable
	lp    *patterns.Simplex
	cols  []laneColumn
	// loopRow, slotRow and levelRow are rows, −1 where there is none.
	loopRow, slotRow, levelRow []int
	// left is the work that is left for all sets of racks, in entries of the matrix.
	left int64
}

// shortageWork is how much work all sets of racks of a cell may take: 300 loops take up
// to a sixth of it.
const shortageWork = 1_000_000_000

// laneColumn is a choice of lanes of a loop or a filling of a level.
type laneColumn struct {
	rows []patterns.Entry
	cost float64
}

func newShortage(c *cell) *shortage {
	s := &shortage{c: c, slots: newSlots(c), alike: make([]int, len(c.cols)), left: shortageWork}
	for col := range s.alike {
		s.alike[col] = col
		for o := range col {
			if s.alike[o] == o && c.sameLanes(o, col) {
				s.alike[col] = o
				break
			}
		}
	}
	return s
}

// sameLanes reports whether all loops may have the same lanes on two columns.
func (c *cell) sameLanes(a, b int) bool {
	if c.cols[a].width != c.cols[b].width || !slices.Equal(c.cols[a].fixed, c.cols[b].fixed) || (c.cols[a].fixed == nil) != (c.cols[b].fixed == nil) {
		return false
	}
	for at := 0; at < len(c.lay); at += len(c.cols) {
		if c.lay[at+a] != c.lay[at+b] {
			return false
		}
	}
	return true
}

// on prepares the programme for the standing racks and a set of added ones.
func (s *shortage) on(set []int) {
	c := s.c
	s.times = make([]int64, len(c.cols))
	for col := range c.cols {
		n := int64(1)
		if b := c.cols[col].base; b >= c.standing {
			n = int64(set[b])
		}
		s.times[s.alike[col]] += n
	}
	s.opts, s.first = s.opts[:0], s.first[:0]
	s.price = make([]float64, len(s.slots.width)+1)
	s.price[len(s.slots.width)] = 1
	for i := range c.loops {
		s.first = append(s.first, len(s.opts))
		for col := range c.cols {
			id := c.lay[i*len(c.cols)+col]
			if id < 0 || s.alike[col] != col || s.times[col] == 0 {
				continue
			}
			for _, w := range c.lays[id].ways[:c.lays[id].n] {
				s.opts = append(s.opts, option{slot: s.slots.at(col, w.width), capacity: w.capacity})
			}
		}
		s.opts = append(s.opts, option{slot: len(s.slots.width), capacity: 1})
	}
	s.first = append(s.first, len(s.opts))
	s.begin()
}

// begin begins with every container left out and nothing on the levels.
func (s *shortage) begin() {
	c := s.c
	var want, cost []float64
	s.cols = s.cols[:0]
	add := func(n, each float64) int {
		r := len(want)
		want, cost = append(want, n+1e-7*blur(r)), append(cost, each)
		s.cols = append(s.cols, laneColumn{[]patterns.Entry{{Row: r, N: 1}}, each})
		return r
	}
	none := func(n int) []int { return slices.Repeat([]int{-1}, n) }
	s.loopRow, s.slotRow, s.levelRow = none(len(c.loops)), none(len(s.slots.width)), none(len(c.cols))
	for i := range c.loops {
		if c.least[i] < boundless {
			s.loopRow[i] = add(1, float64(c.loops[i].k))
		}
	}
	for col := range c.cols {
		if s.times[col] == 0 {
			continue
		}
		s.levelRow[col] = add(float64(s.times[col]), 0)
		for slot := s.slots.first[col]; slot < s.slots.first[col+1]; slot++ {
			s.slotRow[slot] = add(0, 0)
		}
	}
	hold, ids := slices.Repeat([]float64{1}, len(want)), patterns.Every(len(want))
	s.lp = patterns.NewSimplex(want, hold, cost, ids)
}

// shortageRounds bounds how often columns are looked for, shortagePivots the pivots
// for each row and round.
const (
	shortageRounds = 200
	shortagePivots = 10
)

// least is a bound on the containers left out on the standing racks and a set of
// added ones, whose prices it keeps. It goes on until no better one is to be had, or
// none that is more than leave.
func (s *shortage) least(set []int, leave int64) float64 {
	s.on(set)
	best, above := 0.0, float64(leave)
	var kept []float64
	for range shortageRounds {
		if !s.settle() || s.lp.Value() <= above+1e-4 {
			break
		}
		for slot, r := range s.slotRow {
			if r >= 0 {
				s.price[slot] = max(0, -s.lp.Price[r])
			}
		}
		bound, found := s.look()
		if bound > best {
			best, kept = bound, append(kept[:0], s.price...)
		}
		if !found || s.lp.Value()-best < 0.02*(best-above) {
			break
		}
	}
	if kept != nil {
		s.price = kept
	}
	return best
}

// look is the bound at the prices; it adds the columns that lower the cost and
// reports whether there was one.
func (s *shortage) look() (bound float64, found bool) {
	c := s.c
	for i := range c.loops {
		if s.loopRow[i] < 0 {
			continue
		}
		of := s.opts[s.first[i]:s.first[i+1]]
		least, _ := s.lanes.fill(of, s.price, c.loops[i].k)
		bound += least
		x := laneColumn{rows: []patterns.Entry{{Row: s.loopRow[i], N: 1}}}
		s.lanes.each(func(o int, times float64) {
			if slot := of[o].slot; slot < len(s.slotRow) {
				x.rows = addEntry(x.rows, s.slotRow[slot], times)
			} else {
				x.cost += times
			}
		})
		found = s.learn(x) || found
	}
	for col, row := range s.levelRow {
		if row < 0 {
			continue
		}
		bound -= float64(s.times[col]) * s.slots.dearest(s.price, col)
		x := laneColumn{rows: []patterns.Entry{{Row: row, N: 1}}}
		s.slots.lanes(s.price, col, func(slot int) { x.rows = addEntry(x.rows, s.slotRow[slot], -1) })
		found = s.learn(x) || found
	}
	return bound, found
}

// addEntry adds so much of a row to a column.
func addEntry(list []patterns.Entry, row int, n float64) []patterns.Entry {
	if k := slices.IndexFunc(list, func(e patterns.Entry) bool { return e.Row == row }); k >= 0 {
		list[k].N += n
		return list
	}
	return append(list, patterns.Entry{Row: row, N: n})
}

// learn adds a column that lowers the cost.
func (s *shortage) learn(x laneColumn) bool {
	if x.cost-s.lp.Worth(x.rows) > -1e-7 {
		return false
	}
	s.cols = append(s.cols, x)
	return true
}

// settle takes the columns that lower the cost most until none does; false where work
// or precision runs out.
func (s *shortage) settle() bool {
	for range shortagePivots * len(s.lp.X) {
		best, least := -1, -1e-8
		for k := range s.cols {
			if d := s.cols[k].cost - s.lp.Worth(s.cols[k].rows); d < least {
				best, least = k, d
			}
		}
		s.left -= s.lp.Work + int64(4*len(s.cols))
		s.lp.Work = 0
		if best < 0 {
			return true
		}
		if s.left < 0 || !s.lp.Pivot(s.cols[best].rows, s.cols[best].cost, best) {
			return false
		}
	}
	return false
}

// lift gives lanes on levels that the set does not have a price at which hardly a
// loop gains by lying there.
func (s *shortage) lift() {
	c := s.c
	for i := range c.loops {
		if s.loopRow[i] < 0 {
			continue
		}
		k := c.loops[i].k
		all, _ := s.lanes.fill(s.opts[s.first[i]:s.first[i+1]], s.price, k)
		for col := range c.cols {
			id := c.lay[i*len(c.cols)+col]
			if id < 0 || s.alike[col] != col || s.times[col] > 0 {
				continue
			}
			for _, w := range c.lays[id].ways[:c.lays[id].n] {
				slot := s.slots.at(col, w.width)
				s.price[slot] = max(s.price[slot], all/float64(k)*float64(min(k, w.capacity)))
			}
		}
	}
}

// priceUnit is a container in whole numbers: sums of prices are exact.
const priceUnit = 1 << 24

// cut is the condition that the prices make for all sets of racks.
func (s *shortage) cut() cut {
	c := s.c
	s.lift()
	for slot := range s.price {
		s.price[slot] = math.Floor(s.price[slot] * priceUnit)
	}
	return c.cutAt(func(i int, add func(laneNeed)) {
		for col := range c.cols {
			id := c.lay[i*len(c.cols)+col]
			if id < 0 || s.alike[col] != col {
				continue
			}
			for _, w := range c.lays[id].ways[:c.lays[id].n] {
				add(laneNeed{w.capacity, s.price[s.slots.at(col, w.width)]})
			}
		}
	}, func(col int) float64 { return s.slots.dearest(s.price, s.alike[col]) })
}
