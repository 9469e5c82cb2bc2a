package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Build is what a build sheet says of how a rack is made, as rows of text that are
// printed as they are.
type Build struct {
	Parts, Cuts Table
	// Steps are numbered on the sheet, in their order.
	Steps []string
}

// Table is rows under headings.
type Table struct {
	Heading []string
	// Right says which columns stand at their right end: numbers.
	Right []bool
	Rows  [][]string
}

// add appends a row.
func (t *Table) add(cells ...string) { t.Rows = append(t.Rows, cells) }

// piece is what is cut alike.
type piece struct {
	part string
	long units.Length
}

// Pieces lists what a frame is made of: parts with their number and length, and
// every length to cut with the marks of its pieces. Marks stand in the order of
// the frame.
func Pieces(f *structure.Frame, lengthUnit, massUnit string) Build {
	m := measure(lengthUnit)
	b := Build{
		Parts: Table{Heading: []string{"part", "is", "number", "length together", "mass, " + massName(massUnit)}, Right: []bool{false, false, true, true, true}},
		Cuts:  Table{Heading: []string{"part", "cut to", "number", "marks"}, Right: []bool{false, true, true, false}},
	}
	marks := map[piece][]string{}
	for _, one := range f.Members {
		k := piece{string(one.Part.Part), one.Cut}
		marks[k] = append(marks[k], one.Mark)
	}
	for _, k := range cuts(marks) {
		b.Cuts.add(k.part, m.long(k.long), strconv.Itoa(len(marks[k])), strings.Join(marks[k], " "))
	}
	for _, n := range counted(f) {
		long, mass := "", "not known"
		if n.long > 0 {
			long = m.long(n.long)
		}
		if n.mass > 0 {
			mass = heavy(massUnit, n.mass)
		}
		b.Parts.add(n.part, n.kind, strconv.Itoa(n.number), long, mass)
	}
	return b
}

// cuts orders pieces by part, the longest first.
func cuts(marks map[piece][]string) []piece {
	list := make([]piece, 0, len(marks))
	for k := range marks {
		list = append(list, k)
	}
	slices.SortFunc(list, func(a, b piece) int { return cmp.Or(cmp.Compare(a.part, b.part), cmp.Compare(b.long, a.long)) })
	return list
}

// count is how much of a part a frame takes.
type count struct {
	part, kind string
	number     int
	long       units.Length
	mass       units.Mass
}

// counted are a frame's parts in the order of the kit.
func counted(f *structure.Frame) []count {
	var list []count
	for i := range f.Kit.Parts {
		p := &f.Kit.Parts[i]
		c := count{part: string(p.Part), kind: string(p.Kind), number: len(f.Joints) * p.PerJoint}
		for _, m := range f.Members {
			if m.Part.Part == p.Part {
				c.number++
				c.long += m.Cut
			}
		}
		for _, s := range f.Supports {
			if s.Part.Part == p.Part {
				c.number++
			}
		}
		c.mass = p.Mass * units.Mass(c.number)
		if p.MassPerMetre > 0 {
			c.mass += units.Mass(units.R(int64(c.long), int64(units.Metre)).Mul(p.MassPerMetre.Ratio()).Floor())
		}
		if p.Mass > 0 {
			c.long = 0 // bought by the piece
		}
		if c.number > 0 {
			list = append(list, c)
		}
	}
	return list
}

// massName is the unit that masses are written in.
func massName(unit string) string {
	if unit == "lb" {
		return "lb"
	}
	return "kg"
}

// heavy writes a mass, to a tenth.
func heavy(unit string, m units.Mass) string {
	if unit == "lb" {
		return decimal(float64(m)/float64(units.Pound), 1)
	}
	return decimal(m.KG(), 1)
}

// lanesTable lists what lies in each lane, for what has no room in a drawing.
func (r *Rack) lanesTable(lanes []Lane) Table {
	m := r.measure()
	t := Table{Heading: []string{"lane", "part", "station", "container", "number", "from", "width"}, Right: []bool{false, false, false, false, true, true, true}}
	for _, l := range lanes {
		from := l.Offset
		if d := r.Frame.Deck(l.Level); d != nil {
			from += d.Left
		}
		name, number := l.Part, fmt.Sprintf("%d of %d", l.Containers, l.Capacity)
		switch {
		case l.Kind == "return":
			name, number = "return", ""
		case name == "":
			name, number = "free", ""
		}
		t.add(l.Address(), name, l.Station, string(l.Box.Container), number, m.long(from), m.long(l.Width))
	}
	return t
}

// levelsTable lists the levels from the lowest.
func (r *Rack) levelsTable() Table {
	m := r.measure()
	t := Table{
		Heading: []string{"level", "is", "pick edge", "load edge", "slope", "lane", "clear", "rollers every"},
		Right:   []bool{false, false, true, true, true, true, true, true},
	}
	for _, d := range r.Frame.Decks {
		t.add(strconv.Itoa(d.Level), string(d.Kind), m.long(d.PickHeight), m.long(d.LoadHeight()), slope(d.Slope()),
			m.long(d.LaneLength), clearOf(m, d.Clear), m.long(d.RollerPitch))
	}
	return t
}
