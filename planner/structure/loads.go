package structure

import (
	"cmp"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// carried is what a level carries at full load: newtons between two X of the
// rack, evenly along the whole lane.
type carried struct{ left, right, newtons float64 }

// carries lists what full lanes put on deck d; where no lane of the rack is
// planned the level's mass limit counts, spread over its usable width.
func (f *Frame) carries(d *Deck) []carried {
	var list []carried
	for _, l := range d.Lanes {
		if l.Box.IsZero() || l.Capacity == 0 {
			continue
		}
		left := (d.Left + l.Offset).MM()
		list = append(list, carried{left, left + l.Width.MM(), newtons(l.Box.Gross * units.Mass(l.Capacity))})
	}
	if limit := f.level(d.Level).MassLimit; limit > 0 && !f.planned() {
		list = append(list, carried{d.Left.MM(), (d.Left + d.UsableWidth).MM(), newtons(limit)})
	}
	return list
}

// planned reports whether any lane of the rack is.
func (f *Frame) planned() bool {
	return slices.ContainsFunc(f.Decks, func(d Deck) bool { return len(d.Lanes) > 0 })
}

// level is the rack type's level of that number.
func (f *Frame) level(n int) plant.Level {
	for _, l := range f.Type.Levels {
		if l.Level == n {
			return l
		}
	}
	return plant.Level{}
}

// newtons is the weight of m.
func newtons(m units.Mass) float64 { return m.KG() * gravity }

// kilograms is the mass that weighs n newtons.
func kilograms(n float64) float64 { return n / gravity }

// statics are the beams of a frame and what they hand down.
type statics struct {
	f      *Frame
	limits Limits
	// beams are those of members, by position; axial is the load of each upright.
	beams map[int]Beam
	axial map[int]float64
}

// newStatics loads every cross tube, rail and upright of f with full lanes, the
// uprights with the rack's own mass too.
func newStatics(f *Frame, l Limits) *statics {
	s := &statics{f: f, limits: l, beams: map[int]Beam{}, axial: map[int]float64{}}
	for i := range f.Decks {
		s.crossTubes(&f.Decks[i])
	}
	for i, m := range f.Members {
		if m.Role == Rail {
			s.handDown(i)
		}
	}
	own := newtons(f.mass()) / float64(max(len(f.Supports), 1))
	for _, u := range f.Supports {
		s.axial[u.Under] += own
	}
	return s
}

// mass is the rack's own: the type's where it gives one, else that of its
// pieces.
func (f *Frame) mass() units.Mass {
	if f.Type.OwnMass > 0 {
		return f.Type.OwnMass
	}
	m, _ := f.OwnMass()
	return m
}

// crossTubes loads the cross tubes of a deck, each with the lane from half-way
// to the one before to half-way to the one behind.
func (s *statics) crossTubes(d *Deck) {
	tubes := s.f.crossTubes(d.Level)
	loads := s.f.carries(d)
	for n, i := range tubes {
		from, to := d.Front, d.Back()
		factor := 1.0
		if n > 0 {
			from = max(from, (s.f.Members[tubes[n-1]].From.Y+s.f.Members[i].From.Y)/2)
		}
		if n < len(tubes)-1 {
			to = min(to, (s.f.Members[tubes[n+1]].From.Y+s.f.Members[i].From.Y)/2)
		}
		if n > 0 && n < len(tubes)-1 {
			factor = s.limits.Continuous
		}
		s.load(i, loads, factor*float64(max(to-from, 0))/float64(d.LaneLength))
		s.handDown(i)
	}
}

// crossTubes are the positions of a level's cross tubes from the pick side.
func (f *Frame) crossTubes(level int) (tubes []int) {
	for i, m := range f.Members {
		if m.Role == CrossTube && m.Level == level {
			tubes = append(tubes, i)
		}
	}
	slices.SortFunc(tubes, func(a, b int) int { return cmp.Compare(f.Members[a].From.Y, f.Members[b].From.Y) })
	return tubes
}

// load puts a share of what a deck carries on a cross tube.
func (s *statics) load(tube int, loads []carried, share float64) {
	m := s.f.Members[tube]
	b := s.beam(m)
	for _, c := range loads {
		from, to := max(c.left-m.From.X.MM(), 0), min(c.right-m.From.X.MM(), b.Span)
		if c.newtons > 0 && to > from {
			b.Loads = append(b.Loads, Force{from, to, c.newtons * share})
		}
	}
	s.beams[tube] = b
}

// beam is a member without load. Bolts take metal off rails, and off all tubes
// that have holes along their length.
func (s *statics) beam(m Member) Beam {
	b := Beam{Span: m.Length().MM(), Elastic: m.Part.Modulus.MPa(), Section: SectionOf(m.Part)}
	k := s.f.Kit
	if k.HoleDiameter > 0 && (m.Role != CrossTube || k.HolePitch > 0) {
		b.Section = Drilled(m.Part, k.HoleDiameter.MM(), k.HoleWalls)
	}
	return b
}

// handDown gives a member's reactions to what carries it.
func (s *statics) handDown(i int) {
	m, b := s.f.Members[i], s.beams[i]
	left, right := b.Reactions()
	for _, j := range s.f.Joints {
		if j.Tube != i {
			continue
		}
		force := right
		if j.At == m.From {
			force = left
		}
		s.take(j, force)
	}
}

// take puts a force on the tube that a joint stands on.
func (s *statics) take(j Joint, force float64) {
	on := s.f.Members[j.On]
	if on.Role == Upright {
		s.axial[j.On] += force
		return
	}
	b, ok := s.beams[j.On]
	if !ok {
		b = s.beam(on)
	}
	b.Loads = append(b.Loads, PointLoad(on.From.To(Point{on.From.X, j.At.Y, j.At.Z}).MM(), force))
	s.beams[j.On] = b
}
