package drawing

import (
	"fmt"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// above is one level of the rack seen from above, its pick side below: what
// carries the lanes, the lanes with their addresses, and the middles of the
// guides from the rack's left end.
func (r *Rack) above(d *structure.Deck, left *[]Lane) picture {
	p := picture{name: fmt.Sprintf("Level %d from above", d.Level), note: "pick side below, middles of the guides"}
	p.body = func(v *view, _ box) { r.deckAbove(v, d, left) }
	m := r.measure()
	var marks []mark
	for _, g := range r.Frame.Members {
		if g.Role == structure.Guide && g.Level == d.Level {
			marks = append(marks, mark{g.From.X, m.long(g.From.X)})
		}
	}
	marks = append(marks, mark{r.Frame.Width, m.long(r.Frame.Width)})
	p.around = func(v *view, b box) { v.places(b.bottom+2.5, b.bottom, 0, marks) }
	widest := 0.0
	for _, one := range sorted(marks) {
		widest = max(widest, Text{Size: leastSize, Text: one.text}.width())
	}
	p.room = box{2, 1, 2, 2.5 + leader + 1 + widest}
	p.least.Width = placeGap * float64(len(marks)+1)
	return measured(p)
}

func (r *Rack) deckAbove(v *view, d *structure.Deck, left *[]Lane) {
	for _, role := range []structure.Role{structure.Rail, structure.CrossTube, structure.Track, structure.Guide, structure.Upright, structure.Stop} {
		for _, m := range r.Frame.Members {
			if m.Role == role && (m.Level == d.Level || m.Level == 0) {
				fromAbove(v, m)
			}
		}
	}
	for _, l := range r.on(d.Level) {
		if !laneAbove(v, d, l) && left != nil {
			*left = append(*left, l)
		}
	}
}

// fromAbove draws a member by its outline in plan.
func fromAbove(v *view, m structure.Member) {
	half := m.Part.Width / 2
	switch m.Role {
	case structure.Upright:
		v.around(Thin, Black, m.From.X, m.From.Y, m.Part.Width, m.Part.Height)
	case structure.Rail:
		v.rect(Thin, White, m.From.X-half, m.From.Y, m.From.X+half, m.To.Y)
	case structure.CrossTube:
		v.rect(Thin, Pale, m.From.X, m.From.Y-half, m.To.X, m.From.Y+half)
	case structure.Track:
		v.rect(Hair, White, m.From.X-half, m.From.Y, m.From.X+half, m.To.Y)
	case structure.Guide:
		v.rect(Hair, Black, m.From.X-half, m.From.Y, m.From.X+half, m.To.Y)
	case structure.Stop:
		v.rect(Thin, Black, m.From.X, m.From.Y-half, m.To.X, m.From.Y+half)
	}
}

// laneAbove writes a lane's address and part along it on white ground, and
// reports whether the part has its place.
func laneAbove(v *view, d *structure.Deck, l Lane) bool {
	from := d.Left + l.Offset
	in := v.box(from, d.Front, from+l.Width, d.Front+d.LaneLength)
	a, name := l.Address(), l.Part
	switch {
	case l.Kind == plant.Return:
		name = "return"
	case name == "":
		name = "free"
	}
	for n, s := range []string{a + "  " + name, a} {
		for _, size := range labelSizes {
			t := Text{Size: size, Bold: true, Turned: true, Text: s}.centred(Point{(in.left + in.right) / 2, (in.top + in.bottom) / 2})
			e := t.extent()
			if in.within(0.2).holds(e) && v.free(e) {
				ground := e.within(-0.4)
				ground.left, ground.right = max(ground.left, in.left), min(ground.right, in.right)
				v.Area(NoPen, White, ground.corners()...)
				v.write(t)
				return n == 0 || l.Part == ""
			}
		}
	}
	return l.Part == ""
}

// clearOf is the free height of a level as a table shows it.
func clearOf(m measure, l units.Length) string {
	if l == 0 {
		return "open"
	}
	return m.long(l)
}
