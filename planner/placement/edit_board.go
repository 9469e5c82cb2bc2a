package placement

import (
	"cmp"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// board is the layout of a few cells, level by level, as edits change it. It
// holds what is wanted; lanes, with what may be wrong with them, are drawn from
// it. So a change and its opposite leave nothing behind.
type board struct {
	in    Input
	walk  float64
	cells map[plant.CellCode]bool
	// loops are those of the cells, resized ones replaced; order is theirs by cell,
	// station and part.
	loops   map[demand.Key]*sizing.Loop
	order   []demand.Key
	resized map[demand.Key]bool
	racks   []structure.Rack
	// tiers are the supply levels by rack and level, ends the lanes of return levels.
	tiers []*tier
	ends  []Lane
	pins  map[demand.Key][]plant.Pin
	// wish is the flow side of loops that lost their last lane, had the containers
	// of those that lost it by a swap.
	wish     map[demand.Key]plant.FlowSide
	had      map[demand.Key]int
	unplaced map[demand.Key]Unplaced
	// refused are edits that could not be done.
	refused finding.List
	// today is true where anything of the plant, in whatever cell, lies anywhere today.
	today bool
	// more are the levels of racks that may be added to a cell, once asked for.
	more map[plant.CellCode][]*tier
	// by finds tiers; still is what was drawn, nil while edits are made.
	by    map[Spot]*tier
	still *still
}

// tier is the lanes of one supply level.
type tier struct {
	rack  *structure.Rack
	level structure.Level
	// usable is the width that may be filled, the fill limit applied.
	usable units.Length
	// was are its lanes in the layout, first the berths that say the same.
	was    []Lane
	first  []berth
	berths []berth
	// shut are the closed lanes of a level whose guides can not be moved.
	shut []int
}

// fixed reports whether the guides of the level can not be moved.
func (r *tier) fixed() bool { return len(r.level.Fixed) > 0 }

// berth is a stretch of a row: the neighbouring lanes of one loop, or one empty
// lane of a level whose guides are free.
type berth struct {
	loop demand.Key
	n    int
	// wish is the flow side that is wanted; empty is the one of least width.
	wish plant.FlowSide
	// at is the first lane that is wanted, from 1, on a level with fixed lanes.
	at int
	// width is that of an empty lane.
	width units.Length
	// closed numbers, from 0, those of its lanes that are closed.
	closed []int
	// moved is true where an edit put the loop here.
	moved bool
}

func (b berth) empty() bool { return b.loop == demand.Key{} }

// newBoard reads the layout of some cells.
func newBoard(in Input, s Settings, l Layout, cells map[plant.CellCode]bool) *board {
	b := &board{
		in: onlyCells(in, cells), walk: s.WalkCost, cells: cells,
		loops: map[demand.Key]*sizing.Loop{}, resized: map[demand.Key]bool{},
		pins: map[demand.Key][]plant.Pin{}, wish: map[demand.Key]plant.FlowSide{}, had: map[demand.Key]int{}, unplaced: map[demand.Key]Unplaced{},
		more: map[plant.CellCode][]*tier{}, today: slices.ContainsFunc(in.Index.Plant.Current, func(c plant.CurrentLane) bool { return counts(in.Index, c) }),
	}
	for i := range b.in.Loops {
		k := b.in.Loops[i].Key
		b.loops[k], b.order = &b.in.Loops[i], append(b.order, k)
	}
	slices.SortFunc(b.order, demand.Key.Compare)
	for _, p := range heeded(b.in) {
		for _, k := range meantBy(b.in, p, b.in.Index.Racks[p.Rack]) {
			b.pins[k] = append(b.pins[k], p)
		}
	}
	for _, u := range l.Unplaced {
		if cells[u.Loop.Cell] {
			b.unplaced[u.Loop] = u
		}
	}
	b.addTiers(l)
	return b
}

// onlyCells is the input of some cells: their loops and racks, and what stands there
// today or is pinned there.
func onlyCells(in Input, cells map[plant.CellCode]bool) Input {
	p, x := *in.Index.Plant, *in.Index
	here := func(code plant.RackCode) bool { r := x.Racks[code]; return r != nil && cells[r.Cell] }
	p.Pins, p.Current = nil, nil
	for _, pin := range in.Index.Plant.Pins {
		if here(pin.Rack) {
			p.Pins = append(p.Pins, pin)
		}
	}
	for _, c := range in.Index.Plant.Current {
		if here(c.Rack) {
			p.Current = append(p.Current, c)
		}
	}
	x.Plant = &p
	out := Input{Index: &x, Plant: in.Plant}
	for i := range in.Loops {
		if cells[in.Loops[i].Cell] {
			out.Loops = append(out.Loops, in.Loops[i])
		}
	}
	for i := range in.Racks {
		if cells[in.Racks[i].Cell] {
			out.Racks = append(out.Racks, in.Racks[i])
		}
	}
	return out
}

// addTiers makes a tier of each supply level of the cells' racks.
func (b *board) addTiers(l Layout) {
	opened := b.filled()
	b.by = map[Spot]*tier{}
	for i := range l.Racks {
		if b.cells[l.Racks[i].Cell] {
			b.racks = append(b.racks, l.Racks[i])
		}
	}
	for i := range b.racks {
		r := &b.racks[i]
		for _, level := range r.Levels {
			if level.Kind != plant.Supply {
				continue
			}
			w := b.newTier(r, level, r.Proposed || b.today && !opened[r.Rack])
			b.by[Spot{Rack: r.Rack, Level: level.Level.Level}] = w
			b.tiers = append(b.tiers, w)
		}
	}
	slices.SortFunc(b.tiers, func(a, b *tier) int {
		return cmp.Or(cmp.Compare(a.rack.Rack, b.rack.Rack), cmp.Compare(a.level.Level.Level, b.level.Level.Level))
	})
	mine := map[plant.RackCode]bool{}
	for i := range b.racks {
		mine[b.racks[i].Rack] = true
	}
	for _, lane := range l.Lanes {
		switch w := b.tier(Spot{Rack: lane.Rack, Level: lane.Level}); {
		case w != nil:
			w.was = append(w.was, lane)
		case mine[lane.Rack]:
			b.ends = append(b.ends, lane)
		}
	}
	for _, w := range b.tiers {
		w.read()
		w.berths = slices.Clone(w.first)
	}
}

// newTier is an empty supply level; the fill limit counts on limited ones.
func (b *board) newTier(r *structure.Rack, level structure.Level, limited bool) *tier {
	w := &tier{rack: r, level: level, usable: level.UsableWidth}
	if limited {
		w.usable = units.Length(level.UsableWidth.Ratio().Mul(b.in.Plant.FillLimit).Floor())
	}
	return w
}

// filled lists the racks on which something lies today; others are opened by a
// plan, and the fill limit counts there.
func (b *board) filled() map[plant.RackCode]bool { return overall{spots: today(b.in)}.filled() }

// read makes berths of the lanes.
func (r *tier) read() {
	for i, lane := range r.was {
		last := len(r.first) - 1
		switch {
		case lane.Empty() && r.fixed():
		case lane.Empty():
			r.first = append(r.first, berth{width: lane.Width})
		case last >= 0 && i > 0 && r.was[i-1].Loop == lane.Loop:
			r.first[last].n += lane.Containers
		default:
			r.first = append(r.first, berth{loop: lane.Loop, n: lane.Containers, wish: lane.Side, at: lane.Lane})
		}
	}
}

// tier finds a supply level; nil where there is none of that name.
func (b *board) tier(s Spot) *tier { return b.by[Spot{Rack: s.Rack, Level: s.Level}] }

// lain is how a loop lies on a level.
type lain struct {
	side         plant.FlowSide
	along, width units.Length
	capacity     int
}

// lanes is how many lanes n containers need.
func (y lain) lanes(n int) int { return (n + y.capacity - 1) / y.capacity }

// takes is the width of n containers, with a guide beside each lane.
func (y lain) takes(n int, guide units.Length) units.Length {
	return units.Length(y.lanes(n)) * (y.width + guide)
}

// lie lays n containers of a loop on a level with the wished side along where its
// lanes are long enough, else the other. A container too long for the level still
// lies there, one to a lane: the rules say so.
func (b *board) lie(k demand.Key, n int, r *tier, wish plant.FlowSide) lain {
	box := b.box(k)
	on := func(side plant.FlowSide) lain {
		along, across := box.Along(side)
		y := lain{side: side, along: along, width: across + 2*b.in.Plant.SideClearance, capacity: 1}
		if along > 0 {
			y.capacity = max(1, int(r.level.LaneLength/along))
		}
		return y
	}
	if wish != "" {
		if y := on(wish); y.along <= r.level.LaneLength {
			return y
		}
	}
	var best lain
	for _, side := range box.Sides() {
		y := on(side)
		long, was := y.along > r.level.LaneLength, best.along > r.level.LaneLength
		if best.capacity == 0 || was && !long || was == long && y.takes(n, b.in.Plant.GuideWidth) < best.takes(n, b.in.Plant.GuideWidth) {
			best = y
		}
	}
	if wish != "" && best.along > r.level.LaneLength {
		return on(wish)
	}
	return best
}

// of is how a berth's loop lies there.
func (b *board) of(r *tier, h berth) lain { return b.lie(h.loop, h.n, r, h.wish) }

// count is the lanes of a berth.
func (b *board) count(r *tier, h berth) int {
	if h.empty() {
		return 1
	}
	return b.of(r, h).lanes(h.n)
}

func (b *board) box(k demand.Key) plant.Container {
	if c := b.in.Index.Containers[b.loops[k].Container]; c != nil {
		return *c
	}
	return plant.Container{}
}

// seen is a loop with its facts, as forces read them.
func (b *board) seen(k demand.Key) *loop {
	l := &loop{Loop: b.loops[k], box: b.box(k), station: b.in.Index.Stations[plant.StationKey{Cell: k.Cell, Station: k.Station}]}
	if p := b.in.Index.Parts[k.Part]; p != nil {
		l.part = *p
	}
	return l
}

// berthAt is a tier and the number of a berth on it.
type berthAt struct {
	tier *tier
	at   int
}

// places lists where a loop lies, by rack and level.
func (b *board) places(k demand.Key) []berthAt {
	if b.still != nil {
		return b.still.places[k]
	}
	var list []berthAt
	for _, r := range b.tiers {
		if at := r.find(k); at >= 0 {
			list = append(list, berthAt{r, at})
		}
	}
	return list
}

// missing is the containers of a loop that have no lane.
func (b *board) missing(k demand.Key) int {
	n := b.loops[k].Containers
	for _, p := range b.places(k) {
		n -= p.berth().n
	}
	return n
}
