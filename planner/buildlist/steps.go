package buildlist

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Step is one step of assembly.
type Step struct {
	Title, Text string
	// Marks are the pieces that it puts in place, in that order: what carries a
	// piece comes before it.
	Marks []string
	// Caution is empty where none belongs to the step.
	Caution string
}

// steps are the steps of assembly, from cutting to the first loaded container.
func steps(l *List) []Step {
	s := &assembly{l: l, f: l.Frame}
	s.cut()
	s.uprights()
	s.braces()
	for i := range s.f.Decks {
		s.level(&s.f.Decks[i])
	}
	s.square()
	for i := range s.f.Decks {
		s.lay(&s.f.Decks[i])
	}
	s.secure()
	s.try()
	return s.list
}

// assembly is a list of steps under way.
type assembly struct {
	l    *List
	f    *structure.Frame
	list []Step
}

func (s *assembly) add(title, text, caution string, marks ...string) {
	s.list = append(s.list, Step{Title: title, Text: text, Marks: marks, Caution: caution})
}

// marks are those of the pieces that are meant, in their order.
func (s *assembly) marks(meant func(Piece) bool) (list []string) {
	for _, p := range s.l.Pieces {
		if meant(p) {
			list = append(list, p.Mark)
		}
	}
	return list
}

// role are the pieces of a role on a level.
func (s *assembly) role(r structure.Role, level int) []string {
	return s.marks(func(p Piece) bool { return p.Role == r && p.Level == level })
}

// cut says how tubes are cut, marked and drilled.
func (s *assembly) cut() {
	text := fmt.Sprintf("Cut the %d tubes by the cut list and write its mark on each, at the end from which its measures count: the bottom of an upright, the left end of what lies across the rack, the pick side's end of what runs along the lanes. Left and right are seen from the pick side. Take off the burrs.", s.l.Tubes())
	k := s.f.Kit
	switch {
	case k.HolePitch > 0:
		text += fmt.Sprintf(" The first hole of each tube is %s from that end, the others every %s.", s.l.Unit.Text(k.FirstHole), s.l.Unit.Text(k.HolePitch))
	case k.HoleDiameter > 0:
		text += fmt.Sprintf(" Drill %s holes where the list of pieces says, measured from that end.", s.l.Unit.Text(k.HoleDiameter))
	default:
		text += " Mark where the list of pieces says that other tubes meet it, measured from that end."
	}
	if n := s.crossing(); n > 0 && k.HoleDiameter > 0 {
		text += fmt.Sprintf(" On %d tubes bolts of two ways meet at one height: let each go through the near wall only.", n)
	}
	s.add("Cut, mark and drill", text, "")
}

// crossing counts tubes in which bolts of two ways would meet.
func (s *assembly) crossing() (n int) {
	for _, p := range s.l.Pieces {
		if p.Crossing() {
			n++
		}
	}
	return n
}

// uprights stand on their feet or casters.
func (s *assembly) uprights() {
	marks := s.marks(func(p Piece) bool { return p.Role == structure.Upright })
	text := fmt.Sprintf("Lay out %s in %d rows of two: row 1 is the pick side, odd marks stand left.", Span(marks), len(s.f.Rows))
	if len(s.f.Supports) > 0 {
		text += fmt.Sprintf(" Fit a %s under each.", s.f.Supports[0].Part.Part)
	}
	if len(s.f.Rows) > 2 {
		text += " The rows between carry the middle of the long lanes."
	}
	s.add("Uprights", text, "", marks...)
}

// braces tie the uprights.
func (s *assembly) braces() {
	marks := s.marks(func(p Piece) bool { return p.Role == structure.Brace })
	if len(marks) == 0 {
		return
	}
	text := "Two people: one holds, one bolts. Tie the uprights finger-tight, the lower braces first:"
	for _, p := range s.l.Pieces {
		if p.Role == structure.Brace {
			text += fmt.Sprintf(" %s %s;", p.Mark, p.Where)
		}
	}
	s.add("Braces", text[:len(text)-1]+".", "Hold the uprights until they are tied at top and bottom.", marks...)
}

// level bolts the tubes of a level: those between uprights, then those on the
// rails.
func (s *assembly) level(d *structure.Deck) {
	outer, rails, inner := s.tubes(d.Level)
	text := fmt.Sprintf("Bolt %s between the uprights", Span(outer))
	for _, m := range outer {
		text += fmt.Sprintf("; %s with its middle %s over the floor", m, s.l.Unit.Text(s.piece(m).From.Z))
	}
	text += fmt.Sprintf(". Bolt the rails %s between the rows", Span(rails))
	if len(inner) > 0 {
		text += fmt.Sprintf(", and between the rails %s", Span(inner))
		for n, h := range s.piece(rails[0]).Holes {
			text += fmt.Sprintf("%s %s", []string{", in each bay", " and"}[min(n, 1)], s.l.Unit.Text(h.At))
		}
		text += " from the first end of the rail"
	}
	text += fmt.Sprintf(". The level slopes down to the %s side.", low(s.f, d.Level))
	s.add(fmt.Sprintf("Level %d (%s): tubes", d.Level, d.Kind), text, "", slices.Concat(outer, rails, inner)...)
}

// tubes are the cross tubes between uprights, the rails, and the cross tubes on
// these, of a level.
func (s *assembly) tubes(level int) (outer, rails, inner []string) {
	onRail := map[int]bool{}
	for _, j := range s.f.Joints {
		if s.f.Members[j.On].Role == structure.Rail {
			onRail[j.Tube] = true
		}
	}
	outer = s.marks(func(p Piece) bool {
		return p.Role == structure.CrossTube && p.Level == level && !onRail[p.Member]
	})
	inner = s.marks(func(p Piece) bool {
		return p.Role == structure.CrossTube && p.Level == level && onRail[p.Member]
	})
	return outer, s.role(structure.Rail, level), inner
}

// piece returns the piece of a mark.
func (s *assembly) piece(mark string) Piece {
	return s.l.Pieces[slices.IndexFunc(s.l.Pieces, func(p Piece) bool { return p.Mark == mark })]
}

// square says which diagonals are alike and how far the rack may be out.
func (s *assembly) square() {
	u := s.f.Members[0].Part
	w, d := s.f.Width-u.Width, s.f.Rows[len(s.f.Rows)-1]-s.f.Rows[0]
	text := fmt.Sprintf("Set the rack where it is to stand. Measure both diagonals of its plan over the middles of the outer uprights: both are %s. When they are alike, tighten every bolt from the bottom up, then measure again.",
		s.l.Unit.Text(units.Length(math.Hypot(float64(w), float64(d)))))
	if len(s.f.Supports) > 0 && s.f.Supports[0].Part.Kind == plant.FootPart {
		text += " Turn the feet until a spirit level lies level along every cross tube: a level that leans sideways lets containers drift."
	}
	s.add("Square, level and tighten", text, "")
}

// lay puts tracks, guides and stops on a level.
func (s *assembly) lay(d *structure.Deck) {
	tracks, guides, stops := s.role(structure.Track, d.Level), s.role(structure.Guide, d.Level), s.role(structure.Stop, d.Level)
	text := fmt.Sprintf("Lay the roller tracks %s on the cross tubes, rollers up", Span(tracks))
	text += s.across(tracks) + fmt.Sprintf(" %s from the rack's left end. Stand the guides %s", s.l.Unit.Name(), Span(guides)) + s.across(guides)
	text += fmt.Sprintf(" %s. Fix the stops %s at the %s edge, where containers come to rest. Turn every roller by hand.", s.l.Unit.Name(), Span(stops), low(s.f, d.Level))
	s.add(fmt.Sprintf("Level %d (%s): tracks, guides, stops", d.Level, d.Kind), text, "", slices.Concat(tracks, guides, stops)...)
}

// across says how far pieces lie from the rack's left end.
func (s *assembly) across(marks []string) string {
	text := ""
	for _, m := range marks {
		text += fmt.Sprintf(", %s at %s", m, s.l.Unit.Number(s.piece(m).From.X))
	}
	return text
}

// secure anchors or brakes the rack.
func (s *assembly) secure() {
	text := "Anchor the feet to the floor, or tie the rack to its neighbour or to a wall."
	if len(s.f.Supports) > 0 && s.f.Supports[0].Part.Kind == plant.CasterPart {
		text = "Set every brake and try to push the rack. Tie it to its neighbour where it stays for long."
	}
	s.add("Anchor or brace", text, structure.CautionAnchor)
}

// try names what is run down the levels before use, levels that are tried alike
// together.
func (s *assembly) try() {
	var kinds []string
	levels := map[string][]string{}
	for _, d := range s.f.Decks {
		kind := "an empty container of each kind"
		if box, ok := heaviest(d); ok {
			kind = fmt.Sprintf("container %s, loaded with %s,", box.Container, s.l.Unit.Mass(box.Gross))
		}
		if levels[kind] == nil {
			kinds = append(kinds, kind)
		}
		levels[kind] = append(levels[kind], strconv.Itoa(d.Level))
	}
	text := "Look along every level: nothing stands out between two guides."
	for _, k := range kinds {
		text += fmt.Sprintf(" %s: run %s down each lane.", levelNames(levels[k]), k)
	}
	s.add("Try it", text+" Tighten all bolts again after the first week.", structure.CautionTry)
}

// levelNames names levels in a sentence: "Level 2", "Levels 1, 3 and 4".
func levelNames(levels []string) string {
	if len(levels) == 1 {
		return "Level " + levels[0]
	}
	return "Levels " + finding.And(levels)
}

// heaviest is the heaviest container planned on a level.
func heaviest(d structure.Deck) (box structure.Box, ok bool) {
	for _, l := range d.Lanes {
		if !l.Box.IsZero() && (!ok || cmp.Or(cmp.Compare(l.Box.Gross, box.Gross), cmp.Compare(box.Container, l.Box.Container)) > 0) {
			box, ok = l.Box, true
		}
	}
	return box, ok
}

// Span names marks, those that follow one another by the first and the last:
// "1T1 to 1T4, 2T1".
func Span(marks []string) string {
	var parts []string
	for i := 0; i < len(marks); {
		j := i + 1
		for j < len(marks) && follows(marks[j-1], marks[j]) {
			j++
		}
		switch {
		case j-i > 2:
			parts = append(parts, marks[i]+" to "+marks[j-1])
		default:
			parts = append(parts, marks[i:j]...)
		}
		i = j
	}
	return strings.Join(parts, ", ")
}

// follows reports whether a mark is the next one of its kind.
func follows(a, b string) bool {
	letter := func(s string) int { return strings.LastIndexFunc(s, unicode.IsLetter) + 1 }
	i, j := letter(a), letter(b)
	n, errA := strconv.Atoi(a[i:])
	m, errB := strconv.Atoi(b[j:])
	return errA == nil && errB == nil && a[:i] == b[:j] && m == n+1
}
