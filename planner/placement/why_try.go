package placement

import (
	"cmp"
	"slices"
)

// joined is two changes at once; the facts and layout are those of the second.
func joined(x, y candidate) candidate {
	c := candidate{change: y.change, on: y.on, edits: slices.Concat(x.edits, y.edits), light: true}
	c.change.Kind, c.change.And = x.change.Kind, y.change.Kind
	if x.change.Kind == ByContainer {
		c.change.Container, c.change.Pack = x.change.Container, x.change.Pack
	}
	return c
}

// try makes the candidate's edits and then lays what has no lane: where there is
// room, else shared out over several levels, else where other loops leave room. The
// result must break no rule but, where not all find a lane, that all have one; false
// where none does that had none.
func (c candidate) try() (Change, bool) {
	b := c.on.board(c.edits)
	if len(b.refused) > 0 {
		return c.change, false
	}
	best, found := Change{}, false
	for _, more := range c.on.ways(b, c.light) {
		done, ok := c.made(b, more)
		if ok && (!found || done.Left < best.Left) {
			best, found = done, true
		}
		if ok && done.Left == 0 {
			break
		}
	}
	return best, found
}

// made applies the candidate's edits and those that lay the loop.
func (c candidate) made(b *board, more []Edit) (Change, bool) {
	done, loop := c.change, c.on.loop
	if done.Edits = slices.Concat(c.edits, more); len(done.Edits) == 0 {
		return done, false
	}
	e := Apply(c.on.in, c.on.settings, c.on.layout, done.Edits)
	for _, f := range e.Broken {
		if f.Code != CodeEditUnplaced || f.Subject.Part != string(loop.Part) || f.Subject.Station != string(loop.Station) {
			return done, false
		}
	}
	for _, u := range e.Unplaced {
		if u.Loop == loop {
			done.Left = u.Containers
		}
	}
	c.on.told(&done, e)
	return done, done.Left*c.on.whole < b.loops[loop].Containers*c.on.missing
}

// mostWays bounds the ways that are tried for one change.
const mostWays = 8

// ways lists edits that lay the loop's missing containers, the best first.
func (a asker) ways(b *board, light bool) [][]Edit {
	n := b.missing(a.loop)
	if n <= 0 {
		return [][]Edit{nil}
	}
	places := a.roomFor(b, n, light)
	slices.SortStableFunc(places, func(x, y OtherPlace) int {
		return cmp.Or(cmp.Compare(len(x.InTheWay), len(y.InTheWay)), cmp.Compare(x.Effort, y.Effort))
	})
	free := slices.IndexFunc(places, func(p OtherPlace) bool { return len(p.InTheWay) > 0 })
	if free < 0 {
		free = len(places)
	}
	var list [][]Edit
	for i, p := range places[:min(len(places), mostWays)] {
		if i == free {
			list = append(list, a.spread(b, n))
		}
		list = append(list, p.Edits)
	}
	if free >= len(list) {
		list = append(list, a.spread(b, n))
	}
	return list
}

// roomFor lists the levels that hold all n missing containers, beside those of the
// loop that lie there, when the loops in the way leave.
func (a asker) roomFor(b *board, n int, light bool) []OtherPlace {
	var places []OtherPlace
	for _, r := range b.tiers {
		for _, side := range b.box(a.loop).Sides() {
			h := berth{loop: a.loop, n: n, wish: side}
			if here := r.find(a.loop); here >= 0 {
				h.n, h.wish = n+r.berths[here].n, r.berths[here].wish
			}
			if !b.suits(r, h) || light && !newBooks(b).room(r, h) {
				continue
			}
			p := newBooks(b).settle(r, h)
			if len(b.places(a.loop)) > 0 && p.Possible {
				// The lanes it has elsewhere stay: only what is missing moves.
				p.Edits[len(p.Edits)-1] = MoveLoop{Loop: a.loop, To: p.At, Side: h.wish, Containers: n}
			}
			if p.Possible {
				places = append(places, p)
			}
		}
	}
	return places
}

// spread shares n containers out over levels with room, those of least effort
// first, as far as they find a lane.
func (a asker) spread(b *board, n int) []Edit {
	k := newBooks(b)
	tiers := slices.Clone(b.tiers)
	one := func(r *tier) float64 { return b.effortOn(berth{loop: a.loop, n: 1}, r) }
	slices.SortStableFunc(tiers, func(x, y *tier) int { return cmp.Compare(one(x), one(y)) })
	var edits []Edit
	for _, r := range tiers {
		h, ok := a.most(k, r, n)
		if !ok {
			continue
		}
		k.lay(r, h)
		n -= h.n
		edits = append(edits, MoveLoop{Loop: a.loop, To: Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}, Containers: h.n, Side: h.wish})
		if n == 0 {
			break
		}
	}
	return edits
}

// most is as many of n containers as a tier has room for, where none of the loop
// lies there yet.
func (a asker) most(k *books, r *tier, n int) (berth, bool) {
	best := berth{}
	if r.find(a.loop) >= 0 {
		return best, false
	}
	for _, side := range k.b.box(a.loop).Sides() {
		h := berth{loop: a.loop, n: 1, wish: side}
		y := k.b.of(r, h)
		if y.side != side || len(k.b.misfits(a.loop, r, y)) > 0 {
			continue
		}
		most := min(n, y.capacity*(1+int(r.level.UsableWidth/(y.width+1))))
		for h.n = most; h.n > best.n; h.n-- {
			if k.room(r, h) {
				best = h
			}
		}
	}
	return best, best.n > 0
}

// told fills in what came of a change.
func (a asker) told(c *Change, e Edited) {
	for _, x := range e.Cells {
		c.Effort += x.After.Effort - x.Before.Effort
	}
	for _, x := range e.Changes {
		if x.Loop == a.loop {
			c.Containers = x.Containers[1]
			for _, lane := range x.After {
				at := Spot{lane.Rack, lane.Level, lane.Lane}
				if last := len(c.At) - 1; last < 0 || c.At[last].Rack != at.Rack || c.At[last].Level != at.Level {
					c.At = append(c.At, at)
				}
			}
		} else if x.Moved > 0 {
			c.Moved = append(c.Moved, x.Loop)
			c.MovedContainers += x.Moved
		}
	}
}
