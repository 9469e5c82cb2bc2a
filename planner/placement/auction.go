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
// is no more than the effort of any layout (Fisher, Jaikumar, Van Wassenhove, A
// multiplier adjustment method for the generalized assignment problem,
// Management Science 32, 1986, from memory). Three more rules have a price: a
// part of a loop pays the fee for its share of a split, of which there are no
// more than so many; a rack rents out the mass it may carry; and containers
// without a lane lie on a stall of their own, which holds so many.
type auction struct {
	c    *cell
	sets [][]int
	// loops are those that may lie somewhere.
	loops []int
	// splits is how many loops that fit a level as a whole may be split, leave
	// how many containers may have no lane. unsplit is true where neither is
	// any.
	splits, leave int64
	unsplit       bool
	stalls        []stall
	// taken is how often the levels take each loop; parted the fees they pay;
	// loaded the mass on each base.
	bid, taken   []float64
	fee, parted  float64
	rent, loaded []float64
	racked       []bool
	// ups are conditions on loops in parts, upsOf where those of each loop stand.
	ups   []roundUp
	upsOf [][]int
	pick  picker
	steps *int
	off   []lotAt
}

// lotAt is a lot on a stall.
type lotAt struct{ stall, lot int32 }

// newAuction prepares the auction of the placeable loops on the standing racks
// and one of sets, with at most so many containers left out and loops split.
func (c *cell) newAuction(sets [][]int, leave int64, splits int, steps *int) *auction {
	n := len(c.loops)
	a := &auction{c: c, sets: sets, leave: leave, splits: int64(splits), steps: steps}
	a.bid, a.taken = make([]float64, n), make([]float64, n)
	a.upsOf = make([][]int, n)
	a.rent, a.loaded, a.racked = make([]float64, len(c.bases)), make([]float64, len(c.bases)), make([]bool, len(c.bases))
	if leave == 0 {
		a.splits -= int64(c.bigs) // they are split in every layout
	}
	a.splits = max(0, a.splits)
	a.unsplit = a.splits == 0 && leave == 0
	for i := range c.loops {
		if c.least[i] < boundless {
			a.loops = append(a.loops, i)
		}
	}
	a.addStalls()
	return a
}

// value returns the bound at the bids, less what rounding may have added, and
// notes what the levels take.
func (a *auction) value() float64 {
	clear(a.taken)
	clear(a.loaded)
	a.parted = 0
	sum, size := -a.fee*float64(a.splits), a.fee*float64(a.splits)
	for _, i := range a.loops {
		sum += a.bid[i]
		size += math.Abs(a.bid[i])
	}
	for k := range a.ups {
		sum += a.ups[k].price
		size += a.ups[k].price
	}
	worth := make([]float64, len(a.c.bases))
	for b, rent := range a.rent {
		if rent > 0 {
			worth[b] -= rent
		}
	}
	for s := range a.stalls {
		t := &a.stalls[s]
		a.choose(t)
		if t.times > 0 {
			sum += float64(t.times) * t.value
			size -= float64(t.times) * t.value
			a.take(t, float64(t.times))
		} else {
			worth[t.base] += t.value
		}
	}
	for b := range a.c.standing {
		sum += worth[b]
		size -= worth[b]
	}
	set, least := a.cheapest(worth)
	for s := range a.stalls {
		if t := &a.stalls[s]; t.times == 0 && set != nil {
			a.take(t, float64(set[t.base]))
		}
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

// workPerStep is how many lots or bundles are looked at in one step of a proof.
const workPerStep = 5000

// choose finds what pays most on a stall.
func (a *auction) choose(t *stall) {
	a.pay(t)
	p := &a.pick
	p.list = p.list[:0]
	for k := range t.lots {
		l := &t.lots[k]
		if l.profit > 0 && !l.off && (l.strong < 0 || t.lots[l.strong].off || t.lots[l.strong].profit < l.profit) {
			p.list = append(p.list, k)
		}
	}
	if t.fixed != nil {
		t.value = -p.lanes(t)
	} else {
		t.value = -p.most(t.lots, t.room, t.mass, t.grid, !a.unsplit || t.parted)
	}
	t.chosen = append(t.chosen[:0], p.best...)
	*a.steps -= 1 + p.work/workPerStep
	p.work = 0
}

// pay computes what each lot of a stall brings at the bids.
func (a *auction) pay(t *stall) {
	rent := 0.0
	if t.base >= 0 && a.rent[t.base] > 0 {
		rent = a.rent[t.base] / float64(a.c.bases[t.base].load)
	}
	for k := range t.lots {
		l := &t.lots[k]
		l.profit = a.bid[l.loop]*l.share - l.effort - a.fee*l.fee - rent*float64(l.mass) + a.upWorth(l)
	}
}

func (a *auction) take(t *stall, times float64) {
	for _, k := range t.chosen {
		l := &t.lots[k]
		a.taken[l.loop] += times * l.share
		a.parted += times * l.fee
		if t.base >= 0 && a.racked[t.base] {
			a.loaded[t.base] += times * float64(l.mass) / float64(a.c.bases[t.base].load)
		}
	}
}

// improve moves the bids by a subgradient method and returns the best bound
// seen, whose bids it keeps.
func (a *auction) improve(above float64, rounds int) float64 {
	best := a.value()
	kept := a.offers(nil)
	step, stale := 1.0, 0
	for range rounds {
		if best >= above || *a.steps < 0 || !a.move(step*max(above-best, 1e-4*above)) {
			break
		}
		if v := a.value(); v > best+1e-9*math.Abs(best) {
			best, stale = v, 0
			kept = a.offers(kept)
		} else if stale++; stale >= 5 {
			step, stale = step*0.6, 0
		}
	}
	a.offer(kept)
	return max(best, a.value())
}

// offers writes bids, fee, rents and prices of conditions into a list, offer takes
// them from it.
func (a *auction) offers(list []float64) []float64 {
	list = append(append(append(list[:0], a.bid...), a.fee), a.rent...)
	for k := range a.ups {
		list = append(list, a.ups[k].price)
	}
	return list
}

func (a *auction) offer(list []float64) {
	n := copy(a.bid, list)
	a.fee = list[n]
	n += 1 + copy(a.rent, list[n+1:])
	for k := range a.ups {
		a.ups[k].price = list[n+k]
	}
}

// priced is the number of prices that offers lists.
func (a *auction) priced() int { return len(a.bid) + 1 + len(a.rent) + len(a.ups) }

// move takes one step along the subgradient; false when there is none.
func (a *auction) move(length float64) bool {
	norm := 0.0
	for _, i := range a.loops {
		norm += (1 - a.taken[i]) * (1 - a.taken[i])
	}
	split := a.parted - float64(a.splits)
	if a.unsplit || split < 0 && a.fee == 0 {
		split = 0
	}
	norm += split * split
	for b := range a.rent {
		norm += a.over(b) * a.over(b)
	}
	if norm < 1e-12 {
		return false
	}
	for _, i := range a.loops {
		a.bid[i] = max(0, a.bid[i]+length/norm*(1-a.taken[i]))
	}
	a.fee = max(0, a.fee+length/norm*split)
	for b := range a.rent {
		a.rent[b] = max(0, a.rent[b]+length/norm*a.over(b))
	}
	return true
}

// over is the mass on a rack beyond what it may carry, as a share of that; 0
// where it has no price and needs none. Racks that may be added are looked at
// where one set says how many there are.
func (a *auction) over(b int) float64 {
	if !a.racked[b] {
		return 0
	}
	if g := a.loaded[b] - a.standing(b); g > 0 || a.rent[b] > 0 {
		return g
	}
	return 0
}

// standing is how many racks of a base there are, where there is one set of added
// racks.
func (a *auction) standing(b int) float64 {
	if b < a.c.standing {
		return 1
	}
	return float64(a.sets[0][b])
}

// start sets the bids to what each loop pays where it pays least at the prices
// of widths.
func (a *auction) start(p prices) {
	for _, i := range a.loops {
		a.bid[i] = math.Inf(1)
		for s := range a.stalls {
			col := a.stalls[s].col
			if col < 0 || a.c.lay[i*len(a.c.cols)+col] < 0 {
				continue
			}
			if need, _ := a.c.lays[a.c.lay[i*len(a.c.cols)+col]].narrowest(a.c.loops[i].k); need < boundless {
				a.bid[i] = min(a.bid[i], a.c.effort[i*len(a.c.cols)+col]+p.width[col]*float64(need))
			}
		}
		if math.IsInf(a.bid[i], 1) {
			a.bid[i] = 0
		}
	}
}

// close takes lots out of the auction; open puts back those since a mark.
func (a *auction) close(at lotAt) {
	if l := &a.stalls[at.stall].lots[at.lot]; !l.off {
		l.off = true
		a.off = append(a.off, at)
	}
}

func (a *auction) open(mark int) {
	for _, at := range a.off[mark:] {
		a.stalls[at.stall].lots[at.lot].off = false
	}
	a.off = a.off[:mark]
}

// there reports whether a column stands or may be added.
func (a *auction) there(col int) bool {
	b := a.c.cols[col].base
	return b < a.c.standing || slices.ContainsFunc(a.sets, func(set []int) bool { return set[b] > 0 })
}
