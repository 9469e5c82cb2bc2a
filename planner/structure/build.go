package structure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

const (
	// trackSpan is the longest free span of a roller track between two cross
	// tubes; trackGap the distance of tracks on a level whose lanes are not
	// planned. Common practice, no source: the makers' tables decide.
	trackSpan = 600 * units.Millimetre
	trackGap  = 150 * units.Millimetre
	// leastSpan is how near cross tubes may stand to share a load. Common practice,
	// no source.
	leastSpan = 150 * units.Millimetre
	// wideBox is the side across the lane from which a container lies on three
	// tracks. Common practice, no source.
	wideBox = 400 * units.Millimetre
)

// Build makes a frame of a rack type out of a kit's parts, with the tracks,
// guides and stops of the lanes planned on it; without lanes a level has tracks
// over its whole width. A level has as few cross tubes as keep its tracks' free
// span and hold it by DefaultLimits at full load; where no number of them does,
// as few as keep the span. What the kit can not build is found; the frame is built
// all the same where it has a tube for every use, a roller track, a guide and a
// stop, else it is nil.
func Build(t *plant.RackType, k *plant.Kit, lanes []Lane) (*Frame, finding.List) {
	f, found := build(t, k, lanes, nil)
	if f == nil {
		return nil, found
	}
	more := f.moreTubes()
	if len(more) == 0 {
		return f, found
	}
	return build(t, k, lanes, more)
}

// moreTubes is, for each level whose cross tubes carry too much, how many more in
// each bay would hold it; levels that no number of them would hold have none.
func (f *Frame) moreTubes() map[int]units.Length {
	limits := DefaultLimits()
	more, open := map[int]units.Length{}, f.weak(limits)
	for n := units.Length(1); len(open) > 0; n++ {
		tried := map[int]units.Length{}
		for _, level := range open {
			tried[level] = n
		}
		denser, _ := build(f.Type, f.Kit, f.lanes(), tried)
		weak := denser.weak(limits)
		for _, level := range open {
			if !slices.Contains(weak, level) {
				more[level] = n
			}
		}
		open = slices.DeleteFunc(weak, func(level int) bool { return tried[level] == 0 || denser.tight(level) })
	}
	return more
}

// weak are the levels with a cross tube that carries too much.
func (f *Frame) weak(l Limits) (levels []int) {
	s := &statics{f: f, limits: l, beams: map[int]Beam{}, axial: map[int]float64{}}
	for i := range f.Decks {
		d := &f.Decks[i]
		s.crossTubes(d)
		if slices.ContainsFunc(f.crossTubes(d.Level), func(i int) bool {
			return slices.ContainsFunc(s.bending(i), func(u Use) bool { return u.Share > 1 })
		}) {
			levels = append(levels, d.Level)
		}
	}
	return levels
}

// tight reports whether no more cross tubes have room on a level.
func (f *Frame) tight(level int) bool {
	tubes := f.crossTubes(level)
	for n := range len(tubes) - 1 {
		if f.Members[tubes[n+1]].From.Y-f.Members[tubes[n]].From.Y < 2*leastSpan {
			return true
		}
	}
	return false
}

// lanes are those of all levels.
func (f *Frame) lanes() (list []Lane) {
	for _, d := range f.Decks {
		list = append(list, d.Lanes...)
	}
	return list
}

// build is Build with so many more cross tubes in each bay of a level.
func build(t *plant.RackType, k *plant.Kit, lanes []Lane, more map[int]units.Length) (*Frame, finding.List) {
	b := &builder{f: &Frame{Type: t, Kit: k}, lanes: slices.Clone(lanes), more: more}
	if !b.parts() {
		return nil, b.found
	}
	slices.SortStableFunc(b.lanes, func(a, c Lane) int {
		return cmp.Or(cmp.Compare(a.Level, c.Level), cmp.Compare(a.Offset, c.Offset))
	})
	b.outside()
	b.uprights()
	b.decks()
	b.braces()
	for i := range b.f.Decks {
		b.level(&b.f.Decks[i])
	}
	b.f.clears()
	b.stock()
	return b.f, b.found
}

// builder is a frame under way.
type builder struct {
	f     *Frame
	lanes []Lane
	// more are cross tubes in each bay of a level beside those that the span asks for.
	more map[int]units.Length
	// tubes by use, and what lies on a level.
	upright, cross, rail, brace *plant.KitPart
	track, guide, stop, support *plant.KitPart
	found                       finding.List
}

// side is the outside of the uprights in plan; they stand with equal sides to X
// and Y, or the wider one counts for both.
func (b *builder) side() units.Length { return max(b.upright.Width, b.upright.Height) }

// parts looks up what the frame needs, and reports what the kit lacks.
func (b *builder) parts() bool {
	k := b.f.Kit
	b.support = k.Of(plant.FootPart)
	if b.f.Type.OnCasters || b.support == nil {
		if caster := k.Of(plant.CasterPart); caster != nil {
			b.support = caster
		}
	}
	ok := true
	for _, n := range []struct {
		into **plant.KitPart
		part *plant.KitPart
		what string
	}{
		{&b.upright, k.Tube(plant.AsUpright), "tube for uprights"}, {&b.cross, k.Tube(plant.AsCrossTube), "tube for cross tubes"},
		{&b.rail, k.Tube(plant.AsRail), "tube for rails"}, {&b.brace, k.Tube(plant.AsBrace), "tube for braces"},
		{&b.track, k.Of(plant.RollerPart), "roller"}, {&b.guide, k.Of(plant.GuidePart), "guide"}, {&b.stop, k.Of(plant.StopPart), "stop"},
	} {
		if *n.into = n.part; n.part == nil {
			b.lacks(n.what)
			ok = false
		}
	}
	return ok
}

// outside settles width, depth and the rows of uprights, so that the tubes
// between them are whole cut steps. The rack becomes no wider than its type
// unless its levels need the width.
func (b *builder) outside() {
	t, s, step := b.f.Type, b.side(), b.f.Kit.CutStep
	inner := down(t.Width-2*s, step)
	for _, l := range t.Levels {
		inner = max(inner, up(l.UsableWidth, step))
	}
	b.f.Width = inner + 2*s
	if b.f.Width > t.Width {
		b.tooNarrow()
	}
	bays := units.Length(1)
	for _, l := range t.Levels {
		if k := b.f.Kit.CentreSupport; k > 0 {
			bays = max(bays, 1+l.LaneLength/k)
		}
	}
	bay := down((t.Depth-(bays+1)*s)/bays, step)
	b.f.Depth = bays*bay + (bays+1)*s
	for i := range bays + 1 {
		b.f.Rows = append(b.f.Rows, s/2+i*(bay+s))
	}
	b.f.Height = t.Height
}

// down and up round l to whole steps.
func down(l, step units.Length) units.Length {
	if step <= 1 {
		return l
	}
	return l - l%step
}

func up(l, step units.Length) units.Length {
	if step <= 1 || l%step == 0 {
		return l
	}
	return down(l, step) + step
}

// add appends a member and returns its position.
func (b *builder) add(mark string, r Role, level int, p *plant.KitPart, from, to Point) int {
	m := Member{Mark: mark, Role: r, Level: level, Part: p, From: from, To: to}
	m.Cut = m.Length()
	if m.IsTube() {
		m.Cut = down(m.Cut, b.f.Kit.CutStep)
	}
	b.f.Members = append(b.f.Members, m)
	return len(b.f.Members) - 1
}

// join notes that an end of tube meets the side of on, and where the centre
// lines of the two cross.
func (b *builder) join(tube, on int, end, cross Point) {
	b.f.Joints = append(b.f.Joints, Joint{Tube: tube, On: on, At: end, Along: b.f.Members[on].From.To(cross)})
}

// between joins both ends of tube to the centre lines of two others.
func (b *builder) between(tube, from, to int) {
	m := b.f.Members[tube]
	b.join(tube, from, m.From, b.crossing(m, from))
	b.join(tube, to, m.To, b.crossing(m, to))
}

// crossing is where the centre line of m, made longer, crosses that of an
// upright.
func (b *builder) crossing(m Member, upright int) Point {
	u := b.f.Members[upright].From
	if m.From.Y == m.To.Y {
		return Point{u.X, u.Y, m.From.Z}
	}
	rise := float64(m.To.Z-m.From.Z) / float64(m.To.Y-m.From.Y)
	return Point{u.X, u.Y, m.From.Z + length(rise*float64(u.Y-m.From.Y))}
}

// uprights stand left and right in each row on their feet or casters.
func (b *builder) uprights() {
	foot := units.Length(0)
	if b.support != nil {
		foot = b.support.Height
	}
	top := foot + down(b.f.Type.Height-foot, b.f.Kit.CutStep)
	b.f.Height = top
	for _, y := range b.f.Rows {
		for _, x := range b.sides() {
			n := len(b.f.Members)
			i := b.add(fmt.Sprintf("U%d", n+1), Upright, 0, b.upright, Point{x, y, foot}, Point{x, y, top})
			if b.support != nil {
				b.f.Supports = append(b.f.Supports, Support{Under: i, Part: b.support, At: Point{x, y, 0}})
			}
		}
	}
}

// sides are the X of the uprights' centre lines.
func (b *builder) sides() []units.Length {
	return []units.Length{b.side() / 2, b.f.Width - b.side()/2}
}

// uprightAt is the position of the upright in a row: 0 left, 1 right.
func uprightAt(row, side int) int { return 2*row + side }

// bottom is the lower end of the uprights.
func (b *builder) bottom() units.Length { return b.f.Members[0].From.Z }

// onGrid moves a height to the nearest hole of the uprights.
func (b *builder) onGrid(z units.Length) units.Length {
	k := b.f.Kit
	if k.HolePitch == 0 {
		return z
	}
	first := b.bottom() + k.FirstHole
	return first + max(nearestStep(z-first, k.HolePitch), 0)
}

// nearestStep rounds l to the nearest whole multiple of step.
func nearestStep(l, step units.Length) units.Length {
	return units.Length(math.Round(float64(l)/float64(step))) * step
}

// under is how far the centre of the cross tubes lies under the lane surface,
// square to it.
func (b *builder) under() units.Length { return b.track.Height + b.cross.Height/2 }

// decks settles the levels' heights; where the uprights have holes the joints
// of cross tubes go to the nearest ones that keep a straight slope.
func (b *builder) decks() {
	for _, l := range b.f.Type.Levels {
		if l.LaneLength <= 0 {
			continue
		}
		d := Deck{
			Level: l.Level, Kind: l.Kind, PickHeight: l.PickHeight, Drop: l.Drop, LaneLength: l.LaneLength, UsableWidth: l.UsableWidth,
			Front: (b.f.Depth - l.LaneLength) / 2, Left: (b.f.Width - l.UsableWidth) / 2, RollerPitch: b.track.Pitch,
		}
		for _, lane := range b.lanes {
			if lane.Level == l.Level {
				d.Lanes = append(d.Lanes, lane)
			}
		}
		if d.RollerPitch == 0 {
			d.RollerPitch = d.shortest().Flow / units.Length(max(b.f.Kit.RollersUnder, 1))
		}
		if b.f.Kit.HolePitch > 0 {
			b.settle(&d)
		}
		b.f.Decks = append(b.f.Decks, d)
	}
	slices.SortStableFunc(b.f.Decks, func(a, c Deck) int { return cmp.Compare(a.PickHeight, c.PickHeight) })
}

// settle moves a deck onto the holes: its first row to the nearest one, its
// last row by as many holes as there are bays, so that the rows between meet
// holes too.
func (b *builder) settle(d *Deck) {
	rows := b.f.Rows
	first, last := rows[0], rows[len(rows)-1]
	step := b.f.Kit.HolePitch * units.Length(len(rows)-1)
	from, to := b.centre(*d, first), b.centre(*d, last)
	z := b.onGrid(from)
	rise := nearestStep(to-from, step)
	switch {
	case rise == 0 && d.Drop > 0:
		rise = step
	case rise == 0 && d.Drop < 0:
		rise = -step
	}
	slope := float64(rise) / float64(last-first)
	d.Drop = length(slope * float64(d.LaneLength))
	d.PickHeight = z + length(float64(b.under())*math.Hypot(1, slope)+slope*float64(d.Front-first))
}

// centre is the height of a level's cross tubes at y.
func (b *builder) centre(d Deck, y units.Length) units.Length {
	return d.Surface(y) - length(float64(b.under())*math.Hypot(1, d.Slope()))
}
