package placement

import (
	"cmp"
	"math/rand/v2"
	"slices"
)

// extension looks for the cheapest racks to add to a cell.
type extension struct {
	c    *cell
	r    *relaxed
	rng  *rand.Rand
	stop func() bool
	// best is the best layout so far, and its goals.
	best *state
	key  key
	// tries is how many sets of racks may still be filled, tried those that were.
	tries int
	tried []filledSet
	// need is the least width that all loops take.
	need float64
}

// extend adds racks to a layout of the standing racks in which loops are left
// over. It returns the best layout found, st itself where no rack helps.
func (c *cell) extend(st *state, r *relaxed, rng *rand.Rand, stop func() bool) *state {
	x := &extension{c: c, r: r, rng: rng, stop: stop, tries: mostTries}
	if len(c.loops) <= 12 {
		x.tries = 120
	}
	for i := range c.loops {
		if c.least[i] < boundless {
			x.need += float64(c.least[i])
		}
	}
	x.best = st.clone()
	x.best.divide(x.best.short())
	x.key = x.best.key()
	if len(c.bases) == c.standing || x.key.unplaced == r.hopeless {
		return x.best
	}
	x.take(x.grow(st, byWidth))
	if c.frontage < boundless {
		x.take(x.grow(st, byFrontage))
	}
	if !x.best.few() {
		x.tries = mostTries
	}
	x.tries = x.c.spend(x.tries, 10)
	x.enumerate()
	if x.key.unplaced > x.r.unplaced && x.reach() {
		x.tries = x.c.spend(mostTries, 2)
		x.enumerate()
	}
	x.trim()
	if x.retry() {
		x.trim()
	}
	x.ties()
	return x.best
}

// ties fills other sets of racks that cost as much as the best one, because
// their effort may differ, and keeps the one of least effort.
func (x *extension) ties() {
	x.best.descend(x.stop)
	x.key = x.best.key()
	x.tries = x.c.spend(2, 0)
	if x.best.few() {
		x.tries = 10
	}
	for _, s := range x.sets(x.key.cost+1, x.key.unplaced) {
		if x.tries <= 0 || x.stop() {
			return
		}
		if s.cost == x.key.cost && !slices.Equal(s.added, x.best.added) {
			x.tries--
			st := x.c.pack(s.added, x.key.unplaced, x.c.squeezes()/4, x.rng, x.stop)
			st.polish(x.rng, 60, x.stop)
			st.descend(x.stop)
			x.take(st)
		}
	}
}

// take keeps a layout when it is better in the first three goals.
func (x *extension) take(st *state) bool {
	k := st.key()
	if k.compare(x.key) >= 0 {
		return false
	}
	x.best, x.key = st, k
	return true
}

// worth rates a rack of a base that lets so much width, and so many
// containers, be placed.
type worth func(b *base, width float64, containers int64) float64

func byWidth(b *base, width float64, _ int64) float64 { return width / float64(max(1, b.cost)) }

func byFrontage(b *base, _ float64, containers int64) float64 {
	return float64(containers) / float64(max(1, b.width))
}

// mostAdded bounds the racks added to one cell, so that a wrong unit in a sheet
// does not ask for thousands.
const mostAdded = 400

// grow adds the rack of most worth, again and again, until nothing is left
// over or no rack helps.
func (x *extension) grow(st *state, of worth) *state {
	now, trial, best := st.clone(), &state{}, &state{}
	front := x.c.frontage
	for n := 0; n < mostAdded && !x.stop(); n++ {
		most, chosen := 0.0, -1
		done := key{unplaced: x.r.hopeless + 1}
		pool := now.short()
		for b := x.c.standing; b < len(x.c.bases); b++ {
			base := &x.c.bases[b]
			if base.width > front {
				continue
			}
			trial.copyFrom(now)
			trial.open(b)
			trial.fill(pool, modest)
			width, n := gained(now, trial, pool)
			if n == 0 {
				trial.divide(pool)
				width, n = gained(now, trial, pool)
			}
			if whole, k := x.finish(trial); whole && k.compare(done) < 0 {
				done, most, chosen = k, 1, b
				best.copyFrom(trial)
			} else if w := of(base, width, n); done.unplaced > x.r.hopeless && w > most {
				most, chosen = w, b
				best.copyFrom(trial)
			}
		}
		if chosen < 0 {
			break
		}
		now.copyFrom(best)
		front -= x.c.bases[chosen].width
		if done.unplaced <= x.r.hopeless {
			return now
		}
	}
	now.mend(2, 200)
	now.divide(now.short())
	return now
}

// gained is what trial places of a list of loops that now does not.
func gained(now, trial *state, list []int) (width float64, containers int64) {
	for _, i := range list {
		n := now.missing[i] - trial.missing[i]
		containers += n
		width += float64(now.c.least[i]) * float64(n) / float64(now.c.loops[i].k)
	}
	return width, containers
}

// finish tries to place all that trial leaves over, when that is little; it
// changes trial only where it succeeds.
func (x *extension) finish(trial *state) (bool, key) {
	width, free := 0.0, 0.0
	for i, n := range trial.missing {
		if x.c.least[i] < boundless {
			width += float64(x.c.least[i]) * float64(n) / float64(x.c.loops[i].k)
		}
	}
	for s := range trial.shelves {
		free += float64(x.c.cols[trial.shelves[s].col].width - trial.shelves[s].used)
	}
	if width > free {
		return false, key{}
	}
	t := trial.clone()
	t.mend(2, 200)
	t.divide(t.short())
	k := t.key()
	if k.unplaced > x.r.hopeless {
		return false, key{}
	}
	trial.copyFrom(t)
	return true, k
}

// rackSet is a set of racks to add.
type rackSet struct {
	added []int
	cost  int64
}

// mostTries is how many sets of racks are filled.
const mostTries = 14

// Sets that were filled in vain are filled again mostRetries times, where cells have
// little patience fewRetries: those that left no more than fewOver containers over
// beyond what the best leaves, dearer ones fewTimes.
const (
	mostRetries = 64
	fewRetries  = 16
	fewOver     = 8
	fewTimes    = 4
)

// filledSet is a set of racks that was filled so many times, over what it left over
// beyond the fewest possible at best.
type filledSet struct {
	rackSet
	times int
	over  int64
}

// rank is lower for sets that left less over and that were filled less often.
func (t *filledSet) rank() int64 { return 3*t.over + int64(t.times) }

// mostSets bounds the list of sets that are looked at.
const mostSets = 3000

// enumerate lists sets that meet every cut and are cheaper than the best, the
// cheapest first, and fills some of those with room enough for whole loops: all
// of a few, else by bisection on cost.
func (x *extension) enumerate() {
	sets := slices.DeleteFunc(x.sets(x.key.cost, x.key.unplaced), func(s rackSet) bool { return !x.roomy(s.added) })
	if len(sets) > x.tries {
		low, high := 0, len(sets)
		for low < high && x.tries > 8 && !x.stop() {
			mid := (low + high) / 2
			if x.try(sets[mid]) {
				high = mid
			} else {
				low = mid + 1
			}
		}
		sets = sets[:high]
		sets = sets[max(0, len(sets)-x.tries):]
	}
	for _, s := range sets {
		if x.stop() || x.tries <= 0 || (s.cost >= x.key.cost && x.key.unplaced <= x.r.unplaced) || x.try(s) && x.key.unplaced <= x.r.unplaced {
			break
		}
	}
}

// retry fills sets that are cheaper than the best and left little over once more,
// from other starts and for longer, those that left least over first, and reports
// whether one of them is better.
func (x *extension) retry() (better bool) {
	for n := x.c.spend(min(mostRetries, fewRetries*x.c.patience()), 0); n > 0 && !x.stop(); n-- {
		var next *filledSet
		for k := range x.tried {
			if t := &x.tried[k]; x.promises(t) && (next == nil || t.rank() < next.rank()) {
				next = t
			}
		}
		if next == nil {
			break
		}
		better = x.fill(next) || better
	}
	return better
}

// promises reports whether a set that was filled in vain may be better than the best if
// it is filled again: it is cheaper, or containers are left over that need not be; of a
// dearer one that is tried a few times only.
func (x *extension) promises(t *filledSet) bool {
	more := x.key.unplaced - x.r.unplaced
	return t.over <= fewOver+more && (t.cost < x.key.cost || more > 0 && t.times <= fewTimes)
}

// roomy reports whether the levels of the standing racks and of a set have the
// width that all loops need at least; with less, loops would have to be split
// well everywhere.
func (x *extension) roomy(set []int) bool {
	return x.key.unplaced > x.r.hopeless || x.room(set) >= x.need || len(x.c.loops) <= 12
}

// room is the width that whole lanes can fill on the standing racks and a set.
func (x *extension) room(set []int) float64 {
	room := 0.0
	for b := range x.c.bases {
		n := 1
		if b >= x.c.standing {
			n = set[b]
		}
		for col := x.c.bases[b].first; col < x.c.bases[b].end; col++ {
			room += float64(n) * x.c.cols[col].reach
		}
	}
	return room
}

// reach looks for sets, dearer ones too, that leave fewer containers over, those
// of most room first, and reports whether one does.
func (x *extension) reach() (fewer bool) {
	x.tries, x.tried = max(x.tries, x.c.spend(6, 2)), nil
	sets := x.sets(boundless, x.key.unplaced-1)
	slices.SortStableFunc(sets, func(a, b rackSet) int { return compareFloats(x.room(b.added), x.room(a.added)) })
	for _, s := range sets {
		if x.tries <= 0 || x.stop() || x.key.unplaced <= x.r.unplaced {
			break
		}
		fewer = x.try(s) || fewer
	}
	return fewer
}

// sets lists sets of racks cheaper than limit that meet every cut with so many
// containers left over, the cheapest first.
func (x *extension) sets(limit, unplaced int64) []rackSet {
	var list []rackSet
	v := cover{r: x.r, left: x.r.needs(unplaced - x.r.hopeless), now: make([]int, len(x.c.bases)), limit: limit, nodes: coverNodes}
	for _, n := range x.best.added {
		v.most += n
	}
	v.most += 2
	v.keep = func(set []int, cost int64) int64 {
		list = append(list, rackSet{slices.Clone(set), cost})
		if len(list) >= mostSets {
			v.nodes = 0
		}
		return v.limit
	}
	v.try(x.c.standing, 0, x.c.frontage)
	slices.SortStableFunc(list, func(a, b rackSet) int { return cmp.Compare(a.cost, b.cost) })
	return list
}

// try fills a set that was not filled before.
func (x *extension) try(set rackSet) bool {
	if slices.ContainsFunc(x.tried, func(o filledSet) bool { return slices.Equal(o.added, set.added) }) {
		return false
	}
	x.tries--
	x.tried = append(x.tried, filledSet{rackSet: rackSet{slices.Clone(set.added), set.cost}, over: boundless})
	return x.fill(&x.tried[len(x.tried)-1])
}

// fill fills the standing racks and a set of added ones and keeps the layout when it
// is better.
func (x *extension) fill(set *filledSet) bool {
	set.times++
	rounds := x.c.squeezes()
	if set.times > 1 {
		rounds *= x.c.patience()
	}
	st := x.c.pack(set.added, x.r.unplaced, rounds, x.rng, x.stop)
	if st.unplaced() > x.r.unplaced && x.key.unplaced > x.r.unplaced {
		st.squeezeCount(x.rng, rounds, x.r.unplaced, x.stop)
	}
	if st.few() && st.unplaced() > x.r.unplaced {
		st.trade(x.stop)
		st.polish(x.rng, 24, x.stop)
	}
	set.over = min(set.over, st.unplaced()-x.r.unplaced)
	return x.take(st)
}

// trim drops an added rack, or replaces it by a cheaper one, as long as that
// is better.
func (x *extension) trim() {
	x.tries = max(x.tries, x.c.spend(8, 4))
	for again := true; again && !x.stop(); {
		again = false
		for b := x.c.standing; b < len(x.c.bases) && !again; b++ {
			if x.best.added[b] == 0 {
				continue
			}
			again = x.replace(b)
		}
	}
}

func (x *extension) replace(b int) bool {
	needs := x.r.needs(x.key.unplaced - x.r.hopeless)
	for by := x.c.standing - 1; by < len(x.c.bases); by++ {
		set := rackSet{slices.Clone(x.best.added), x.key.cost - x.c.bases[b].cost}
		set.added[b]--
		if by >= x.c.standing {
			if x.c.bases[by].cost >= x.c.bases[b].cost || x.c.bases[by].width > x.c.bases[b].width {
				continue
			}
			set.added[by]++
			set.cost += x.c.bases[by].cost
		}
		if x.tries > 0 && x.r.meet(set.added, needs) && x.try(set) {
			return true
		}
	}
	return false
}
