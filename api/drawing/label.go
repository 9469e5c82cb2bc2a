package drawing

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// LabelKind says what is labelled.
type LabelKind string

// Kinds of label: one for each lane, or one for each rack.
const (
	LaneLabels LabelKind = "lane"
	RackLabels LabelKind = "rack"
)

// LabelKinds lists them.
func LabelKinds() []LabelKind { return []LabelKind{LaneLabels, RackLabels} }

// LabelOptions say which labels are printed, and on what.
type LabelOptions struct {
	Kind  LabelKind
	Sheet LabelSheet
	// Skip is how many labels of the first sheet are used already.
	Skip int
	// Racks are the racks meant; none are all.
	Racks []plant.RackCode
}

// LabelSheet is the sheet taken where nobody chose one: the common one of the plant's
// paper on which an address can be read from 2 m beside what else a label says.
func (p Papers) LabelSheet(k LabelKind) LabelSheet {
	name := map[LabelKind][2]string{LaneLabels: {"99.1x67.7", "4x3.33in"}, RackLabels: {"99.1x38.1", "4x2in"}}[k]
	at := one(measure(p.Plan.Settings.Plant.LengthUnit).imperial())
	i := slices.IndexFunc(labelSheets[:], func(l LabelSheet) bool { return l.Name == name[at] })
	return labelSheets[i]
}

// MostTags is how many labels or cards one document holds: more would take a
// reader of it minutes to open.
const MostTags = 10_000

// TooManyError says that one document can not hold all that were asked for.
type TooManyError struct {
	What    string
	N, Most int
}

// Error says what can be done.
func (e *TooManyError) Error() string {
	return fmt.Sprintf("%d %s are more than the %d of one document: choose some cells", e.N, e.What, e.Most)
}

// Labels writes sheets of labels: those of racks in the order of the plan, those of
// lanes by rack, level and lane. The address is printed so that it can be read from 2 m
// where the label has room. What labels are short of is returned in sentences.
// The error is a *TooManyError, or that of w.
func (p Papers) Labels(w io.Writer, o LabelOptions) (short []string, err error) {
	d := p.desk()
	var tags []tag
	for _, r := range d.Plan.Racks {
		if len(o.Racks) > 0 && !slices.Contains(o.Racks, r.Rack) {
			continue
		}
		if o.Kind == RackLabels {
			tags = append(tags, d.rackTag(r))
			continue
		}
		for _, l := range d.byRack[r.Rack] {
			tags = append(tags, d.laneTag(l))
		}
	}
	return writeTags(w, o.Sheet, o.Skip, "Labels", "labels", tags)
}

// rackTag is the label of a rack.
func (d *desk) rackTag(r structure.Rack) tag {
	t := tag{big: inLines(string(r.Rack)), code: string(r.Rack), far: true}
	cell := "cell " + string(r.Cell)
	if c := d.index.Cells[r.Cell]; c != nil {
		cell = joined("  ", cell, c.Name)
	}
	stations := make([]string, len(r.Stations))
	for i, s := range r.Stations {
		stations[i] = string(s)
	}
	t.lines = []tagLine{{text: cell, size: 5, bold: true, needed: true}}
	if len(stations) > 0 {
		t.lines = append(t.lines, tagLine{text: "stations " + strings.Join(stations, ", "), size: 3.6})
	}
	lanes, levels := d.byRack[r.Rack], map[int]bool{}
	for _, l := range lanes {
		levels[l.Level] = true
	}
	t.lines = append(t.lines, tagLine{text: fmt.Sprintf("%s, %s", counted(len(levels), "level"), counted(len(lanes), "lane")), size: 3.2})
	return t
}

// laneTag is the label of a lane: a part's, a free one's, or a return lane's.
func (d *desk) laneTag(l placement.Lane) tag {
	here := spot(l.Level, l.Lane)
	t := tag{big: [][]string{{string(l.Rack) + "/" + here}, {string(l.Rack), here}}, code: placement.Spot{Rack: l.Rack, Level: l.Level, Lane: l.Lane}.Address(), far: true}
	for _, two := range inLines(string(l.Rack))[1:] {
		t.big = append(t.big, append(two, here))
	}
	loop := d.loops[l.Loop]
	switch {
	case l.Kind == plant.Return:
		t.lines = []tagLine{{text: "return lane: empties", size: 5, bold: true, needed: true}}
	case l.Empty() || loop == nil:
		t.lines = []tagLine{{text: "free", size: 5, bold: true, needed: true}}
	default:
		t.lines = []tagLine{
			{text: string(l.Loop.Part), size: 6, bold: true, needed: true},
			{text: d.description(l.Loop.Part), size: 4},
			{text: fmt.Sprintf("%s, %d in each; lane holds %d; %s in the loop", loop.Container, loop.Pack, l.Capacity, counted(loop.Containers, "container")), size: 3.2},
		}
	}
	return t
}

// writeTags writes tags on sheets and says what they are short of.
func writeTags(w io.Writer, s LabelSheet, skip int, title, what string, tags []tag) ([]string, error) {
	if len(tags) > MostTags {
		return nil, &TooManyError{what, len(tags), MostTags}
	}
	skip = min(max(skip, 0), s.PerSheet()-1)
	all := make([]flaws, len(tags))
	pages := (skip + len(tags) + s.PerSheet() - 1) / s.PerSheet()
	var sheets []func(Paper)
	for page := range max(pages, 1) {
		sheets = append(sheets, func(p Paper) {
			for n := range s.PerSheet() {
				if i := page*s.PerSheet() + n - skip; i >= 0 && i < len(tags) {
					in := s.place(n).within(s.inset())
					all[i] = tags[i].draw(&board{Paper: p, room: in}, in)
				}
			}
			if s.Cut {
				s.cuts(p)
			}
		})
	}
	if err := writePDF(w, s.Sheet, title, slices.Values(sheets)); err != nil {
		return nil, err
	}
	return shortOf(all, what), nil
}

// cuts are thin lines along which a sheet is cut.
func (l LabelSheet) cuts(p Paper) {
	for c := 1; c < l.Columns; c++ {
		x := l.Left + float64(c)*l.StepX
		p.Line(Dashed, Point{x, l.Top}, Point{x, l.Top + float64(l.Rows)*l.StepY})
	}
	for r := 1; r < l.Rows; r++ {
		y := l.Top + float64(r)*l.StepY
		p.Line(Dashed, Point{l.Left, y}, Point{l.Left + float64(l.Columns)*l.StepX, y})
	}
}

// shortOf says in sentences what tags are short of.
func shortOf(all []flaws, what string) []string {
	var small, bars, square, cut, lost int
	least := readHigh
	for _, f := range all {
		if f.signs > 0 {
			small++
			least = min(least, f.signs)
		}
		bars += one(f.bars)
		square += one(f.square)
		cut += one(f.cut)
		lost += one(f.lost)
	}
	var list []string
	say := func(n int, format string, a ...any) {
		if n > 0 {
			list = append(list, fmt.Sprintf("On %d of %d %s ", n, len(all), what)+fmt.Sprintf(format, a...))
		}
	}
	say(lost, "a part or cell has no room and is not whole: take a larger size.")
	say(small, "the address is less than %g mm high, down to %s mm: it can be read from %s m, not from %g m. A larger size has room for it.",
		readHigh, decimal(least, 1), decimal(least*signShare/1000, 1), readFrom/1000)
	say(bars, "there is no Code 128, for want of room or of signs that it has; the QR code says the same.")
	say(square, "there is no QR code, for want of room.")
	say(cut, "a text is shortened or left out, for want of room.")
	return list
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
