package placement

import (
	"cmp"
	"maps"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// stepFloor is what lies where while a move list is worked down.
type stepFloor struct {
	index *plant.Index
	set   plant.Settings
	// held are the containers in each lane, by loop.
	held  map[Spot]map[demand.Key]int
	racks map[plant.RackCode]*structure.Rack
	loops map[demand.Key]*sizing.Loop
	// spare are the supply lanes that the plan leaves empty.
	spare []Lane
}

func newStepFloor(in Input, stocks []laneStock, l Layout) *stepFloor {
	f := &stepFloor{index: in.Index, set: in.Plant, held: map[Spot]map[demand.Key]int{}, racks: map[plant.RackCode]*structure.Rack{}, loops: byKey(in.Loops)}
	for i := range l.Racks {
		f.racks[l.Racks[i].Rack] = &l.Racks[i]
	}
	for _, t := range stocks {
		f.add(&t.at, t.loop, t.n)
	}
	for _, lane := range l.Lanes {
		if lane.Kind == plant.Supply && lane.Empty() {
			f.spare = append(f.spare, lane)
		}
	}
	return f
}

// add puts containers into a lane, or takes them out; the market and the floor
// hold any number.
func (f *stepFloor) add(at *Spot, k demand.Key, n int) {
	if at == nil {
		return
	}
	if f.held[*at] == nil {
		f.held[*at] = map[demand.Key]int{}
	}
	if f.held[*at][k] += n; f.held[*at][k] == 0 {
		delete(f.held[*at], k)
	}
}

// foreign counts the containers of other loops in a lane.
func (f *stepFloor) foreign(at Spot, k demand.Key) int {
	n := 0
	for other, held := range f.held[at] {
		if other != k {
			n += held
		}
	}
	return n
}

// mover works down the errands of one cell.
type mover struct {
	*stepFloor
	s       Moving
	cell    plant.CellCode
	errands []errand
	steps   []Step
}

// work does all errands: what goes to the market, what moves, what comes.
func (m *mover) work() {
	m.each(func(e errand) bool { return e.to == nil })
	for {
		m.chains()
		ring := m.ring()
		if len(ring) == 0 {
			break
		}
		m.clear(ring)
	}
	m.each(func(errand) bool { return true })
}

// each does the errands that are meant, in their order.
func (m *mover) each(meant func(errand) bool) {
	var rest []errand
	for _, e := range m.errands {
		if meant(e) {
			m.do(e)
		} else {
			rest = append(rest, e)
		}
	}
	m.errands = rest
}

// do writes the step of an errand and notes where its containers lie now.
func (m *mover) do(e errand) {
	kind := StepMove
	switch {
	case e.aside:
		kind = StepBack
	case e.to == nil:
		kind = StepOut
	case e.from == nil:
		kind = StepBring
	}
	m.step(kind, e)
}

func (m *mover) step(kind StepKind, e errand) {
	m.add(e.from, e.loop, -e.n)
	m.add(e.to, e.loop, e.n)
	m.steps = append(m.steps, Step{
		Cell: m.cell, Step: len(m.steps) + 1, Kind: kind, Part: e.loop.Part, Station: e.loop.Station,
		Containers: e.n, From: e.from, To: e.to, Time: m.time(e),
	})
}

// moves reports whether an errand goes from one lane to another.
func (e errand) moves() bool { return e.from != nil && e.to != nil }

// chains does every move whose lane is free, and after each the one that waited
// for the lane it left.
func (m *mover) chains() {
	var freed *Spot
	for {
		at := -1
		for i, e := range m.errands {
			if !e.moves() || m.foreign(*e.to, e.loop) > 0 {
				continue
			}
			if follows := freed != nil && *e.to == *freed; follows || at < 0 {
				if at = i; follows {
					break
				}
			}
		}
		if at < 0 {
			return
		}
		e := m.errands[at]
		m.errands = slices.Delete(m.errands, at, at+1)
		m.do(e)
		freed = e.from
	}
}

// ring returns the lanes of a ring of moves that wait for each other; nil where
// no move is left. Every move that is left waits for a lane in which another
// loop lies, and that loop's move is left too: so whoever goes from one to the
// next comes round.
func (m *mover) ring() []Spot {
	at := slices.IndexFunc(m.errands, errand.moves)
	if at < 0 {
		return nil
	}
	var seen []Spot
	for {
		e := m.errands[at]
		if i := slices.Index(seen, *e.to); i >= 0 {
			return seen[i:]
		}
		seen = append(seen, *e.to)
		at = slices.IndexFunc(m.errands, func(o errand) bool { return o.moves() && *o.from == *e.to && o.loop != e.loop })
	}
}

// clear puts what lies in one lane of a ring aside, the lane with the fewest
// containers.
func (m *mover) clear(ring []Spot) {
	total := func(at Spot) int {
		n := 0
		for _, held := range m.held[at] {
			n += held
		}
		return n
	}
	lane := slices.MinFunc(ring, func(a, b Spot) int { return cmp.Or(cmp.Compare(total(a), total(b)), compareSpots(a, b)) })
	for _, k := range slices.SortedFunc(maps.Keys(m.held[lane]), demand.Key.Compare) {
		n := m.leaving(lane, k)
		if n == 0 {
			continue
		}
		m.add(&lane, k, -n) // they are no load any more where they lay
		to := m.refuge(lane, k, n)
		m.add(&lane, k, n)
		m.step(StepAside, errand{loop: k, n: n, from: &lane, to: to})
		for i := range m.errands {
			if e := &m.errands[i]; e.loop == k && e.from != nil && *e.from == lane {
				e.from, e.aside = to, true
			}
		}
	}
}

// leaving counts the containers of a loop that have to leave a lane.
func (m *mover) leaving(lane Spot, k demand.Key) int {
	n := 0
	for _, e := range m.errands {
		if e.loop == k && e.from != nil && *e.from == lane {
			n += e.n
		}
	}
	return n
}

// refuge is the nearest free lane of the cell that holds n containers of a
// loop, else the floor beside the rack.
func (m *mover) refuge(from Spot, k demand.Key, n int) *Spot {
	best, nearest := &Spot{Rack: from.Rack}, 0.0
	for _, lane := range m.spare {
		at := Spot{lane.Rack, lane.Level, lane.Lane}
		if m.racks[lane.Rack].Cell != m.cell || len(m.held[at]) > 0 || !m.holds(lane, k, n) {
			continue
		}
		far := m.distance(&from, &at)
		if best.Level == 0 || far < nearest {
			best, nearest = &at, far
		}
	}
	return best
}

// holds reports whether n containers of a loop fit an empty lane, by length,
// height, width and mass.
func (f *stepFloor) holds(lane Lane, k demand.Key, n int) bool {
	loop, level := f.loops[k], f.level(lane)
	if loop == nil || level == nil || f.index.Containers[loop.Container] == nil {
		return false
	}
	box := *f.index.Containers[loop.Container]
	for _, side := range box.Sides() {
		lying, ok := sizing.LaneOn(box, n, level.Level, f.set, side)
		if ok && lying.Lanes == 1 && lying.Width <= lane.Width {
			return f.carries(lane, level, units.Mass(n)*loop.Gross)
		}
	}
	return false
}

// level finds a lane's level.
func (f *stepFloor) level(lane Lane) *structure.Level {
	levels := f.racks[lane.Rack].Levels
	if i := slices.IndexFunc(levels, func(l structure.Level) bool { return l.Level.Level == lane.Level }); i >= 0 {
		return &levels[i]
	}
	return nil
}

// carries reports whether a level and its rack carry so much more than lies
// there now.
func (f *stepFloor) carries(lane Lane, level *structure.Level, more units.Mass) bool {
	onLevel, onRack := more, more+f.racks[lane.Rack].Type.OwnMass
	for at, held := range f.held {
		if at.Rack != lane.Rack || at.Level == 0 {
			continue
		}
		for k, n := range held {
			mass := units.Mass(0)
			if loop := f.loops[k]; loop != nil {
				mass = units.Mass(n) * loop.Gross
			}
			onRack += mass
			if at.Level == lane.Level {
				onLevel += mass
			}
		}
	}
	limit := f.racks[lane.Rack].Type.MassLimit
	return (level.MassLimit <= 0 || onLevel <= level.MassLimit) && (limit <= 0 || onRack <= limit)
}
