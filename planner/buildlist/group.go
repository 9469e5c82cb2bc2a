package buildlist

import (
	"fmt"
	"strings"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Group is a number of pieces that are made alike: of one part, cut to one length
// with the same holes.
type Group struct {
	Role   structure.Role
	Part   *plant.KitPart
	Length units.Length
	// Holes are those of the first piece; what meets them differs.
	Holes  []Hole
	Pieces []int
}

// grouped gathers pieces that are made alike.
func grouped(pieces []Piece) []Group {
	at := map[string]int{}
	var list []Group
	for i, p := range pieces {
		key := p.alike()
		n, ok := at[key]
		if !ok {
			n = len(list)
			at[key] = n
			list = append(list, Group{Role: p.Role, Part: p.Part, Length: p.Length, Holes: p.Holes})
		}
		list[n].Pieces = append(list[n].Pieces, i)
	}
	return list
}

// alike is the same text for pieces that are made alike.
func (p Piece) alike() string {
	var b strings.Builder
	fmt.Fprint(&b, p.Role, "/", p.Part.Part, "/", int64(p.Length))
	for _, h := range p.Holes {
		fmt.Fprint(&b, "/", int64(h.At), h.Way[:2])
	}
	return b.String()
}

// Marks are those of a group's pieces.
func (l *List) Marks(g Group) []string {
	marks := make([]string, len(g.Pieces))
	for n, i := range g.Pieces {
		marks[n] = l.Pieces[i].Mark
	}
	return marks
}

// Worth is what a group takes of its part.
func (l *List) Worth(g Group) Buy {
	b := Buy{Kit: l.Frame.Kit.Kit, Part: g.Part}
	b.take(len(g.Pieces), g.Length*units.Length(len(g.Pieces)))
	return b
}
