package placement

import (
	"cmp"
	"maps"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
)

// Edited is what edits make of a layout.
type Edited struct {
	// Racks are those on which a lane changed, by code; Lanes all the lanes of
	// these, by rack, level and lane. A level may be over-full: lanes then reach
	// beyond its width.
	Racks []plant.RackCode
	Lanes []Lane
	// Unplaced are all loops of the touched cells that lack a lane.
	Unplaced []Unplaced
	// Balance are the touched cells' lanes by width class, by cell and width.
	Balance []Balance
	// Loops are those that another container or interval gave another size.
	Loops []sizing.Loop
	// Pins are those of the touched cells' loops that count now; Closed the lanes
	// that no loop may use.
	Pins   []plant.Pin
	Closed []Spot
	// Changes are of each loop whose lanes or size changed, by cell, station and
	// part; Cells of each touched cell, by code.
	Changes []LoopChange
	Cells   []CellChange
	// Broken are the rules of the touched cells that the layout breaks now, and the
	// edits that could not be done.
	Broken finding.List
}

// LoopChange is what changes for one loop.
type LoopChange struct {
	Loop demand.Key
	// Before and After are its lanes, by rack, level and lane.
	Before, After []Lane
	// Containers and Needed are the loop's containers and the lanes they need,
	// before and after; Moved those that lie on another rack or level than before.
	Containers, Needed [2]int
	Moved              int
	// Effort is kg per net hour, before and after.
	Effort [2]float64
}

// Slid reports whether only the number or the offset of the loop's lanes changed.
func (c LoopChange) Slid() bool {
	return c.Moved == 0 && len(c.Before) == len(c.After) && slices.EqualFunc(c.Before, c.After, func(a, b Lane) bool {
		return a.Rack == b.Rack && a.Level == b.Level && a.Width == b.Width && a.Containers == b.Containers && a.Side == b.Side
	})
}

// CellChange is what changes for a cell.
type CellChange struct {
	Cell          plant.CellCode
	Before, After Tally
}

// Tally counts and sums a cell.
type Tally struct {
	// Effort is kg per net hour by section 5 of the planning rules.
	Effort float64
	// AddedCost is that of the added racks on which something lies, their frontage
	// in millimetres where the plant gives no costs.
	AddedCost float64
	// Unplaced counts containers, Needed the lanes that the loops need, Used those
	// they have, Splits the loops on several levels.
	Unplaced, Needed, Used, Splits int
	// Moved counts the containers that lie elsewhere than today.
	Moved int
}

// On returns the layout l as edited: lanes and what has none. The bounds, balance
// and findings of l are not those of the edited layout and are left out.
func (e Edited) On(l Layout) Layout {
	out := Layout{Racks: l.Racks, Lanes: make([]Lane, 0, len(l.Lanes)+len(e.Lanes)), Unplaced: slices.Clone(e.Unplaced)}
	out.Lanes = append(out.Lanes, e.Lanes...)
	for _, lane := range l.Lanes {
		if _, touched := slices.BinarySearch(e.Racks, lane.Rack); !touched {
			out.Lanes = append(out.Lanes, lane)
		}
	}
	slices.SortFunc(out.Lanes, compareLanes)
	for _, u := range l.Unplaced {
		if !slices.ContainsFunc(e.Cells, func(c CellChange) bool { return c.Cell == u.Loop.Cell }) {
			out.Unplaced = append(out.Unplaced, u)
		}
	}
	slices.SortFunc(out.Unplaced, func(a, b Unplaced) int { return a.Loop.Compare(b.Loop) })
	return out
}

// compareLanes orders lanes by rack, level and lane.
func compareLanes(a, b Lane) int {
	return cmp.Or(cmp.Compare(a.Rack, b.Rack), cmp.Compare(a.Level, b.Level), cmp.Compare(a.Lane, b.Lane))
}

// loopLanes are a loop's lanes as drawn and its size at that time.
type loopLanes struct {
	size  *sizing.Loop
	lanes []Lane
}

// edited reports what became of a board that had those tallies and looked like
// first.
func (b *board) edited(before map[plant.CellCode]Tally, first *still) Edited {
	e := Edited{}
	now, after := b.still.lanes, b.tallies()
	for _, k := range b.order {
		if b.resized[k] {
			e.Loops = append(e.Loops, *b.loops[k])
		}
		e.Pins = append(e.Pins, b.pins[k]...)
		if c, ok := b.change(k, first.lanes[k], now[k]); ok {
			e.Changes = append(e.Changes, c)
		}
	}
	b.drawTouched(&e, first)
	for code := range before {
		e.Cells = append(e.Cells, CellChange{code, before[code], after[code]})
	}
	slices.SortFunc(e.Cells, func(a, b CellChange) int { return cmp.Compare(a.Cell, b.Cell) })
	e.Broken = append(e.Broken, b.refused...)
	e.Broken = append(e.Broken, b.broken()...)
	e.Unplaced = b.laneless()
	e.Balance = b.balance()
	e.Broken.Sort()
	return e
}

// drawTouched adds the racks on which a lane changed.
func (b *board) drawTouched(e *Edited, first *still) {
	touched := map[plant.RackCode]bool{}
	for _, r := range b.tiers {
		d := b.still.drawn[r]
		if !slices.Equal(d.lanes, first.drawn[r].lanes) {
			touched[r.rack.Rack] = true
		}
		for _, lane := range d.closed {
			e.Closed = append(e.Closed, Spot{r.rack.Rack, r.level.Level.Level, lane})
		}
	}
	for _, r := range b.tiers {
		if touched[r.rack.Rack] {
			e.Lanes = append(e.Lanes, b.still.drawn[r].lanes...)
		}
	}
	for _, lane := range b.ends {
		if touched[lane.Rack] {
			e.Lanes = append(e.Lanes, lane)
		}
	}
	slices.SortFunc(e.Lanes, compareLanes)
	e.Racks = slices.Sorted(maps.Keys(touched))
}
