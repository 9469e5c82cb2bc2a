package drawing

import (
	"fmt"
	"math"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// ghost is how high an empty lane is shown, or less where less is free.
const ghost = 120 * units.Millimetre

// front is the rack seen from its pick side. What has no room in it goes to left:
// the lanes whose part is not written.
func (r *Rack) front(left *[]Lane) picture {
	p := picture{name: "Front, from the pick side", note: "the first container of each lane, heights of the lane surface at the pick edge"}
	p.body = func(v *view, _ box) {
		r.supports(v, func(s structure.Support) (units.Length, bool) { return s.At.X, s.At.Y == r.Frame.Rows[0] })
		for i := range r.Frame.Decks {
			r.frontDeck(v, &r.Frame.Decks[i], left)
		}
		for _, m := range r.Frame.Members {
			if m.Level == 0 && m.From.Y == r.Frame.Rows[0] {
				r.frontMember(v, m)
			}
		}
	}
	marks := r.pickHeights()
	p.around = func(v *view, b box) {
		v.floor(b.left-2, b.right+2)
		v.heights(b.left-4, b.left, -1, marks)
		f := r.Frame
		inner := max(f.Members[0].Part.Width, f.Members[0].Part.Height)
		v.span(b.bottom+6, b.bottom+0.8, inner, f.Width-inner, r.measure().long(f.Width-2*inner))
		v.span(b.bottom+6+dimStep, b.bottom+0.8, 0, f.Width, r.measure().long(f.Width))
	}
	p.room = box{marksRoom(marks), 2, 4, 7 + dimStep}
	p.least.Height = heightGap * float64(len(marks)+1)
	return measured(p)
}

// face is the front with the heights of its levels alone.
func (r *Rack) face() picture {
	p := r.front(nil)
	marks := r.pickHeights()
	p.around = func(v *view, b box) {
		v.floor(b.left-2, b.right+2)
		v.heights(b.left-4, b.left, -1, marks)
	}
	p.room.bottom = 2
	return p
}

// marksRoom is what running heights take beside the body.
func marksRoom(marks []mark) float64 {
	widest := 0.0
	for _, m := range sorted(marks) {
		widest = max(widest, Text{Size: plainSize, Text: m.text}.width())
	}
	return 4 + leader + 0.6 + widest + 1
}

// pickHeights are the heights of the lane surfaces at the pick edge, and the
// rack's.
func (r *Rack) pickHeights() []mark {
	m := r.measure()
	marks := []mark{{r.Frame.Height, "height " + m.long(r.Frame.Height)}}
	for _, d := range r.Frame.Decks {
		marks = append(marks, mark{d.PickHeight, fmt.Sprintf("level %d: %s", d.Level, m.long(d.PickHeight))})
	}
	return marks
}

// supports are feet or casters; across says where one stands in a view, and
// whether it is seen.
func (r *Rack) supports(v *view, across func(structure.Support) (units.Length, bool)) {
	for _, s := range r.Frame.Supports {
		at, seen := across(s)
		switch {
		case !seen:
		case s.Part.Kind == plant.CasterPart:
			wheel := s.Part.Height * 2 / 5
			v.around(Thin, White, at, s.Part.Height*4/5, wheel, s.Part.Height*2/5)
			v.Circle(Medium, White, v.at(at, wheel), wheel.MM()/v.times)
			v.Circle(Thin, Black, v.at(at, wheel), wheel.MM()/v.times/6)
		default:
			v.around(Thin, White, at, s.Part.Height/2, s.Part.Height/4, s.Part.Height)
			v.around(Medium, White, at, s.Part.Height/8, s.Part.Height, s.Part.Height/4)
		}
	}
}

// frontDeck is one level: its containers, then what stands before them.
func (r *Rack) frontDeck(v *view, d *structure.Deck, left *[]Lane) {
	for _, l := range r.on(d.Level) {
		r.frontLane(v, d, l)
	}
	for _, m := range r.Frame.Members {
		if m.Level == d.Level {
			r.frontMember(v, m)
		}
	}
	for _, l := range r.on(d.Level) {
		if !r.frontLabel(v, d, l) && left != nil {
			*left = append(*left, l)
		}
	}
}

// frontMember draws what is seen of a member from the front.
func (r *Rack) frontMember(v *view, m structure.Member) {
	p := m.Part
	switch m.Role {
	case structure.Upright:
		v.rect(Thick, White, m.From.X-p.Width/2, m.From.Z, m.From.X+p.Width/2, m.To.Z)
	case structure.CrossTube, structure.Brace:
		if m.From.X != m.To.X && m.From.Y == r.Frame.Rows[0] {
			v.rect(Medium, White, m.From.X, m.From.Z-p.Height/2, m.To.X, m.From.Z+p.Height/2)
		}
	case structure.Track:
		v.around(Thin, White, m.From.X, m.From.Z, p.Width, p.Height)
	case structure.Guide:
		v.around(Thin, Black, m.From.X, m.From.Z, p.Width, p.Height)
	case structure.Stop:
		if m.From.Y < r.Frame.Depth/2 {
			v.rect(Thin, White, m.From.X, m.From.Z-p.Height/2, m.To.X, m.From.Z+p.Height/2)
		}
	}
}

// length rounds nanometres.
func length(nm float64) units.Length { return units.Length(math.Round(nm)) }

// frontLane is the container at the pick edge, or the room of one that is not
// there.
func (r *Rack) frontLane(v *view, d *structure.Deck, l Lane) {
	b, full := r.faceOf(d, l)
	if !full {
		v.Area(Dashed, NoShade, v.box(b[0], b[1], b[2], b[3]).corners()...)
		return
	}
	v.rect(Medium, Pale, b[0], b[1], b[2], b[3])
	v.rect(Thin, White, b[0], b[3]-rim(b), b[2], b[3])
}

// rim is how high a container's rim is shown.
func rim(b [4]units.Length) units.Length { return min((b[3]-b[1])/12, 12*units.Millimetre) }

// faceOf is where the front of a lane's first container is: left, bottom, right,
// top; full is false where only its room is shown.
func (r *Rack) faceOf(d *structure.Deck, l Lane) (b [4]units.Length, full bool) {
	from := d.Left + l.Offset
	if l.Box.IsZero() || l.Kind == plant.Return {
		high := ghost
		if d.PickClear > 0 {
			high = min(high, d.PickClear*4/5)
		}
		return [4]units.Length{from, d.PickHeight, from + l.Width, d.PickHeight + high}, false
	}
	from += (l.Width - l.Box.Across) / 2
	return [4]units.Length{from, d.PickHeight, from + l.Box.Across, d.PickHeight + l.Box.Height}, true
}

// frontLabel writes a lane's address and part above its stop, and reports whether
// the part has its place.
func (r *Rack) frontLabel(v *view, d *structure.Deck, l Lane) bool {
	b, full := r.faceOf(d, l)
	if d.Drop >= 0 {
		b[1] += r.stopOver(d)
	}
	if full {
		b[3] -= rim(b)
	}
	in := v.box(b[0], b[1], b[2], b[3])
	a := l.Address()
	switch {
	case full:
		return v.label(in, false, []string{a, l.Part}, []string{a + " " + l.Part}, []string{a}) < 2
	case l.Kind == plant.Return:
		v.label(in, false, []string{a, "return"}, []string{a})
	default:
		v.label(in, false, []string{a, "free"}, []string{a})
	}
	return true
}

// stopOver is how far a level's stops stand over its lane surface.
func (r *Rack) stopOver(d *structure.Deck) units.Length {
	for _, m := range r.Frame.Members {
		if m.Role == structure.Stop && m.Level == d.Level {
			return max(m.From.Z+m.Part.Height/2-d.PickHeight, 0)
		}
	}
	return 0
}
