package placement

import (
	"math"
	"slices"
)

// prices is the result of relaxing the widths of levels: a bound on effort and
// the price per nanometre of width of each column.
type prices struct {
	bound float64
	width []float64
}

// relaxation is the Lagrangian relaxation of a cell: every loop lies in whole
// lanes, but instead of obeying a level's width each lane is bought at a price
// that depends on the level and on how wide the lane is.
type relaxation struct {
	c *cell
	// sets are the largest sets of racks that may be added, by base. Without
	// them racks are bought: a rack's levels are worth no more than its cost,
	// and efforts count nothing.
	sets  [][]int
	leave int64
	// twin is the first of the standing columns that are alike for every loop:
	// they have one price and count as one.
	twin []int
	// At loop i, options opts[first[i]:first[i+1]].
	first []int
	opts  []option
	// slots are the columns' lane widths; price is what a lane costs there,
	// used how many lanes are taken, have how many the dearest filling of the
	// levels has.
	slots             *slots
	price, used, have []float64
	lanes             laneTable
	// linear is true while the lanes of a column have one price per width.
	linear bool
}

// option is a column and flow side of a loop: the effort of one container
// there, the capacity of one lane and the slot that it takes.
type option struct {
	slot     int
	effort   float64
	capacity int64
}

// relax returns a lower bound on the effort of every layout on the standing
// racks and one of sets that leaves at most leave containers without a lane
// (those of loops that may lie nowhere not counted). For any prices λ ≥ 0
//
//	Σ loops min over whole lanes (effort + λ) − Σ levels max over fillings (λ)
//
// less the most that leave containers can save is such a bound (Lagrangian
// relaxation); the prices are improved by a subgradient method (Held, Wolfe,
// Crowder, Validation of subgradient optimization, 1974, from memory).
// above is the effort of a known layout, which sets the length of steps.
func (c *cell) relax(sets [][]int, leave int64, above float64, coarse, fine int) prices {
	r := newRelaxation(c, sets, leave)
	return r.improve(above, coarse, fine)
}

// fineRounds is how often prices of single widths are moved: in small cells
// only, because each takes long.
func (c *cell) fineRounds() int {
	if len(c.loops) <= fewLoops && len(c.cols) <= fewShelves {
		return 50 + min(100, 400/max(1, len(c.loops)))
	}
	return 0
}

func newRelaxation(c *cell, sets [][]int, leave int64) *relaxation {
	r := &relaxation{c: c, sets: sets, leave: leave, slots: newSlots(c)}
	n := len(r.slots.width)
	r.linear = true
	r.price, r.used, r.have = make([]float64, n), make([]float64, n), make([]float64, n)
	r.twin = c.twins()
	r.collect()
	return r
}

// twins finds the standing columns that are alike for every loop.
func (c *cell) twins() []int {
	list := make([]int, len(c.cols))
	for col := range list {
		list[col] = col
		if col >= c.standingCols {
			continue
		}
		for o := range col {
			if list[o] == o && c.alikeColumns(o, col) {
				list[col] = o
				break
			}
		}
	}
	return list
}

func (c *cell) alikeColumns(a, b int) bool {
	if c.cols[a].mass != c.cols[b].mass || c.bases[c.cols[a].base].load != c.bases[c.cols[b].base].load {
		return false
	}
	for at := 0; at < len(c.lay); at += len(c.cols) {
		if c.lay[at+a] != c.lay[at+b] || c.effort[at+a] != c.effort[at+b] {
			return false
		}
	}
	return true
}

// improve moves the prices and returns the best bound seen: so many rounds with
// one price per width of a column, which is quickly near, then some with every
// width for itself.
func (r *relaxation) improve(above float64, coarse, fine int) prices {
	best := prices{bound: r.value(), width: make([]float64, len(r.c.cols))}
	kept := slices.Clone(r.price)
	for phase, rounds := range []int{coarse, fine} {
		if rounds == 0 || best.bound >= above {
			continue
		}
		r.linear = phase == 0
		copy(r.price, kept)
		r.value()
		step, stale := 1.0, 0
		for range rounds {
			if best.bound >= above || !r.move(step*max(above-best.bound, 1e-3*math.Abs(above))) {
				break
			}
			if v := r.value(); v > best.bound+1e-9*math.Abs(best.bound) {
				best.bound, stale = v, 0
				copy(kept, r.price)
			} else if stale++; stale >= 4 {
				step, stale = step/2, 0
			}
		}
	}
	copy(r.price, kept)
	for col := range r.c.cols {
		best.width[col] = r.dearest(r.twin[col]) / float64(max(1, r.c.cols[col].width))
	}
	return best
}

// collect lists the options of each loop on columns that may be there.
func (r *relaxation) collect() {
	c := r.c
	for i := range c.loops {
		r.first = append(r.first, len(r.opts))
		for col := range c.cols {
			id := c.lay[i*len(c.cols)+col]
			if id < 0 || r.twin[col] != col || !r.there(c.cols[col].base) {
				continue
			}
			effort := c.effort[i*len(c.cols)+col] / float64(c.loops[i].k)
			if r.sets == nil {
				effort = 0
			}
			for _, w := range c.lays[id].ways[:c.lays[id].n] {
				r.opts = append(r.opts, option{r.slots.at(col, w.width), effort, w.capacity})
			}
		}
	}
	r.first = append(r.first, len(r.opts))
}

// there reports whether a base stands or is in one of the sets.
func (r *relaxation) there(b int) bool {
	return b < r.c.standing || r.sets == nil || r.c.bases[b].free || slices.ContainsFunc(r.sets, func(set []int) bool { return set[b] > 0 })
}

// value returns the bound at the prices, less what rounding may have added to
// it, and notes the widths that its lanes would use.
func (r *relaxation) value() float64 {
	clear(r.used)
	sum, leave := 0.0, r.leave
	var parts []saving
	for i := range r.c.loops {
		of := r.opts[r.first[i]:r.first[i+1]]
		k := r.c.loops[i].k
		if len(of) == 0 {
			if r.c.least[i] < boundless {
				leave -= k // it is among those left out
			}
			continue
		}
		cost, slope := r.lanes.fill(of, r.price, k)
		sum += cost
		if r.leave > 0 {
			parts = append(parts, saving{i, slope})
		}
		r.use(i, 1)
	}
	size := math.Abs(sum)
	slices.SortStableFunc(parts, func(a, b saving) int { return compareFloats(b.each, a.each) })
	for _, p := range parts {
		if leave <= 0 {
			break
		}
		n := min(leave, r.c.loops[p.loop].k)
		leave -= n
		sum -= p.each * float64(n)
		r.lanes.fill(r.opts[r.first[p.loop]:r.first[p.loop+1]], r.price, r.c.loops[p.loop].k)
		r.use(p.loop, -float64(n)/float64(r.c.loops[p.loop].k))
	}
	paid := r.pay()
	return sum - paid - 1e-12*(size+paid)
}

// saving is what leaving out one container of a loop saves at most.
type saving struct {
	loop int
	each float64
}

// use counts the lanes in the table as used by loop i.
func (r *relaxation) use(i int, share float64) {
	of := r.opts[r.first[i]:r.first[i+1]]
	r.lanes.each(func(o int, times float64) { r.used[of[o].slot] += share * times })
}

// pay returns what the dearest fillings of all levels cost, with the dearest of
// the sets of added racks.
func (r *relaxation) pay() float64 {
	worth := make([]float64, len(r.c.bases))
	share := make([]float64, len(r.c.cols)) // how many levels a column stands for
	paid := 0.0
	clear(r.have)
	for col := range r.c.cols {
		if r.c.cols[col].base < r.c.standing {
			share[r.twin[col]]++
		}
	}
	for col := range r.c.cols {
		switch b := r.c.cols[col].base; {
		case b >= r.c.standing:
			worth[b] += r.dearest(col)
		case share[col] > 0:
			paid += share[col] * r.dearest(col)
			r.slots.fill(r, col, share[col])
		}
	}
	if len(r.sets) == 0 {
		return paid
	}
	most, chosen := -1.0, 0
	for s, set := range r.sets {
		sum := 0.0
		for b := r.c.standing; b < len(set); b++ {
			sum += float64(set[b]) * worth[b]
		}
		if sum > most {
			most, chosen = sum, s
		}
	}
	for col := r.c.standingCols; col < len(r.c.cols); col++ {
		if n := r.sets[chosen][r.c.cols[col].base]; n > 0 {
			r.dearest(col)
			r.slots.fill(r, col, float64(n))
		}
	}
	return paid + most
}

// dearest is what the dearest filling of a column costs.
func (r *relaxation) dearest(col int) float64 {
	if s := r.slots.first[col]; r.linear && s < r.slots.first[col+1] {
		return r.price[s] / float64(r.slots.width[s]) * r.c.cols[col].reach
	}
	return r.slots.dearest(r.price, col)
}

// move takes one step along the subgradient; false when there is none.
func (r *relaxation) move(length float64) bool {
	slopes := r.slopes()
	norm := 0.0
	for s, g := range slopes {
		if g > 0 || r.price[s] > 0 {
			norm += g * g
		}
	}
	if norm == 0 {
		return false
	}
	for s, g := range slopes {
		r.price[s] = max(0, r.price[s]+length/norm*g)
	}
	if r.sets == nil {
		r.keepCosts()
	}
	return true
}

// keepCosts lowers the prices of racks to add to what they cost.
func (r *relaxation) keepCosts() {
	for b := r.c.standing; b < len(r.c.bases); b++ {
		base := &r.c.bases[b]
		worth := 0.0
		for col := base.first; col < base.end; col++ {
			worth += r.dearest(col)
		}
		for s := r.slots.first[base.first]; s < r.slots.first[base.end] && worth > float64(base.cost); s++ {
			r.price[s] *= float64(base.cost) / worth
		}
	}
}

// slopes are the lanes used beyond what there are, by slot; with one price per
// width the width used beyond, shared out by width. Racks in any number have no
// price.
func (r *relaxation) slopes() []float64 {
	list := make([]float64, len(r.price))
	for col := range r.c.cols {
		if r.c.bases[r.c.cols[col].base].free {
			continue
		}
		from, to := r.slots.first[col], r.slots.first[col+1]
		over, square := 0.0, 0.0
		for s := from; s < to; s++ {
			width := float64(r.slots.width[s])
			list[s] = r.used[s] - r.have[s]
			over += list[s] * width
			square += width * width
			if math.Abs(list[s]) <= 1e-6 {
				list[s] = 0
			}
		}
		for s := from; s < to && r.linear; s++ {
			if list[s] = over * float64(r.slots.width[s]) / square; math.Abs(over) <= 1e-6*r.c.cols[col].reach {
				list[s] = 0
			}
		}
	}
	return list
}

func compareFloats(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// laneTable is the least cost of laying the first n containers of a loop in
// whole lanes: lane[m] is the cheapest lane of m containers, cost[n] the
// cheapest lanes of n, the last of which holds last[n].
type laneTable struct {
	lane, cost []float64
	by, last   []int
	k          int64
	// linear is set where the loop is too large for a table: then so many
	// containers per lane of one kind.
	linear float64
}

// fill computes the table of k containers and returns its end and the most
// that leaving out one container saves on average.
func (t *laneTable) fill(of []option, price []float64, k int64) (cost, slope float64) {
	t.k, t.linear = k, 0
	widest := int64(0)
	for _, o := range of {
		widest = max(widest, min(k, o.capacity))
	}
	if k > fewContainers {
		return t.fillLinear(of, price, k)
	}
	t.lane, t.by = t.lane[:0], t.by[:0]
	for range widest + 1 {
		t.lane, t.by = append(t.lane, math.Inf(1)), append(t.by, -1)
	}
	for o, x := range of {
		rent := price[x.slot]
		for m := int64(1); m <= min(widest, x.capacity); m++ {
			if v := rent + float64(m)*x.effort; v < t.lane[m] {
				t.lane[m], t.by[m] = v, o
			}
		}
	}
	t.cost, t.last = append(t.cost[:0], 0), append(t.last[:0], 0)
	for n := int64(1); n <= k; n++ {
		least, last := math.Inf(1), int64(0)
		for m := int64(1); m <= min(n, widest); m++ {
			if v := t.cost[n-m] + t.lane[m]; v < least {
				least, last = v, m
			}
		}
		t.cost, t.last = append(t.cost, least), append(t.last, int(last))
	}
	for n := range k {
		slope = max(slope, (t.cost[k]-t.cost[n])/float64(k-n))
	}
	return t.cost[k], slope
}

func (t *laneTable) fillLinear(of []option, price []float64, k int64) (cost, slope float64) {
	least := math.Inf(1)
	t.by = append(t.by[:0], -1)
	for o, x := range of {
		if v := x.effort + price[x.slot]/float64(x.capacity); v < least {
			least, t.by[0], t.linear = v, o, float64(k)/float64(x.capacity)
		}
	}
	return least * float64(k), least
}

// each calls yield with the option of each lane and how many of it.
func (t *laneTable) each(yield func(option int, times float64)) {
	if t.linear > 0 {
		yield(t.by[0], t.linear)
		return
	}
	for n := int(t.k); n > 0; n -= t.last[n] {
		yield(t.by[t.last[n]], 1)
	}
}
