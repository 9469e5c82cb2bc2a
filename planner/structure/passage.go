package structure

import (
	"math"

	"lanewright/planner/units"
)

// bar is a tube that crosses the rack, seen from its side.
type bar struct {
	level int
	// y and z are its centre; width and height its section, turned by tilt
	// (radians, up towards the load side).
	y, z, width, height, tilt float64
	round                     bool
}

// bars are the tubes of f that cross the whole rack: what containers could
// strike. Rails lie beside the lanes.
func (f *Frame) bars() []bar {
	var list []bar
	for _, m := range f.Members {
		if m.From.Y != m.To.Y || !m.IsTube() || m.Role == Upright {
			continue
		}
		b := bar{level: m.Level, y: float64(m.From.Y), z: float64(m.From.Z), width: float64(m.Part.Width), height: float64(m.Part.Height), round: m.Part.Shape == "round"}
		if d := f.Deck(m.Level); d != nil {
			b.tilt = math.Atan(d.Slope())
		}
		list = append(list, b)
	}
	return list
}

// half is how far the bar reaches from its centre towards a plane tilted by
// angle: the support of its section.
func (b bar) half(angle float64) float64 {
	if b.round {
		return b.height / 2
	}
	turn := b.tilt - angle
	return b.height/2*math.Abs(math.Cos(turn)) + b.width/2*math.Abs(math.Sin(turn))
}

// over is how far the bar's nearest side lies over the lane surface of d,
// square to it: the height of a container that just passes. Bars before the
// pick edge and behind the load edge count too, for containers come in and go
// out there. ok is false where the bar lies under the surface or belongs to d.
func (b bar) over(d Deck) (clear float64, ok bool) {
	centre := b.aloft(d)
	if b.level == d.Level || centre <= 0 {
		return 0, false
	}
	return centre - b.half(math.Atan(d.Slope())), true
}

// aloft is how far the bar's centre lies over the lane surface, square to it.
func (b bar) aloft(d Deck) float64 {
	s := d.Slope()
	surface := float64(d.PickHeight) + s*(b.y-float64(d.Front))
	return (b.z - surface) / math.Hypot(1, s)
}

// sunk is how deep the bar reaches from below into the tracks and cross tubes
// of d, which are so deep; 0 or less is clear of them.
func (b bar) sunk(d Deck, deep units.Length) float64 {
	aloft := b.aloft(d)
	if b.level == d.Level || aloft > 0 {
		return 0
	}
	return aloft + b.half(math.Atan(d.Slope())) + float64(deep)
}

// clears measures what passes on each deck, and the free height at its pick
// edge.
func (f *Frame) clears() {
	bars := f.bars()
	for i := range f.Decks {
		d := &f.Decks[i]
		for _, b := range bars {
			if clear, ok := b.over(*d); ok {
				d.Clear = least(d.Clear, clear)
			}
			if above := b.z - b.half(0) - float64(d.PickHeight); b.level != d.Level && above > 0 && b.y <= float64(f.Rows[0]) {
				d.PickClear = least(d.PickClear, above)
			}
		}
	}
}

// least keeps the smaller clear height, rounded down, at least a nanometre: 0
// is nothing above.
func least(so units.Length, clear float64) units.Length {
	c := max(units.Length(math.Floor(clear)), 1)
	if so == 0 {
		return c
	}
	return min(so, c)
}
