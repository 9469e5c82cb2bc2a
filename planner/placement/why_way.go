package placement

import (
	"math"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/units"
)

// settle finds out what it takes for h to lie on r: nothing, or one loop that lies
// there moved to where the cell's effort is least, or as few of the widest as make
// room. Keeping apart and lane numbers are not looked at here: the proof does.
func (k *books) settle(r *tier, h berth) OtherPlace {
	b := k.b
	k.lift(h.loop)
	p := OtherPlace{At: Spot{Rack: r.rack.Rack, Level: r.level.Level.Level}, Side: h.wish, Lanes: b.of(r, h).lanes(h.n)}
	own := b.effortOn(h, r) - b.effortNow(h.loop)
	mine := MoveLoop{Loop: h.loop, To: p.At, Side: h.wish}
	if h.n < b.loops[h.loop].Containers {
		mine.Containers, own = h.n, b.effortOn(h, r)
	}
	p.Effort = own
	p.WidthLeft, p.MassLeft = k.limits(r, h)
	if k.room(r, h) {
		p.Possible, p.Edits = true, []Edit{mine}
		return p
	}
	away, ok := k.oneAway(r, h)
	if !ok {
		away, ok = k.someAway(r, h)
	}
	for _, m := range away.moves {
		p.InTheWay = append(p.InTheWay, m.Loop)
		p.Edits = append(p.Edits, m)
	}
	slices.SortFunc(p.InTheWay, demand.Key.Compare)
	if p.Possible = ok; ok {
		p.Edits = append(p.Edits, mine)
		p.Effort = own + away.effort
		p.WidthLeft, p.MassLeft = away.books.limits(r, h)
		return p
	}
	p.Edits = nil
	return p
}

// limits is left as people see it: no mass limit is -1.
func (k *books) limits(r *tier, h berth) (units.Length, units.Mass) {
	width, mass := k.left(r, h)
	if mass == math.MaxInt64 {
		mass = -1
	}
	return width, mass
}

// effortOn is the effort of the containers of h on a tier.
func (b *board) effortOn(h berth, r *tier) float64 {
	seen := b.seen(h.loop)
	return newForces(seen, b.walk).at(r.level.Level, distance(seen.station, r.rack)) * float64(h.n) / float64(max(1, b.loops[h.loop].Containers))
}

// effortNow is the effort of a loop where it lies.
func (b *board) effortNow(k demand.Key) float64 { return b.effort(b.still.lanes[k]) }

// away is how loops leave a tier: their moves, what that changes in effort, and
// the books without them there.
type away struct {
	moves  []MoveLoop
	effort float64
	books  *books
}

// oneAway moves the one loop off r whose leaving makes room for h and costs least.
func (k *books) oneAway(r *tier, h berth) (away, bool) {
	best := away{effort: math.Inf(1)}
	for _, o := range r.berths {
		if o.empty() || o.loop == h.loop || len(k.b.pins[o.loop]) > 0 {
			continue
		}
		c := k.clone()
		c.lift(o.loop)
		if !c.room(r, h) {
			continue
		}
		if a, ok := c.rehouse(r, h, []demand.Key{o.loop}); ok && a.effort < best.effort {
			best = a
		}
	}
	return best, best.books != nil
}

// someAway lifts the widest loops off r until there is room for h. It is false, with
// the loops in the way, where not all of them find another place.
func (k *books) someAway(r *tier, h berth) (away, bool) {
	c := k.clone()
	list := slices.DeleteFunc(slices.Clone(r.berths), func(o berth) bool { return o.empty() || o.loop == h.loop || len(k.b.pins[o.loop]) > 0 })
	guide := k.b.in.Plant.GuideWidth
	slices.SortStableFunc(list, func(x, y berth) int {
		return int(k.b.of(r, y).takes(y.n, guide)/units.Millimetre - k.b.of(r, x).takes(x.n, guide)/units.Millimetre)
	})
	var out []demand.Key
	for _, o := range list {
		if c.room(r, h) {
			break
		}
		c.lift(o.loop)
		out = append(out, o.loop)
	}
	if !c.room(r, h) {
		out = nil
	} else if a, ok := c.rehouse(r, h, out); ok {
		return a, true
	}
	a := away{}
	for _, loop := range out {
		a.moves = append(a.moves, MoveLoop{Loop: loop})
	}
	return a, false
}

// rehouse lays h on r and gives each of the lifted loops the place of least effort
// that has room; false where one finds none.
func (k *books) rehouse(r *tier, h berth, lifted []demand.Key) (away, bool) {
	a := away{books: k}
	c := k.clone()
	c.lay(r, h)
	for _, loop := range lifted {
		least := math.Inf(1)
		var to *tier
		var as berth
		for _, t := range k.b.tiers {
			if t == r {
				continue
			}
			for _, side := range k.b.box(loop).Sides() {
				o := berth{loop: loop, n: k.b.loops[loop].Containers - k.b.missing(loop), wish: side}
				y := k.b.of(t, o)
				if e := k.b.effortOn(o, t); e >= least || y.side != side || !c.room(t, o) || len(k.b.misfits(loop, t, y)) > 0 {
					continue
				} else {
					least, to, as = e, t, o
				}
			}
		}
		if to == nil {
			return a, false
		}
		c.lay(to, as)
		move := MoveLoop{Loop: loop, To: Spot{Rack: to.rack.Rack, Level: to.level.Level.Level}, Side: as.wish}
		if as.n < k.b.loops[loop].Containers {
			move.Containers = as.n
		}
		a.moves = append(a.moves, move)
		a.effort += least - k.b.effortNow(loop)
	}
	return a, true
}
