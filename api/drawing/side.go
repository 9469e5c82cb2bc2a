package drawing

import (
	"fmt"
	"math"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// side is the rack cut along its lanes and seen from the right end: the pick side
// is left. Of each level the lane nearest to the right end that holds containers
// is cut.
func (r *Rack) side() picture {
	p := picture{name: "Cut along the lanes, from the right end", note: "of each level the last lane that holds containers; dashed: room for more"}
	p.body = func(v *view, _ box) {
		r.supports(v, func(s structure.Support) (units.Length, bool) { return s.At.Y, s.Under%2 == 0 })
		r.behind(v)
		for i := range r.Frame.Decks {
			r.sideDeck(v, &r.Frame.Decks[i])
		}
	}
	pick, load := r.pickHeights(), r.loadHeights()
	p.around = func(v *view, b box) {
		v.floor(b.left-2, b.right+2)
		v.heights(b.left-4, b.left, -1, pick)
		v.heights(b.right+4, b.right, 1, load)
		below := b.bottom + 1.6
		v.write(Text{At: Point{v.at(0, 0).X, below + 2.4}, Size: plainSize, Bold: true, Text: "pick side"})
		v.write(Text{At: Point{v.at(r.Frame.Depth, 0).X, below + 2.4}, Size: plainSize, Bold: true, Anchor: AtEnd, Text: "load side"})
		for n, chain := range r.depths() {
			y := below + 4 + dimStep*float64(n+1)
			for i := range len(chain) - 1 {
				v.span(y-0.8, below+2.8, chain[i], chain[i+1], r.measure().long(chain[i+1]-chain[i]))
			}
		}
	}
	p.room = box{marksRoom(pick), 2, marksRoom(load), 6 + dimStep*float64(len(r.depths()))}
	p.least.Height = heightGap * float64(len(pick)+1)
	return measured(p)
}

// depths are the chains of dimensions below the side view: the rows of uprights,
// the lanes where all are alike, the whole.
func (r *Rack) depths() [][]units.Length {
	f := r.Frame
	chains := [][]units.Length{f.Rows}
	if len(f.Decks) > 0 {
		d, alike := f.Decks[0], true
		for _, o := range f.Decks {
			alike = alike && o.Front == d.Front && o.LaneLength == d.LaneLength
		}
		if alike {
			chains = append(chains, []units.Length{d.Front, d.Back()})
		}
	}
	return append(chains, []units.Length{0, f.Depth})
}

// loadHeights are the heights at the load edge with drop and slope.
func (r *Rack) loadHeights() []mark {
	m := r.measure()
	var marks []mark
	for _, d := range r.Frame.Decks {
		text := fmt.Sprintf("%s, drop %s, %s", m.long(d.LoadHeight()), m.long(d.Drop), slope(d.Slope()))
		if d.Drop < 0 {
			text = fmt.Sprintf("%s, rise %s, %s", m.long(d.LoadHeight()), m.long(-d.Drop), slope(d.Slope()))
		}
		marks = append(marks, mark{d.LoadHeight(), text})
	}
	return marks
}

// behind is the left side of the frame, which the cut shows: uprights, rails and
// what ties them.
func (r *Rack) behind(v *view) {
	for _, m := range r.Frame.Members {
		if m.From.X != r.Frame.Members[0].From.X || m.To.X != m.From.X {
			continue
		}
		switch m.Role {
		case structure.Upright:
			v.rect(Medium, White, m.From.Y-m.Part.Height/2, m.From.Z, m.From.Y+m.Part.Height/2, m.To.Z)
		case structure.Rail, structure.Brace:
			r.along(v, Thin, White, m)
		}
	}
	for _, m := range r.Frame.Members {
		if m.Role == structure.Brace && m.From.Y == m.To.Y {
			v.around(Medium, Grey, m.From.Y, m.From.Z, m.Part.Width, m.Part.Height)
		}
	}
}

// along draws a member that runs along the lanes, about its centre line.
func (r *Rack) along(v *view, p Pen, f Shade, m structure.Member) {
	rise := float64(m.To.Z-m.From.Z) / float64(m.To.Y-m.From.Y)
	v.sloped(p, f, m.From.Y, m.From.Z, m.Length(), m.Part.Height, rise)
}

// sloped draws a rectangle about its centre line, which begins at a place and
// rises by slope.
func (v *view) sloped(p Pen, f Shade, across, up, long, high units.Length, slope float64) {
	tilt := math.Hypot(1, slope)
	h := float64(high) / 2
	v.Area(p, f, v.tilted(across+length(h*slope/tilt), up-length(h/tilt), long, high, slope)...)
}

// sideDeck is one level: track and rollers, guide, the cross tubes cut through,
// the stop, the containers.
func (r *Rack) sideDeck(v *view, d *structure.Deck) {
	var track, guide, stop *structure.Member
	for i := range r.Frame.Members {
		m := &r.Frame.Members[i]
		if m.Level != d.Level {
			continue
		}
		switch m.Role {
		case structure.Track:
			track = m
		case structure.Guide:
			guide = m
		case structure.Stop:
			stop = m
		case structure.CrossTube:
			r.section(v, d, m)
		}
	}
	if guide != nil {
		r.along(v, Hair, White, *guide)
	}
	r.track(v, d, track)
	r.boxes(v, d)
	if stop != nil {
		s := d.Slope()
		v.Area(Thin, Black, v.tilted(stop.From.Y-stop.Part.Width/2, stop.From.Z-stop.Part.Height/2, max(stop.Part.Width, units.Length(0.5*v.times*float64(units.Millimetre))), stop.Part.Height, s)...)
	}
}

// section is a cross tube cut through, turned with its level.
func (r *Rack) section(v *view, d *structure.Deck, m *structure.Member) {
	if m.Part.Shape == plant.RoundTube {
		v.Circle(Medium, Grey, v.at(m.From.Y, m.From.Z), m.Part.Height.MM()/2/v.times)
		return
	}
	s := d.Slope()
	half := float64(m.Part.Width) / 2 / math.Hypot(1, s)
	v.sloped(Medium, Grey, m.From.Y-length(half), m.From.Z-length(half*s), m.Part.Width, m.Part.Height, s)
}

// track is a roller track with its rollers.
func (r *Rack) track(v *view, d *structure.Deck, m *structure.Member) {
	if m == nil {
		return
	}
	r.along(v, Thin, White, *m)
	radius := m.Part.Height.MM() * 0.42 / v.times
	pitch := d.RollerPitch
	if radius < 0.15 || pitch <= 0 {
		return
	}
	rise := float64(m.To.Z-m.From.Z) / float64(m.To.Y-m.From.Y)
	first := length(float64(pitch) / 2 / math.Hypot(1, rise))
	v.Rollers(v.at(m.From.Y+first, m.From.Z+length(float64(first)*rise)), v.at(m.To.Y, m.To.Z), pitch.MM()/v.times, radius)
}

// boxes are the containers of the lane that is cut: those planned, and the room of
// those that it could hold besides.
func (r *Rack) boxes(v *view, d *structure.Deck) {
	l, ok := r.cutLane(d.Level)
	if !ok {
		r.sideLabel(v, d)
		return
	}
	s := d.Slope()
	tilt := math.Hypot(1, s)
	for n := range max(l.Capacity, l.Containers) {
		along := units.Length(n) * l.Box.Flow
		start := d.Front + length(float64(along)/tilt)
		if d.Drop < 0 {
			start = d.Back() - length(float64(along+l.Box.Flow)/tilt)
		}
		corners := v.tilted(start, d.Surface(start), l.Box.Flow, l.Box.Height, s)
		if n >= l.Containers {
			v.Area(Dashed, NoShade, corners...)
			continue
		}
		v.Area(Medium, Pale, corners...)
		if n == 0 {
			v.label(inner(corners), false, []string{l.Address(), l.Part}, []string{l.Address() + " " + l.Part}, []string{l.Address()})
		}
	}
}

// inner is the level rectangle inside a tilted one.
func inner(c []Point) box {
	return box{max(c[0].X, c[3].X), max(c[2].Y, c[3].Y), min(c[1].X, c[2].X), min(c[0].Y, c[1].Y)}
}

// sideLabel says over a level without containers what it is for, and which way
// it runs.
func (r *Rack) sideLabel(v *view, d *structure.Deck) {
	text := "free"
	if d.Kind == plant.Return {
		text = "return"
	}
	switch {
	case d.Drop > 0:
		text = fmt.Sprintf("← level %d, %s", d.Level, text)
	case d.Drop < 0:
		text = fmt.Sprintf("level %d, %s →", d.Level, text)
	}
	y := d.Front + d.LaneLength/2
	at := v.at(y, d.Surface(y))
	lift := math.Abs(d.Slope())*Text{Size: plainSize, Text: text}.width()/2 + 1
	at.Y -= lift + plainSize/2
	t := Text{Size: plainSize, Text: text}.centred(at)
	if v.free(t.extent()) {
		v.Area(NoPen, White, t.extent().corners()...)
		v.write(t)
	}
}
