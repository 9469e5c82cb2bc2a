package drawing

import (
	"fmt"
	"strconv"
	"strings"

	"lanewright/planner/buildlist"
	"lanewright/planner/units"
)

// Build is what a build sheet says of how a rack is made, as rows of text that are
// printed as they are.
type Build struct {
	Parts, Cuts, Bars Table
	// BarsFrom says what bars are cut, for the heading of Bars.
	BarsFrom string
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

// built writes a build list and the cut lists of its pieces as rows of text.
func built(l buildlist.List, cuts []buildlist.CutList, massUnit string) Build {
	b := Build{Parts: partsTable(l, massUnit), Cuts: cutsTable(l), Bars: barsTable(cuts, l.Unit), BarsFrom: barsFrom(cuts)}
	for _, s := range l.Steps {
		text := s.Title + ". " + s.Text
		if s.Caution != "" {
			text += " Caution: " + s.Caution
		}
		b.Steps = append(b.Steps, text)
	}
	return b
}

// partsTable is what the rack takes of each part.
func partsTable(l buildlist.List, massUnit string) Table {
	t := Table{Heading: []string{"part", "is", "number", "length, " + l.Unit.Name(), "mass, " + massName(massUnit)}, Right: []bool{false, false, true, true, true}}
	for _, b := range l.Buys {
		long, mass := "", "not known"
		if b.InLengths() {
			long = l.Unit.Number(b.Length)
		}
		if b.Weighed() {
			mass = heavy(massUnit, b.Mass)
		}
		t.add(string(b.Part.Part), string(b.Part.Kind), strconv.Itoa(b.Count), long, mass)
	}
	return t
}

// cutsTable is what is cut alike, with the holes from the end that bears the mark.
func cutsTable(l buildlist.List) Table {
	t := Table{Heading: []string{"part", "cut, " + l.Unit.Name(), "no.", "marks", "holes at"}, Right: []bool{false, true, true, false, false}}
	for _, g := range l.Groups {
		t.add(string(g.Part.Part), l.Unit.Number(g.Length), strconv.Itoa(len(g.Pieces)), buildlist.Span(l.Marks(g)), holesText(g.Holes, l.Unit))
	}
	return t
}

// holesText writes where the holes are, "15 al, 255.8 a": by number where the kit
// has holes, else by measure; two ways at one height stand together.
func holesText(holes []buildlist.Hole, u buildlist.Unit) string {
	var list []string
	for i := 0; i < len(holes); {
		h, ways := holes[i], ""
		for ; i < len(holes) && holes[i].At == h.At; i++ {
			ways += map[buildlist.Way]string{buildlist.AcrossRack: "a", buildlist.AlongLanes: "l"}[holes[i].Way]
		}
		at := u.Number(h.At)
		if h.Number > 0 {
			at = fmt.Sprintf("no. %d", h.Number)
		}
		list = append(list, unbroken(at+" "+ways))
	}
	return strings.Join(list, ", ")
}

// unbroken keeps a text on one line.
func unbroken(s string) string { return strings.ReplaceAll(s, " ", string(noBreak)) }

// barsFrom says whether bars of the store are among those that are cut.
func barsFrom(cuts []buildlist.CutList) string {
	for _, c := range cuts {
		for _, p := range c.Patterns {
			if p.OnHand {
				return "this rack alone, bars in the store first"
			}
		}
	}
	return "this rack alone, from new bars"
}

// barsTable says into what each length of stock is cut.
func barsTable(cuts []buildlist.CutList, u buildlist.Unit) Table {
	t := Table{Heading: []string{"part", "stock, " + u.Name(), "times", "cut into", "left"}, Right: []bool{false, true, true, false, true}}
	for _, c := range cuts {
		for _, p := range c.Patterns {
			var into []string
			for _, a := range p.Cuts {
				into = append(into, unbroken(fmt.Sprintf("%d x %s", a.Count, u.Number(a.Length))))
			}
			long := u.Number(p.Length)
			if p.OnHand {
				long = unbroken("in store " + long)
			}
			t.add(string(c.Part.Part), long, strconv.Itoa(p.Times), strings.Join(into, ", "), u.Number(p.Rest))
		}
	}
	return t
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
