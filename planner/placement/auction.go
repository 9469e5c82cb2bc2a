package placement

import (
	"math"
	"slices"
)

// auction is the Lagrangian relaxation of a cell in which loops need not lie
// exactly once: each loop bids for a place, and each level takes those that
// fit side by side and pay most beyond the effort they cost there. For any
// bids u
//
//	Σ loops u + Σ levels min over sets that fit (Σ effort − u)
//
// is no more than the effort of any layout of whole loops (Fisher, Jaikumar,
// Van Wassenhove, A multiplier adjustment method for the generalized
// assignment problem, Management Science 32, 1986, from memory). Loops too wide
// for any level take no room here and cost the least effort they have anywhere.
type auction struct {
	c     *cell
	sets  [][]int
	loops []int
	// fixed is the least effort of the loops too wide for any level; loops are
	// the others that may lie somewhere.
	fixed  float64
	stalls []stall
	bid    []float64
	// taken is how often the levels take each loop.
	taken []float64
	pick  picker
}

// stall is a level, or several that are alike: times of them stand, and each
// added rack of base has one more.
type stall struct {
	col, times int
	base       int
	lots       []lot
	// value is what the best set that fits is worth, 0 or less; chosen is it.
	value  float64
	chosen []int
}

// lot is a loop on a level.
type lot struct {
	loop        int
	width, mass int64
	effort      float64
	profit      float64
}

// newAuction prepares the auction of the placeable loops on the standing racks
// and one of sets.
func (c *cell) newAuction(sets [][]int) *auction {
	n := len(c.loops)
	a := &auction{c: c, sets: sets, bid: make([]float64, n), taken: make([]float64, n)}
	for i := range c.loops {
		if c.big[i] {
			a.fixed += a.leastOf(i)
		} else if c.least[i] < boundless {
			a.loops = append(a.loops, i)
		}
	}
	twin := c.twins()
	at := make([]int, len(c.cols))
	for col := range c.cols {
		b := c.cols[col].base
		if b < c.standing && twin[col] != col {
			a.stalls[at[twin[col]]].times++
			continue
		}
		if !a.there(col) {
			continue
		}
		at[col] = len(a.stalls)
		s := stall{col: col, base: b, lots: a.lots(col)}
		if b < c.standing {
			s.times = 1
		}
		a.stalls = append(a.stalls, s)
	}
	return a
}

// there reports whether a column stands or may be added.
func (a *auction) there(col int) bool {
	b := a.c.cols[col].base
	return b < a.c.standing || slices.ContainsFunc(a.sets, func(set []int) bool { return set[b] > 0 })
}

// leastOf is the least effort of loop i on any level it may lie on.
func (a *auction) leastOf(i int) float64 {
	least := math.Inf(1)
	for col := range a.c.cols {
		if a.c.lay[i*len(a.c.cols)+col] >= 0 && a.there(col) {
			least = min(least, a.c.effort[i*len(a.c.cols)+col])
		}
	}
	return least
}

// lots lists the loops that may lie on a column as a whole.
func (a *auction) lots(col int) []lot {
	c := a.c
	var list []lot
	for _, i := range a.loops {
		if at := i*len(c.cols) + col; c.whole[at] < boundless {
			list = append(list, lot{loop: i, width: c.whole[at], mass: c.loops[i].k * c.loops[i].gross, effort: c.effort[at]})
		}
	}
	return list
}

// value returns the bound at the bids, less what rounding may have added, and
// notes what the levels take.
func (a *auction) value() float64 {
	clear(a.taken)
	sum, size := a.fixed, a.fixed
	for _, i := range a.loops {
		sum += a.bid[i]
		size += math.Abs(a.bid[i])
	}
	worth := make([]float64, len(a.c.bases))
	for s := range a.stalls {
		t := &a.stalls[s]
		a.choose(t)
		worth[t.base] += t.value
		sum += float64(t.times) * t.value
		size -= float64(t.times) * t.value
	}
	set, least := a.cheapest(worth)
	for s := range a.stalls {
		t := &a.stalls[s]
		times := t.times
		if set != nil && t.base >= a.c.standing {
			times = set[t.base]
		}
		a.take(t, float64(times))
	}
	return sum + least - 1e-12*(size-least)
}

// cheapest is the set of added racks that is worth most.
func (a *auction) cheapest(worth []float64) ([]int, float64) {
	var best []int
	least := math.Inf(1)
	for _, set := range a.sets {
		sum := 0.0
		for b := a.c.standing; b < len(set); b++ {
			sum += float64(set[b]) * worth[b]
		}
		if sum < least {
			best, least = set, sum
		}
	}
	if best == nil {
		return nil, 0
	}
	return best, least
}

// choose finds what pays most on a stall.
func (a *auction) choose(t *stall) {
	p := &a.pick
	p.list = p.list[:0]
	for k := range t.lots {
		l := &t.lots[k]
		l.profit = a.bid[l.loop] - l.effort
		if l.profit > 0 {
			p.list = append(p.list, k)
		}
	}
	col := &a.c.cols[t.col]
	t.value = -p.most(t.lots, int64(col.reach), min(col.mass, a.c.bases[t.base].load))
	t.chosen = append(t.chosen[:0], p.best...)
}

func (a *auction) take(t *stall, times float64) {
	for _, k := range t.chosen {
		a.taken[t.lots[k].loop] += times
	}
}

// improve moves the bids by a subgradient method and returns the best bound
// seen, whose bids it keeps.
func (a *auction) improve(above float64, rounds int) float64 {
	best := a.value()
	kept := slices.Clone(a.bid)
	step, stale := 1.0, 0
	for range rounds {
		if best >= above || !a.move(step*max(above-best, 1e-4*above)) {
			break
		}
		if v := a.value(); v > best+1e-9*math.Abs(best) {
			best, stale = v, 0
			copy(kept, a.bid)
		} else if stale++; stale >= 5 {
			step, stale = step*0.6, 0
		}
	}
	copy(a.bid, kept)
	return best
}

// move takes one step along the subgradient; false when there is none.
func (a *auction) move(length float64) bool {
	norm := 0.0
	for _, i := range a.loops {
		norm += (1 - a.taken[i]) * (1 - a.taken[i])
	}
	if norm < 1e-12 {
		return false
	}
	for _, i := range a.loops {
		a.bid[i] = max(0, a.bid[i]+length/norm*(1-a.taken[i]))
	}
	return true
}

// start sets the bids to what each loop pays where it pays least at the prices
// of widths.
func (a *auction) start(p prices) {
	for _, i := range a.loops {
		a.bid[i] = math.Inf(1)
		for s := range a.stalls {
			col := a.stalls[s].col
			if need := a.c.whole[i*len(a.c.cols)+col]; need < boundless {
				a.bid[i] = min(a.bid[i], a.c.effort[i*len(a.c.cols)+col]+p.width[col]*float64(need))
			}
		}
		if math.IsInf(a.bid[i], 1) {
			a.bid[i] = 0
		}
	}
}
