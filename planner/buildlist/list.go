// Package buildlist turns frames into what a person buys, cuts, drills and bolts
// together: pieces with their marks, lengths, holes and places, what is bought,
// how bars are cut, and the steps of assembly.
package buildlist

import (
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// List is the build list of one rack.
type List struct {
	Rack  plant.RackCode
	Frame *structure.Frame
	// Unit is that of the words: where pieces go, and the steps.
	Unit Unit
	// Pieces are in the order of the frame's members; a roller track or guide that
	// is longer than any of its stock lengths is several pieces.
	Pieces []Piece
	// Groups gathers equal pieces, in the order of the first of each.
	Groups []Group
	// Buys is what the rack takes of each part of its kit, in the kit's order.
	Buys  []Buy
	Steps []Step
}

// Make lists what the frame of a rack is built from. What the kit can not give
// is found; the list is made all the same.
func Make(rack plant.RackCode, f *structure.Frame, u Unit) (List, finding.List) {
	m := &maker{f: f, l: List{Rack: rack, Frame: f, Unit: u}}
	holes := holesOf(f)
	for i := range f.Members {
		m.member(i, holes[i])
	}
	m.guides()
	m.joints()
	m.supports()
	m.l.Groups = grouped(m.l.Pieces)
	m.l.Buys = bill(f, m.l.Pieces)
	m.l.Steps = steps(&m.l)
	return m.l, m.found
}

// maker is a list under way.
type maker struct {
	f     *structure.Frame
	l     List
	found finding.List
	// told are the parts whose finding stands already.
	told map[plant.KitPartCode]bool
}

// Tubes counts the pieces that are tubes.
func (l *List) Tubes() (n int) {
	for _, p := range l.Pieces {
		if p.Part.Kind == plant.TubePart {
			n++
		}
	}
	return n
}
