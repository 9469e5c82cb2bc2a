package placement

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/search"
)

// CodeMoveLimit tells how much of the limit on moved containers was used.
const CodeMoveLimit = "placement.move-limit"

// replan places a cell by moving as little as is asked: it begins with today's
// layout, gives lanes to what is new or does not fit its place any more, and
// then takes the change with the most gain per moved container, again and again.
type replan struct {
	*cell
	st *state
	// stay are the containers of each loop that lie where they lie today when
	// the changes begin. Only those count as moved: a loop that is new has none.
	stay []int64
	// forced are the containers that lie somewhere today and can not stay there.
	forced int64
	// gains are the changes made, in their order.
	gains []gain
}

// gain is what a change brings: containers that get a lane and effort, for so
// many containers moved.
type gain struct {
	placed int64
	effort float64
	moved  int64
}

// compare orders changes: those that move nothing first, then by containers
// placed for each one moved, then by effort.
func (g gain) compare(o gain) int {
	if free := cmp.Compare(max(0, g.moved), max(0, o.moved)); free != 0 && (g.moved <= 0 || o.moved <= 0) {
		return free
	}
	per := func(v float64, moved int64) float64 { return v / float64(max(1, moved)) }
	return cmp.Or(
		cmp.Compare(per(float64(o.placed), o.moved), per(float64(g.placed), g.moved)),
		cmp.Compare(per(o.effort, o.moved), per(g.effort, g.moved)),
	)
}

// newReplan lays out today's layout, on the standing racks and a set of added
// ones, and what has to be placed beside it: what loops have more than today goes
// to the same levels where it fits.
func newReplan(c *cell, t spots, added []int) *replan {
	r := &replan{cell: c, st: newState(c, added), stay: make([]int64, len(c.loops))}
	order := r.firm()
	for _, i := range order {
		r.settle(i, t.of[c.key(i)])
		r.stay[i] = r.atHome(i)
	}
	for _, i := range order {
		for _, at := range t.of[c.key(i)] {
			r.enlarge(i, r.st.shelfOf(at.Spot))
		}
	}
	r.st.fill(c.byWidth(), homely(light))
	r.st.divide(r.st.short())
	return r
}

// firm orders the loops, those with pins first.
func (r *replan) firm() []int {
	order := make([]int, len(r.loops))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(r.loops[b].pins), len(r.loops[a].pins)) })
	return order
}

// settle puts so many containers of a loop as lie on each level today where they
// lie, all of them or none of a level.
func (r *replan) settle(i int, spots []todaySpot) {
	for _, at := range spots {
		n := r.st.missing[i]
		if !at.unknown {
			n = min(n, int64(at.containers))
		}
		s := r.st.shelfOf(at.Spot)
		if s >= 0 && n > 0 && r.want(i, r.st.shelves[s].col, n) < boundless && r.st.fits(i, n, s) {
			r.st.put(i, n, s)
		} else {
			r.forced += n
		}
	}
}

// enlarge adds what is missing of a loop to its containers on a shelf.
func (r *replan) enlarge(i, s int) {
	for id := r.st.head[i]; id >= 0 && r.st.missing[i] > 0; id = r.st.items[id].next {
		it := r.st.items[id]
		if it.shelf != s {
			continue
		}
		r.st.take(id)
		if n := r.st.missing[i]; r.st.fits(i, n, s) {
			r.st.put(i, n, s)
		} else {
			r.st.putBack(it)
		}
		return
	}
}

// atHome counts the containers of a loop on levels where it lies today.
func (r *replan) atHome(i int) int64 {
	n := int64(0)
	for id := r.st.head[i]; id >= 0; id = r.st.items[id].next {
		if r.isHome(i, r.st.items[id].shelf) {
			n += r.st.items[id].n
		}
	}
	return n
}

func (r *replan) isHome(i, s int) bool { return r.home[i*len(r.cols)+r.st.shelves[s].col] }

// moved counts the containers that lie elsewhere than today.
func (r *replan) moved() int64 {
	n := int64(0)
	for i := range r.loops {
		n += max(0, r.stay[i]-r.atHome(i))
	}
	return n
}

// improve makes changes until so many containers have moved, or so many changes
// are made, or none is left that gains anything.
func (r *replan) improve(limit int64, most int, stop func() bool) {
	for left := limit; len(r.gains) < most && !stop(); {
		before, key := r.moved(), r.st.key()
		if !r.change(left) {
			return
		}
		now := r.st.key()
		g := gain{placed: key.unplaced - now.unplaced, effort: key.effort - now.effort, moved: r.moved() - before}
		left -= g.moved
		r.gains = append(r.gains, g)
	}
}

// attempt is a change that may be possible.
type attempt struct {
	gain
	// loop is one without a lane that takes the place of item a; else a goes to
	// shelf s, or changes places with item b.
	loop, a, b, s int
}

// change makes the best change that moves no more than so many containers.
func (r *replan) change(left int64) bool {
	list := append(r.shifts(), r.swaps()...)
	list = append(list, r.rescues()...)
	list = slices.DeleteFunc(list, func(t attempt) bool { return t.moved > left || t.placed == 0 && t.effort <= 1e-9 })
	slices.SortStableFunc(list, func(a, b attempt) int { return a.gain.compare(b.gain) })
	return slices.ContainsFunc(list, r.try)
}

// cost is what an item's move to another shelf takes and gains.
func (r *replan) cost(id, s int) gain {
	from := r.st.items[id].shelf
	g := gain{effort: r.st.at(id, from) - r.st.at(id, s)}
	it := &r.st.items[id]
	before := r.atHome(it.loop)
	after := before
	if r.isHome(it.loop, from) {
		after -= it.n
	}
	if r.isHome(it.loop, s) {
		after += it.n
	}
	g.moved = max(0, r.stay[it.loop]-after) - max(0, r.stay[it.loop]-before)
	return g
}

func (g gain) plus(o gain) gain {
	return gain{g.placed + o.placed, g.effort + o.effort, g.moved + o.moved}
}

// items lists the items by loop and shelf.
func (r *replan) items() []int {
	var list []int
	for i := range r.loops {
		for id := r.st.head[i]; id >= 0; id = r.st.items[id].next {
			list = append(list, id)
		}
	}
	return list
}

// room reports whether an item may fit a shelf by its width when another one of
// that width leaves.
func (r *replan) room(id, s int, leaves int64) bool {
	it, sh := &r.st.items[id], &r.st.shelves[s]
	return sh.used-leaves+r.want(it.loop, sh.col, it.n) <= r.cols[sh.col].width
}

func (r *replan) shifts() []attempt {
	var list []attempt
	for _, id := range r.items() {
		for s := range r.st.shelves {
			if s != r.st.items[id].shelf && r.room(id, s, 0) {
				list = append(list, attempt{gain: r.cost(id, s), loop: -1, a: id, b: -1, s: s})
			}
		}
	}
	return list
}

func (r *replan) swaps() []attempt {
	var list []attempt
	items := r.items()
	for at, a := range items {
		for _, b := range items[at+1:] {
			s, t := r.st.items[a].shelf, r.st.items[b].shelf
			if s != t && r.room(a, t, r.st.items[b].need) && r.room(b, s, r.st.items[a].need) {
				list = append(list, attempt{gain: r.cost(a, t).plus(r.cost(b, s)), loop: -1, a: a, b: b, s: t})
			}
		}
	}
	return list
}

// rescues give a loop without a lane the place of an item that goes elsewhere.
func (r *replan) rescues() []attempt {
	var list []attempt
	items := r.items()
	for i, n := range r.st.missing {
		if n == 0 || r.least[i] >= boundless {
			continue
		}
		for _, a := range items {
			from := r.st.items[a].shelf
			sh := &r.st.shelves[from]
			if r.st.items[a].loop == i || r.want(i, sh.col, n)+sh.used-r.st.items[a].need > r.cols[sh.col].width {
				continue
			}
			for s := range r.st.shelves {
				if s != from && r.room(a, s, 0) {
					list = append(list, attempt{gain: gain{placed: n}.plus(r.cost(a, s)), loop: i, a: a, b: -1, s: s})
				}
			}
		}
	}
	return list
}

// try makes a change if every rule allows it.
func (r *replan) try(t attempt) bool {
	switch {
	case t.loop < 0 && t.b < 0:
		return r.st.shift(t.a, t.s)
	case t.loop < 0:
		return r.st.swap(t.a, t.b)
	}
	before := r.st.clone()
	from := r.st.items[t.a].shelf
	if r.st.shift(t.a, t.s) {
		if n := r.st.missing[t.loop]; r.st.fits(t.loop, n, from) {
			r.st.put(t.loop, n, from)
		} else {
			r.enlarge(t.loop, from)
		}
	}
	if r.st.missing[t.loop] == 0 {
		return true
	}
	r.st = before
	return false
}

// extendKept adds racks for what still has no lane, one by one: the one that
// takes most of it, of those the cheapest. Nothing else moves.
func (r *replan) extendKept(stop func() bool) {
	for r.st.unplaced() > r.hopeless() && !stop() {
		var best *state
		for b := r.standing; b < len(r.bases); b++ {
			if r.bases[b].width > r.st.frontageLeft() || len(r.st.racks)-r.standing >= mostAdded {
				continue
			}
			more := r.st.clone()
			more.open(b)
			more.fill(r.byWidth(), snug)
			more.divide(more.short())
			if best == nil || more.key().compare(best.key()) < 0 {
				best = more
			}
		}
		if best == nil || best.unplaced() >= r.st.unplaced() {
			return
		}
		r.st = best
	}
}

// onFreeRacks tries the racks that the cell would get if everything might move:
// they are chosen together, so they cost less than racks added one by one. Where
// what is laid out on them with so many moves is better, it takes the place of r.
func (r *replan) onFreeRacks(limit int64, rng *rand.Rand, stop func() bool) {
	if slices.Max(append(slices.Clone(r.st.added), 0)) == 0 {
		return
	}
	free, _ := r.roomFor(rng, stop)
	o := newReplan(r.cell, r.today, free.added)
	o.improve(limit, mostChanges, stop)
	o.extendKept(stop)
	if o.st.key().compare(r.st.key()) < 0 {
		*r = *o
	}
}

// allot shares a limit among cells: again and again the cell whose next change
// gains most for each container gets its containers. It returns how many changes
// and containers each cell may make and move.
func allot(cells [][]gain, limit int64) (changes []int, moved []int64) {
	changes, moved = make([]int, len(cells)), make([]int64, len(cells))
	for {
		best := -1
		for i, gains := range cells {
			if changes[i] < len(gains) && gains[changes[i]].moved <= limit && (best < 0 || gains[changes[i]].compare(cells[best][changes[best]]) < 0) {
				best = i
			}
		}
		if best < 0 {
			return changes, moved
		}
		g := cells[best][changes[best]]
		changes[best]++
		moved[best] += g.moved
		limit -= g.moved
	}
}

// placeLimited places every cell with no more than MoveLimit containers moved in
// all, except those that have no place where they lie today.
func placeLimited(ctx context.Context, in Input, s Settings, groups []group, whole overall, seed uint64, threads int) ([]result, finding.Finding) {
	stop := func() bool { return ctx.Err() != nil }
	plans, noticed := make([]*replan, len(groups)), make([]finding.List, len(groups))
	each(len(groups), threads, func(i int) {
		var c *cell
		c, noticed[i] = freeze(in, s, &groups[i], whole)
		plans[i] = newReplan(c, whole.spots, nil)
		plans[i].improve(int64(s.MoveLimit), mostChanges, stop)
	})
	gains := make([][]gain, len(plans))
	for i, p := range plans {
		gains[i] = p.gains
	}
	changes, moved := allot(gains, int64(s.MoveLimit))
	names := taken(in.Racks)
	results := make([]result, len(plans))
	each(len(plans), threads, func(i int) {
		c := plans[i].cell
		if changes[i] < len(gains[i]) {
			plans[i] = newReplan(c, whole.spots, nil)
			plans[i].improve(moved[i], changes[i], stop)
		}
		plans[i].extendKept(stop)
		plans[i].onFreeRacks(moved[i], search.Stream(seed, "placement/"+string(c.code)), stop)
		c.asLaid = true
		results[i] = c.report(plans[i].st.withoutEmptyRacks(), newRelaxed(c), stop, names)
		results[i].findings = append(results[i].findings, noticed[i]...)
	})
	return results, limitNote(plans, s.MoveLimit)
}

// mostChanges bounds the changes of one cell.
const mostChanges = 5000

// limitNote says how much of the limit was used, and what had to move besides.
func limitNote(plans []*replan, limit int) finding.Finding {
	used, forced := int64(0), int64(0)
	for _, p := range plans {
		used, forced = used+p.moved(), forced+p.forced
	}
	f := finding.Finding{
		Severity: finding.Note, Code: CodeMoveLimit,
		Measure: &finding.Measure{Value: float64(used), Limit: float64(limit), Unit: "containers"},
		Summary: fmt.Sprintf("The plan moves %s of the %d that may move", count(used, "container"), limit),
		Detail:  "It begins with today's layout and takes the changes that gain most for each container moved.",
		Remedy:  "Raise move_limit to gain more, or lower it to move less.",
	}
	if forced > 0 {
		f.Summary += fmt.Sprintf("; %d more could not stay where they lie", forced)
		f.Detail += " What does not fit its place of today any more has to move and does not count."
	}
	return f
}
