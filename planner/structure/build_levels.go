package structure

import (
	"fmt"
	"math"
	"slices"

	"lanewright/planner/units"
)

// braces tie the uprights at the bottom and the top, except where the tubes of
// a level do so already.
func (b *builder) braces() {
	half := b.brace.Height / 2
	k := b.f.Kit
	low, high := b.bottom()+half, b.f.Height-half
	if k.HolePitch > 0 {
		low = b.bottom() + k.FirstHole + up(max(half-k.FirstHole, 0), k.HolePitch)
		high = b.bottom() + k.FirstHole + down(high-b.bottom()-k.FirstHole, k.HolePitch)
	}
	for _, z := range []units.Length{low, high} {
		for row := range b.f.Rows {
			b.braceAcross(row, z)
		}
		for bay := range len(b.f.Rows) - 1 {
			b.braceAlong(bay, z)
		}
	}
}

func (b *builder) braceMark() string { return fmt.Sprintf("B%d", len(b.f.Members)-2*len(b.f.Rows)+1) }

// braceAcross ties the two uprights of a row.
func (b *builder) braceAcross(row int, z units.Length) {
	y := b.f.Rows[row]
	if b.taken(z, y, y) {
		return
	}
	i := b.add(b.braceMark(), Brace, 0, b.brace, Point{b.side(), y, z}, Point{b.f.Width - b.side(), y, z})
	b.between(i, uprightAt(row, 0), uprightAt(row, 1))
}

// braceAlong ties two neighbouring rows, left and right.
func (b *builder) braceAlong(bay int, z units.Length) {
	y0, y1 := b.f.Rows[bay]+b.side()/2, b.f.Rows[bay+1]-b.side()/2
	if b.taken(z, y0, y1) {
		return
	}
	for side, x := range b.sides() {
		i := b.add(b.braceMark(), Brace, 0, b.brace, Point{x, y0, z}, Point{x, y1, z})
		b.between(i, uprightAt(bay, side), uprightAt(bay+1, side))
	}
}

// taken reports whether the tubes of a level stand where a brace at height z
// would, anywhere from y0 to y1.
func (b *builder) taken(z, y0, y1 units.Length) bool {
	room := float64(b.brace.Height+max(b.rail.Height, b.cross.Height)) / 2
	return slices.ContainsFunc(b.f.Decks, func(d Deck) bool {
		low, high := b.centre(d, y0), b.centre(d, y1)
		if low > high {
			low, high = high, low
		}
		grow := length(room * math.Hypot(1, d.Slope()))
		return z > low-grow && z < high+grow
	})
}

// level builds what belongs to one deck.
func (b *builder) level(d *Deck) {
	rows := b.f.Rows
	n := 0
	cross := func(from, to Point) int {
		n++
		return b.add(fmt.Sprintf("%dC%d", d.Level, n), CrossTube, d.Level, b.cross, from, to)
	}
	inner := make([][]int, len(rows)-1)
	for row, y := range rows {
		z := b.centre(*d, y)
		i := cross(Point{b.side(), y, z}, Point{b.f.Width - b.side(), y, z})
		b.between(i, uprightAt(row, 0), uprightAt(row, 1))
		if row == len(rows)-1 {
			break
		}
		edge := (b.side() + b.rail.Width) / 2
		for _, y := range b.inside(*d, row) {
			z := b.centre(*d, y)
			inner[row] = append(inner[row], cross(Point{edge, y, z}, Point{b.f.Width - edge, y, z}))
		}
	}
	b.rails(d, inner)
	b.tracks(d)
	b.guides(d)
	b.stops(d)
}

// inside are the Y of the cross tubes inside a bay: as few as keep the tracks'
// free span and those that the load asks for, evenly spread, on the rail's holes
// where it has them.
func (b *builder) inside(d Deck, bay int) []units.Length {
	y0, y1 := b.f.Rows[bay], b.f.Rows[bay+1]
	n := (y1-y0+trackSpan-1)/trackSpan + b.more[d.Level]
	var at []units.Length
	for i := units.Length(1); i < n; i++ {
		at = append(at, b.onRail(d, bay, y0+(y1-y0)*i/n))
	}
	return slices.Compact(at)
}

// railEnds are the Y of a rail's cuts: square cuts whose corners just clear the
// uprights' sides.
func (b *builder) railEnds(d Deck, bay int) (from, to units.Length) {
	s := d.Slope()
	corner := length(float64(b.rail.Height) / 2 * math.Abs(s) / math.Hypot(1, s))
	return b.f.Rows[bay] + b.side()/2 + corner, b.f.Rows[bay+1] - b.side()/2 - corner
}

// onRail moves y to the nearest hole of the bay's rail.
func (b *builder) onRail(d Deck, bay int, y units.Length) units.Length {
	k := b.f.Kit
	if k.HolePitch == 0 {
		return y
	}
	from, _ := b.railEnds(d, bay)
	tilt := math.Hypot(1, d.Slope())
	along := length(float64(y-from)*tilt) - k.FirstHole
	return from + length(float64(k.FirstHole+max(nearestStep(along, k.HolePitch), 0))/tilt)
}

// rails run from row to row, left and right, and carry the cross tubes between.
func (b *builder) rails(d *Deck, inner [][]int) {
	n := 0
	for bay := range inner {
		y0, y1 := b.railEnds(*d, bay)
		for side, x := range b.sides() {
			n++
			i := b.add(fmt.Sprintf("%dR%d", d.Level, n), Rail, d.Level, b.rail, Point{x, y0, b.centre(*d, y0)}, Point{x, y1, b.centre(*d, y1)})
			b.between(i, uprightAt(bay, side), uprightAt(bay+1, side))
			for _, c := range inner[bay] {
				end := []Point{b.f.Members[c].From, b.f.Members[c].To}[side]
				b.join(c, i, end, Point{x, end.Y, end.Z})
			}
		}
	}
}

// laid is the centre line of what lies along the lanes at x, its middle so far
// over the lane surface, square to it, from y0 to y1.
func laid(d *Deck, x, over, y0, y1 units.Length) (from, to Point) {
	s := d.Slope()
	tilt := math.Hypot(1, s)
	dy, dz := length(-float64(over)*s/tilt), length(float64(over)/tilt)
	return Point{x, y0 + dy, d.Surface(y0) + dz}, Point{x, y1 + dy, d.Surface(y1) + dz}
}

// tracks lie under the containers of each lane, or over the whole width where
// no lane is planned.
func (b *builder) tracks(d *Deck) {
	for n, x := range b.trackPlaces(d) {
		from, to := laid(d, d.Left+x, -b.track.Height/2, d.Front, d.Back())
		b.add(fmt.Sprintf("%dT%d", d.Level, n+1), Track, d.Level, b.track, from, to)
	}
}

// trackPlaces are the middles of the tracks from the left end of the usable
// width.
func (b *builder) trackPlaces(d *Deck) []units.Length {
	var at []units.Length
	for _, l := range d.Lanes {
		across := l.Box.Across
		if l.Box.IsZero() {
			across = l.Width
		}
		middle, inset := l.Offset+l.Width/2, b.track.Width
		switch edge := across/2 - inset; {
		case across < 3*inset:
			at = append(at, middle)
		case across < wideBox:
			at = append(at, middle-edge, middle+edge)
		default:
			at = append(at, middle-edge, middle, middle+edge)
		}
	}
	if len(d.Lanes) > 0 {
		return at
	}
	n := max(d.UsableWidth/trackGap, 1)
	for i := range n {
		at = append(at, d.UsableWidth*(2*i+1)/(2*n))
	}
	return at
}

// guides stand between neighbouring lanes and, between the uprights, left and
// right of the usable width. They rest on the cross tubes.
func (b *builder) guides(d *Deck) {
	over := b.guide.Height/2 - b.track.Height
	n := 0
	guide := func(x, y0, y1 units.Length) {
		n++
		from, to := laid(d, x, over, y0, y1)
		b.add(fmt.Sprintf("%dG%d", d.Level, n), Guide, d.Level, b.guide, from, to)
	}
	half := b.guide.Width / 2
	y0, y1 := max(d.Front, b.side()), min(d.Back(), b.f.Depth-b.side())
	guide(d.Left-half, y0, y1)
	for i := 1; i < len(d.Lanes); i++ {
		gap := d.Lanes[i-1].Offset + d.Lanes[i-1].Width
		guide(d.Left+(gap+d.Lanes[i].Offset)/2, d.Front, d.Back())
	}
	guide(d.Left+d.UsableWidth+half, y0, y1)
}

// stops stand at the low edge, one for each lane, or one over the whole width.
// They rest on the cross tubes.
func (b *builder) stops(d *Deck) {
	y := d.Front - b.stop.Width/2
	if d.Drop < 0 {
		y = d.Back() + b.stop.Width/2
	}
	lanes := d.Lanes
	if len(lanes) == 0 {
		lanes = []Lane{{Width: d.UsableWidth}}
	}
	for n, l := range lanes {
		from, _ := laid(d, d.Left+l.Offset, b.stop.Height/2-b.track.Height, y, y)
		to := from
		to.X += l.Width
		b.add(fmt.Sprintf("%dS%d", d.Level, n+1), Stop, d.Level, b.stop, from, to)
	}
}
