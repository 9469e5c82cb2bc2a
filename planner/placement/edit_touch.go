package placement

import (
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// Touch is what an edit has to do with. Edits that touch nothing in common give the
// same layout in whatever order they are made.
type Touch struct {
	Loops []demand.Key
	// Racks are those that the edit names and those on which its loops lay before
	// and lie after it.
	Racks []plant.RackCode
	// Lanes are the lanes that the edit names by their number.
	Lanes []Spot
}

// Touches tells of each edit what it touches when edits are made one after the
// other, on a layout on which others were made before.
func Touches(in Input, s Settings, l Layout, done, edits []Edit) []Touch {
	done, cells := reaching(in, l, done, edits)
	b := newBoard(in, s, l, cells)
	for _, e := range done {
		e.do(b)
	}
	list := make([]Touch, len(edits))
	for i, e := range edits {
		t := &list[i]
		loops, spots := namedBy(e)
		t.Loops = loops
		for _, at := range spots {
			if at.Rack == "" {
				continue
			}
			t.Racks = append(t.Racks, at.Rack)
			if at.Lane > 0 {
				t.Lanes = append(t.Lanes, at)
			}
		}
		t.lie(b)
		e.do(b)
		t.lie(b)
		slices.Sort(t.Racks)
		t.Racks = slices.Compact(t.Racks)
	}
	return list
}

// lie adds the racks on which the loops lie.
func (t *Touch) lie(b *board) {
	for _, k := range t.Loops {
		for _, p := range b.places(k) {
			t.Racks = append(t.Racks, p.tier.rack.Rack)
		}
	}
}

// Common is what two edits touch both: a loop, else a lane, else a rack.
type Common struct {
	Loop demand.Key
	// At is the rack, with level and lane where both name the same lane.
	At Spot
}

// Meets reports whether two edits touch the same loop, lane or rack, and which.
func (t Touch) Meets(o Touch) (c Common, meet bool) {
	for _, k := range t.Loops {
		if slices.Contains(o.Loops, k) {
			return Common{Loop: k}, true
		}
	}
	for _, at := range t.Lanes {
		if slices.Contains(o.Lanes, at) {
			return Common{At: at}, true
		}
	}
	for _, r := range t.Racks {
		if slices.Contains(o.Racks, r) {
			return Common{At: Spot{Rack: r}}, true
		}
	}
	return c, false
}
