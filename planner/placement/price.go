package placement

import (
	"math"
	"slices"
)

// stock says how many shelves of each column a relaxation may use; negative is
// any number.
type stock []float64

// stockOf counts the shelves of st.
func (st *state) stockOf() stock {
	s := make(stock, len(st.c.cols))
	for i := range st.shelves {
		s[st.shelves[i].col]++
	}
	return s
}

// stockOfAll counts the shelves any layout may have: the standing ones and as
// many of each type as the frontage allows.
func (c *cell) stockOfAll() stock {
	s := make(stock, len(c.cols))
	for col := range c.cols {
		b := &c.bases[c.cols[col].base]
		switch {
		case c.cols[col].base < c.standing:
			s[col] = 1
		case c.frontage >= boundless || b.width <= 0:
			s[col] = -1
		default:
			s[col] = float64(c.frontage / b.width)
		}
	}
	return s
}

// prices is the result of relaxing the widths of levels: a bound on effort and
// the price per nanometre of width of each column.
type prices struct {
	bound float64
	width []float64
}

// relaxation is the linear relaxation of a cell: containers may be shared out
// in any fraction, widths are bought at a price.
type relaxation struct {
	c     *cell
	have  stock
	leave int64
	// At loop i, options opts[first[i]:first[i+1]].
	first []int
	opts  []option
	price []float64
	used  []float64
}

// option is a column a container may lie on: its effort and width there.
type option struct {
	col           int
	effort, width float64
}

// relax returns a lower bound on the effort of every layout on the levels of
// have that leaves at most leave containers without a lane (those of loops
// that may lie nowhere not counted). For any prices λ ≥ 0 the sum
//
//	Σ containers · min over columns (effort + λ·width) − Σ λ · width there
//
// without the leave most expensive containers is such a bound (Lagrangian
// relaxation); the prices are improved by a subgradient method (Held, Wolfe,
// Crowder, Validation of subgradient optimization, 1974, from memory).
// above is the effort of a known layout, which sets the length of steps.
func (c *cell) relax(have stock, leave int64, above float64, rounds int) prices {
	r := &relaxation{c: c, have: have, leave: leave, price: make([]float64, len(c.cols)), used: make([]float64, len(c.cols))}
	r.collect()
	best := prices{bound: r.value(), width: make([]float64, len(c.cols))}
	step, stale := 1.0, 0
	for range rounds {
		if !r.move(step * max(above-best.bound, 1e-3*math.Abs(above))) {
			break
		}
		if v := r.value(); v > best.bound+1e-9*math.Abs(best.bound) {
			best.bound, stale = v, 0
			copy(best.width, r.price)
		} else if stale++; stale >= 4 {
			step, stale = step/2, 0
		}
	}
	return best
}

func (r *relaxation) collect() {
	c := r.c
	for i := range c.loops {
		r.first = append(r.first, len(r.opts))
		for col := range c.cols {
			id := c.lay[i*len(c.cols)+col]
			if id < 0 || r.have[col] == 0 {
				continue
			}
			width := math.Inf(1)
			for _, w := range c.lays[id].ways[:c.lays[id].n] {
				width = min(width, float64(w.width)/float64(w.capacity))
			}
			r.opts = append(r.opts, option{col, c.effort[i*len(c.cols)+col] / float64(c.loops[i].k), width})
		}
	}
	r.first = append(r.first, len(r.opts))
}

// value returns the bound at the prices, less what rounding may have added to
// it, and notes the widths that its containers would use.
func (r *relaxation) value() float64 {
	clear(r.used)
	sum, size := 0.0, 0.0
	type part struct {
		each float64
		n    int64
		at   int
	}
	var parts []part
	for i := range r.c.loops {
		best, at := math.Inf(1), -1
		for o := r.first[i]; o < r.first[i+1]; o++ {
			if v := r.opts[o].effort + r.price[r.opts[o].col]*r.opts[o].width; v < best {
				best, at = v, o
			}
		}
		if at < 0 {
			continue
		}
		n := r.c.loops[i].k
		sum += best * float64(n)
		size += best * float64(n)
		r.used[r.opts[at].col] += r.opts[at].width * float64(n)
		if r.leave > 0 {
			parts = append(parts, part{best, n, at})
		}
	}
	slices.SortStableFunc(parts, func(a, b part) int { return compareFloats(b.each, a.each) })
	for left, p := r.leave, 0; left > 0 && p < len(parts); p++ {
		n := min(left, parts[p].n)
		left -= n
		sum -= parts[p].each * float64(n)
		r.used[r.opts[parts[p].at].col] -= r.opts[parts[p].at].width * float64(n)
	}
	for col := range r.c.cols {
		if r.have[col] > 0 {
			v := r.price[col] * r.have[col] * float64(r.c.cols[col].width)
			sum -= v
			size += v
		}
	}
	return sum - 1e-12*size
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

// move takes one step along the subgradient; false when there is none.
func (r *relaxation) move(length float64) bool {
	norm := 0.0
	for col := range r.c.cols {
		if g := r.slope(col); g > 0 || r.price[col] > 0 {
			norm += g * g
		}
	}
	if norm == 0 {
		return false
	}
	for col := range r.c.cols {
		r.price[col] = max(0, r.price[col]+length/norm*r.slope(col))
	}
	return true
}

// slope is the width used beyond what there is; columns in any number have no
// price.
func (r *relaxation) slope(col int) float64 {
	if r.have[col] < 0 {
		return 0
	}
	have := r.have[col] * float64(r.c.cols[col].width)
	if g := r.used[col] - have; math.Abs(g) > 1e-6*have {
		return g
	}
	return 0
}
