package tours

import (
	"cmp"
	"math"
	"slices"
)

// plane lays the stops out around the depot by their distances alone, the mean
// of both directions: exact for points of a plane, a likeness else.
type plane struct{ x, y []float64 }

func newPlane(f *Problem) plane {
	w := int32(f.Stops + 1)
	p := plane{make([]float64, w), make([]float64, w)}
	between := func(a, b int32) float64 { return (float64(f.leg(a, b)) + float64(f.leg(b, a))) / 2 }
	far := int32(1)
	for a := far; a < w; a++ {
		if between(depot, a) > between(depot, far) {
			far = a
		}
	}
	long := max(between(depot, far), 1)
	high := int32(1)
	for a := int32(1); a < w; a++ {
		r, d := between(depot, a), between(a, far)
		p.x[a] = (r*r + long*long - d*d) / (2 * long)
		p.y[a] = math.Sqrt(max(r*r-p.x[a]*p.x[a], 0))
		if p.y[a] > p.y[high] {
			high = a
		}
	}
	x, y := p.x[high], max(p.y[high], 1)
	for a := int32(1); a < w; a++ {
		r, d := between(depot, a), between(a, high)
		p.y[a] = (r*r + x*x + y*y - d*d - 2*p.x[a]*x) / (2 * y)
	}
	return p
}

// around is the direction in which a route lies.
func (p plane) around(seq []int32) float64 {
	var x, y float64
	for _, a := range seq {
		x, y = x+p.x[a], y+p.y[a]
	}
	return math.Atan2(y, x)
}

// sector is a route with its direction.
type sector struct {
	angle float64
	slot  int32
}

// ring appends the stops of all routes, routes in the order of their directions.
func (s *state) ring(p plane, order []int32) []int32 {
	var list []sector
	for at := range s.routes {
		if r := &s.routes[at]; r.size > 0 {
			s.seqA = s.sequence(r, s.seqA[:0])
			list = append(list, sector{p.around(s.seqA), int32(at)})
		}
	}
	slices.SortFunc(list, func(a, b sector) int { return cmp.Or(cmp.Compare(a.angle, b.angle), cmp.Compare(a.slot, b.slot)) })
	for _, c := range list {
		order = s.sequence(&s.routes[c.slot], order)
	}
	return order
}
