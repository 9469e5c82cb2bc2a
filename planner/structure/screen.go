package structure

import (
	"cmp"
	"slices"

	"lanewright/planner/finding"
)

// Screening is what was computed about a frame at full load.
type Screening struct {
	// Uses are the members by how far they are used, the most used first.
	Uses []Use
	// Tips are the rack's edges, the least firm angle first.
	Tips []Tip
	// Slenderness is height over the least width of the base.
	Slenderness float64
	// OwnMass in kg; Load is what its lanes hold when full, in kg.
	OwnMass, Load float64
}

// Governing is the use that limits the rack; ok is false where nothing is
// loaded or nothing is known.
func (s Screening) Governing() (u Use, ok bool) {
	if len(s.Uses) == 0 {
		return Use{}, false
	}
	return s.Uses[0], true
}

// Screen judges a frame with the lanes planned on it: what passes, what a hand
// reaches, what bends, buckles or tips. Each finding names the governing number
// and what would fix it. It screens only: see Cautions.
func Screen(f *Frame, l Limits) (Screening, finding.List) {
	s := Screening{Uses: Uses(f, l), Tips: Tips(f, l), OwnMass: f.mass().KG()}
	slices.SortStableFunc(s.Tips, func(a, b Tip) int { return cmp.Compare(a.Angle, b.Angle) })
	for i := range f.Decks {
		for _, c := range f.carries(&f.Decks[i]) {
			s.Load += kilograms(c.newtons)
		}
	}
	if width, depth := f.base(); min(width, depth) > 0 {
		s.Slenderness = f.Height.MM() / min(width, depth)
	}
	g := &judge{f: f, l: l}
	for i := range f.Decks {
		g.passes(&f.Decks[i])
		g.slope(&f.Decks[i])
		g.strong(&f.Decks[i], s.Uses)
	}
	g.stands(s)
	g.uprights(s.Uses)
	return s, g.found
}

// base is the width and depth of what the rack stands on, in mm: that of its
// feet or casters, else its outside.
func (f *Frame) base() (width, depth float64) {
	if len(f.Supports) == 0 {
		return f.Width.MM(), f.Depth.MM()
	}
	first, last := f.Supports[0].At, f.Supports[len(f.Supports)-1].At
	return (last.X - first.X).MM(), (last.Y - first.Y).MM()
}
