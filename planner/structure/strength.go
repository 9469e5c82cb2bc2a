package structure

import (
	"math"
	"slices"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Criterion is what limits a member.
type Criterion string

// Criteria.
const (
	Bending     Criterion = "bending stress"
	Deflection  Criterion = "deflection"
	Buckling    Criterion = "buckling"
	Slenderness Criterion = "slenderness"
	MakersLimit Criterion = "maker's limit"
)

// Use is how far a member is used: Value over Limit is Share.
type Use struct {
	// Mark is the member's, or that of the upright over a foot or caster.
	Mark  string
	Role  Role
	Level int
	By    Criterion
	// Load is what the member carries, in kg.
	Load                float64
	Value, Limit, Share float64
	Unit                string
}

func use(m Member, by Criterion, load, value, limit float64, unit string) Use {
	return Use{m.Mark, m.Role, m.Level, by, load, value, limit, value / limit, unit}
}

// more orders uses by share, the largest first.
func more(a, b Use) int {
	switch {
	case a.Share > b.Share:
		return -1
	case a.Share < b.Share:
		return 1
	}
	return 0
}

// Uses lists how far every loaded tube, foot and caster of f is used at full
// load, the most used first: the first one governs. What the kit does not know
// (yield stress, modulus, maker's limit) is not in the list.
func Uses(f *Frame, l Limits) []Use {
	s := newStatics(f, l)
	var list []Use
	for i, m := range f.Members {
		switch {
		case m.Role == Upright:
			list = append(list, s.upright(i)...)
		case len(s.beams[i].Loads) > 0:
			list = append(list, s.bending(i)...)
		}
	}
	for _, u := range f.Supports {
		if limit := u.Part.MassLimit.KG(); limit > 0 {
			load := kilograms(s.axial[u.Under])
			list = append(list, use(f.Members[u.Under], MakersLimit, load, load, limit, "kg"))
		}
	}
	for i := range f.Decks {
		list = append(list, f.rollers(&f.Decks[i])...)
	}
	slices.SortStableFunc(list, more)
	return list
}

// bending judges stress against a share of the yield stress and deflection
// against the span over a number.
func (s *statics) bending(i int) []Use {
	m, b := s.f.Members[i], s.beams[i]
	load := 0.0
	for _, f := range b.Loads {
		load += kilograms(f.N)
	}
	var list []Use
	if y := m.Part.Yield.MPa(); y > 0 {
		list = append(list, use(m, Bending, load, b.Stress(), s.limits.StressShare*y, "MPa"))
	}
	if b.Elastic > 0 {
		d, _ := b.MostDeflection()
		list = append(list, use(m, Deflection, load, d, b.Span/s.limits.SpanOver, "mm"))
	}
	return list
}

// upright judges buckling over the longest stretch that no tube ties.
func (s *statics) upright(i int) []Use {
	m := s.f.Members[i]
	slender := s.limits.ColumnLength * s.f.free(i).MM() / thinnest(m.Part)
	load := kilograms(s.axial[i])
	list := []Use{use(m, Slenderness, load, slender, s.limits.MostSlender, "")}
	if m.Part.Yield > 0 && m.Part.Modulus > 0 {
		area := s.beam(m).Section.Area
		limit := column(slender, m.Part.Yield.MPa(), m.Part.Modulus.MPa()) / s.limits.ColumnSafety
		list = append(list, use(m, Buckling, load, s.axial[i]/area, limit, "MPa"))
	}
	return list
}

// free is the longest stretch of an upright without a tube that ties it.
func (f *Frame) free(i int) units.Length {
	var longest, last units.Length
	for _, at := range f.Holes(i) {
		longest, last = max(longest, at-last), at
	}
	return longest
}

// thinnest is the smaller radius of gyration of a section, in mm.
func thinnest(p *plant.KitPart) float64 {
	turned := *p
	turned.Width, turned.Height = p.Height, p.Width
	return min(SectionOf(p).Radius, SectionOf(&turned).Radius)
}

// rollers judges the rollers of each lane: two of three, or half of more, share
// a container's mass on each track (practice of makers, seen, weak).
func (f *Frame) rollers(d *Deck) []Use {
	var list []Use
	for n, l := range d.Lanes {
		track := f.first(Track, d.Level)
		if l.Box.IsZero() || track == nil || track.Part.MassLimit == 0 || d.RollerPitch <= 0 {
			continue
		}
		under := float64(l.Box.Flow / d.RollerPitch)
		sharing := under / 2
		if under <= 3 {
			sharing = max(math.Floor(under*2/3), 1)
		}
		tracks := float64(f.tracksUnder(*d, n))
		load := l.Box.Gross.KG() / (sharing * tracks)
		list = append(list, use(*track, MakersLimit, l.Box.Gross.KG(), load, track.Part.MassLimit.KG(), "kg"))
	}
	return list
}

// first is the first member of a role on a level, nil where there is none.
func (f *Frame) first(r Role, level int) *Member {
	for i := range f.Members {
		if m := &f.Members[i]; m.Role == r && m.Level == level {
			return m
		}
	}
	return nil
}

// tracksUnder counts the tracks of the nth lane of d.
func (f *Frame) tracksUnder(d Deck, n int) int {
	left := d.Left + d.Lanes[n].Offset
	count := 0
	for _, m := range f.Members {
		if m.Role == Track && m.Level == d.Level && m.From.X > left && m.From.X < left+d.Lanes[n].Width {
			count++
		}
	}
	return max(count, 1)
}
