package placement

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/search"
	"lanewright/planner/units"
)

// CodeFrontagePrice tells where the price of frontage changed a cell.
const CodeFrontagePrice = "placement.frontage-price"

// mostWider is how many racks are added one by one to the cheapest set to see
// what they save.
const mostWider = 4

// FillLimits are the shares of a level to which racks that are added or opened
// are filled when frontage is weighed against effort, the highest first.
func FillLimits() []units.Ratio {
	return []units.Ratio{units.Int(1), units.R(95, 100), units.R(90, 100), units.R(85, 100), units.R(80, 100)}
}

// weighing looks for the layout of a cell of least price · metres + effort among
// those that leave the fewest containers over. Which layouts are tried does not
// depend on the price, so a dearer metre never adds one, and a cheaper one never
// costs effort.
type weighing struct {
	c     *cell
	price float64
	steps int
	rng   *rand.Rand
	stop  func() bool
	// tried are the layouts, the one by the strict order of goals first.
	tried []*state
}

// weigh places a cell where a metre of frontage has a price. It tries the
// cheapest racks, those that lower fill limits ask for, the narrowest, and some
// more than the cheapest. Bounds stay those of the strict order.
func weigh(ctx context.Context, in Input, s Settings, g *group, whole overall, seed uint64, names map[string]bool) result {
	stop := func() bool { return ctx.Err() != nil }
	frozen := func(limit units.Ratio) *cell {
		now := in
		now.Plant.FillLimit = limit
		c, _ := freeze(now, s, g, whole)
		return c
	}
	stream := func() *rand.Rand { return search.Stream(seed, "placement/"+string(g.code)) }
	c := frozen(in.Plant.FillLimit)
	st, r := c.search(stream(), s.Steps, false, stop)
	st, bound := c.bound(st, r, stop)
	w := weighing{c: c, price: s.FrontagePrice, steps: s.Steps, rng: search.Stream(seed, "frontage/"+string(g.code)), stop: stop, tried: []*state{st}}
	if len(c.bases) > c.standing || c.opens() {
		for _, limit := range FillLimits() {
			if limit.Cmp(in.Plant.FillLimit) < 0 {
				w.take(frozen(limit), stream())
			}
		}
		if narrow := frozen(in.Plant.FillLimit); narrow.byWidthAlone() {
			w.take(narrow, stream())
		}
		w.widen()
	}
	best := w.best()
	if best == st {
		return c.written(st, bound, names)
	}
	return c.outOfOrder(best, st, r, stop, names)
}

// opens reports whether a standing rack is empty today, so that the fill limit
// holds there.
func (c *cell) opens() bool {
	return slices.ContainsFunc(c.bases[:c.standing], func(b base) bool { return b.limited })
}

// byWidthAlone makes the frontage of racks their cost and reports whether that
// changes anything.
func (c *cell) byWidthAlone() bool {
	changed := false
	for b := c.standing; b < len(c.bases); b++ {
		changed = changed || c.bases[b].cost != c.bases[b].width
		c.bases[b].cost = c.bases[b].width
	}
	return changed && len(c.bases) > c.standing+1
}

// take adds the layout of the cell frozen otherwise, as it is and refined within
// the fill limit that holds.
func (w *weighing) take(other *cell, rng *rand.Rand) {
	if w.stop() {
		return
	}
	st, r := other.search(rng, w.steps, false, w.stop)
	st, _ = other.bound(st, r, w.stop)
	same := w.c.alike(st)
	if same == nil {
		return
	}
	w.keep(same)
}

// alike is a layout of the same cell frozen otherwise, nil where a rule forbids
// it here.
func (c *cell) alike(o *state) *state {
	st := newState(c, o.added)
	for _, anchors := range []bool{true, false} {
		for i := range c.loops {
			for id := o.head[i]; id >= 0; id = o.items[id].next {
				it := o.items[id]
				if it.anchor != anchors {
					continue
				}
				if !st.fits(i, it.n, it.shelf) {
					return nil
				}
				st.putBack(it)
			}
		}
	}
	return st
}

// keep notes a layout and, where its racks are new, another one on them that is
// refined.
func (w *weighing) keep(st *state) *state {
	known := slices.ContainsFunc(w.tried, func(o *state) bool { return slices.Equal(o.added, st.added) })
	w.tried = append(w.tried, st)
	if known {
		return st
	}
	fine := w.c.refine(st.clone(), w.rng, w.steps, w.stop).withoutEmptyRacks()
	w.tried = append(w.tried, fine)
	return fine
}

// widen adds racks to the cheapest ones, each time the one that saves the most
// effort for its width.
func (w *weighing) widen() {
	now := w.tried[0]
	front := w.c.frontage
	for b := w.c.standing; b < len(w.c.bases); b++ {
		front -= times(int64(now.added[b]), w.c.bases[b].width)
	}
	for range mostWider {
		more := w.wider(now, front)
		if more == nil || w.stop() {
			return
		}
		now = w.keep(more)
		front = w.c.frontage - added(now)
	}
}

// wider is a layout with one rack more, nil where none saves effort.
func (w *weighing) wider(now *state, front int64) *state {
	var best *state
	most := 0.0
	for b := w.c.standing; b < len(w.c.bases); b++ {
		width := w.c.bases[b].width
		if width > front || w.stop() {
			continue
		}
		st := now.clone()
		st.open(b)
		st.descend(w.stop)
		if gain := (now.effort() - st.effort()) / float64(max(1, width)); gain > most {
			best, most = st, gain
		}
	}
	if best != nil {
		best = best.withoutEmptyRacks()
	}
	return best
}

// added is the frontage of the added racks.
func added(st *state) int64 {
	sum := int64(0)
	for b := st.c.standing; b < len(st.c.bases); b++ {
		sum += times(int64(st.added[b]), st.c.bases[b].width)
	}
	return sum
}

// best is the layout of least price · metres + effort among those that leave the
// fewest containers over; ties go to fewer metres, then to the one tried first.
func (w *weighing) best() *state {
	best := w.tried[0]
	for _, st := range w.tried[1:] {
		a, b := st.unplaced(), best.unplaced()
		x, y := w.value(st), w.value(best)
		if a < b || a == b && (x < y || x == y && added(st) < added(best)) {
			best = st
		}
	}
	return best
}

// value is a layout's frontage and effort in one number, in kg per net hour.
func (w *weighing) value(st *state) float64 {
	return st.effort() + w.price*units.Length(added(st)).Metres()
}

// outOfOrder is the result for a layout that takes the place of the strict one. A
// proof may not exchange it.
func (c *cell) outOfOrder(st, strict *state, r *relaxed, stop func() bool, names map[string]bool) result {
	if r == nil {
		r = newRelaxed(c)
	}
	c.asLaid = true
	st, bound := c.bound(st, r, stop)
	res := c.written(st, bound, names)
	if added(strict) == 0 {
		needless := func(f finding.Finding) bool { return f.Code == CodeRacksAdded }
		res.findings = slices.DeleteFunc(res.findings, needless)
	}
	res.findings = append(res.findings, c.priceNote(st, strict))
	return res
}

func (c *cell) priceNote(st, strict *state) finding.Finding {
	metres := units.Length(added(st) - added(strict)).Metres()
	saved := strict.effort() - st.effort()
	note := finding.Finding{
		Severity: finding.Note, Code: CodeFrontagePrice, Subject: finding.Subject{Cell: string(c.code)},
		Summary: fmt.Sprintf("Cell %s has %+.2f m of added racks and %+.1f kg/h of effort against the cheapest racks", c.code, metres, -saved),
		Detail:  "The price per metre of frontage took the place of the strict order of goals in this cell: the sum of price and effort is the least of the layouts tried. Its bounds are those of the strict order.",
		Remedy:  "Set frontage_price to 0 for the cheapest racks; the command trade shows what each metre saves.",
	}
	if c.facts != nil {
		note.Origin = c.facts.Origin
	}
	return note
}
