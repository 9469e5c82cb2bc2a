package structure

import (
	"math"

	"lanewright/planner/units"
)

// Edge is a side of a rack over which it may fall.
type Edge string

// Edges.
const (
	PickEdge  Edge = "pick side"
	LoadEdge  Edge = "load side"
	LeftEdge  Edge = "left end"
	RightEdge Edge = "right end"
)

func edges() []Edge { return []Edge{PickEdge, LoadEdge, LeftEdge, RightEdge} }

// Tip is how firmly a rack stands over one edge, filled in the worst way.
type Tip struct {
	Edge Edge
	// Angle in degrees by which the rack must lean before it falls, with the
	// containers that make it least; 0 or less falls by itself.
	Angle float64
	// Push is what holds the rack down over what the limits' push lifts, with the
	// containers that make it least.
	Push float64
}

// weight is a mass in kg, its middle's distance inside an edge and its height,
// in mm.
type weight struct{ kg, in, up float64 }

// Tips judges f over its four edges, where its feet or casters stand.
func Tips(f *Frame, l Limits) []Tip {
	var list []Tip
	if len(f.Supports) == 0 {
		return nil
	}
	for _, e := range edges() {
		own, lanes := f.weights(e)
		height := min(l.PushHeight, f.Height.MM())
		list = append(list, Tip{Edge: e, Angle: leastAngle(own, lanes), Push: gravity * leastHold(own, lanes) / (l.Push * height)})
	}
	return list
}

// weights are the rack's own (1 kg where it is not known) and, for each lane, the ways it may be filled.
func (f *Frame) weights(e Edge) (own weight, lanes [][]weight) {
	middle := f.middle()
	own = weight{max(f.mass().KG(), 1), f.inside(e, middle), middle.Z.MM()}
	for i := range f.Decks {
		d := &f.Decks[i]
		if !f.planned() {
			lanes = append(lanes, f.promised(e, d))
		}
		for _, l := range d.Lanes {
			lanes = append(lanes, f.fillings(e, d, l))
		}
	}
	return own, lanes
}

// inside is how far p lies inside an edge, in mm; below 0 is beyond it.
func (f *Frame) inside(e Edge, p Point) float64 {
	first, last := f.Supports[0].At, f.Supports[len(f.Supports)-1].At
	switch e {
	case PickEdge:
		return (p.Y - first.Y).MM()
	case LoadEdge:
		return (last.Y - p.Y).MM()
	case LeftEdge:
		return (p.X - first.X).MM()
	default:
		return (last.X - p.X).MM()
	}
}

// middle is where the rack's own mass has its middle, by its pieces.
func (f *Frame) middle() Point {
	var sum, x, y, z float64
	for _, m := range f.Members {
		kg := m.Part.Mass.KG() + m.Part.MassPerMetre.KG()*m.Cut.Metres()
		sum += kg
		x += kg * float64(m.From.X+m.To.X) / 2
		y += kg * float64(m.From.Y+m.To.Y) / 2
		z += kg * float64(m.From.Z+m.To.Z) / 2
	}
	if sum == 0 {
		return Point{f.Width / 2, f.Depth / 2, f.Height / 2}
	}
	return Point{length(x / sum), length(y / sum), length(z / sum)}
}

// fillings are the ways a lane may stand: 1 to all containers one behind the
// other at the low edge, or one just put in at the high edge. Empty is none of
// them.
func (f *Frame) fillings(e Edge, d *Deck, l Lane) []weight {
	if l.Box.IsZero() {
		return nil
	}
	at := func(n int, y units.Length) weight {
		p := Point{d.Left + l.Offset + l.Width/2, y, d.Surface(y) + l.Box.Height/2}
		return weight{float64(n) * l.Box.Gross.KG(), f.inside(e, p), p.Z.MM()}
	}
	var ways []weight
	for n := 1; n <= l.Capacity; n++ {
		half := l.Box.Flow * units.Length(n) / 2
		if d.Drop < 0 {
			ways = append(ways, at(n, d.Back()-half))
		} else {
			ways = append(ways, at(n, d.Front+half))
		}
	}
	if d.Drop < 0 {
		return append(ways, at(1, d.Front+l.Box.Flow/2))
	}
	return append(ways, at(1, d.Back()-l.Box.Flow/2))
}

// promised are the ways a level without planned lanes may stand: its mass limit
// all over it, or half of it on either half.
func (f *Frame) promised(e Edge, d *Deck) []weight {
	limit := f.level(d.Level).MassLimit.KG()
	if limit == 0 {
		return nil
	}
	height := f.level(d.Level).ClearHeight / 2
	at := func(kg float64, x, y units.Length) weight {
		p := Point{d.Left + x, y, d.Surface(y) + height}
		return weight{kg, f.inside(e, p), p.Z.MM()}
	}
	long, wide := d.LaneLength, d.UsableWidth
	return []weight{
		at(limit, wide/2, d.Front+long/2), at(limit/2, wide/2, d.Front+long/4), at(limit/2, wide/2, d.Front+3*long/4),
		at(limit/2, wide/4, d.Front+long/2), at(limit/2, 3*wide/4, d.Front+long/2),
	}
}

// leastAngle is the least angle of tipping over all fillings, in degrees: the
// tangent is Σ m·in over Σ m·up, and the filling that makes a quotient of sums
// least is found by Dinkelbach's steps: against the least quotient so far each
// lane takes by itself the filling with the least m·(in − quotient·up).
func leastAngle(own weight, lanes [][]weight) float64 {
	quotient := math.Inf(1)
	over, under := own.kg*own.in, own.kg*own.up
	for over/under < quotient-1e-12 {
		quotient = over / under
		over, under = own.kg*own.in, own.kg*own.up
		for _, ways := range lanes {
			best, least := weight{}, 0.0
			for _, w := range ways {
				if v := w.kg * (w.in - quotient*w.up); v < least {
					best, least = w, v
				}
			}
			over += best.kg * best.in
			under += best.kg * best.up
		}
	}
	return math.Atan(quotient) * 180 / math.Pi
}

// leastHold is the least Σ m·in over all fillings, in kg·mm: only containers
// beyond the edge take away from the rack's own.
func leastHold(own weight, lanes [][]weight) float64 {
	hold := own.kg * own.in
	for _, ways := range lanes {
		least := 0.0
		for _, w := range ways {
			least = min(least, w.kg*w.in)
		}
		hold += least
	}
	return hold
}
