package tours

import (
	"cmp"
	"slices"
)

// renumbered is a problem whose stops have other numbers: near ones have near
// numbers, so that what the search reads together lies together in memory.
type renumbered struct {
	Problem
	// old is the caller's number of each stop, now the one here.
	old, now []int32
}

// renumber numbers the stops along a curve through the plane.
func renumber(p *Problem) *renumbered {
	r := &renumbered{Problem: *p}
	r.old = p.along()
	r.now = make([]int32, len(r.old))
	for now, old := range r.old {
		r.now[old] = int32(now)
	}
	if same(p.Times, p.Costs) {
		r.Times = nil
	}
	if p.compact() {
		r.Places = reordered(p.Places, r.old, 1)
	} else {
		r.Costs, r.Times, r.Places = r.table(p, r.Costs), r.table(p, r.Times), nil
	}
	if p.Way != nil {
		r.Way = func(a, b int32) int32 { return p.Way(r.old[a], r.old[b]) }
	}
	r.X, r.Y, r.Service = reordered(p.X, r.old, 1), reordered(p.Y, r.old, 1), reordered(p.Service, r.old, 1)
	r.Loads = slices.Clone(p.Loads)
	for i := range r.Loads {
		l := &r.Loads[i]
		l.Mean, l.Variance = reordered(l.Mean, r.old, 1), reordered(l.Variance, r.old, 1)
	}
	r.Prices = reordered(p.Prices, r.old, p.Labels+1)
	r.Apart, r.Before = r.pairs(p.Apart), r.pairs(p.Before)
	return r
}

// along lists depot and stops as a curve that fills the plane passes them.
func (p *Problem) along() []int32 {
	pl := newPlane(p)
	var reach float64 = 1
	for a := range pl.x {
		reach = max(reach, pl.x[a], -pl.x[a], pl.y[a], -pl.y[a])
	}
	place := make([]uint64, p.Stops+1)
	list := make([]int32, p.Stops+1)
	for a := range list {
		list[a] = int32(a)
		if a > 0 {
			place[a] = 1 + onCurve(raster(pl.x[a]/reach), raster(pl.y[a]/reach))
		}
	}
	slices.SortFunc(list, func(a, b int32) int { return cmp.Or(cmp.Compare(place[a], place[b]), cmp.Compare(a, b)) })
	return list
}

// curveBits is how often the curve divides the plane.
const curveBits = 16

// raster is a number from -1 to 1 in 2^curveBits steps.
func raster(v float64) uint64 { return uint64((v + 1) / 2 * (1<<curveBits - 1)) }

// onCurve is the place of a point on Hilbert's curve.
func onCurve(x, y uint64) uint64 {
	var at uint64
	for s := uint64(1) << (curveBits - 1); s > 0; s /= 2 {
		rx, ry := min(x&s, 1), min(y&s, 1)
		at += s * s * ((3 * rx) ^ ry)
		if ry == 0 {
			if rx == 1 {
				x, y = s-1-x&(s-1), s-1-y&(s-1)
			}
			x, y = y, x
		}
		x, y = x&(s-1), y&(s-1)
	}
	return at
}

func reordered[T any](list []T, old []int32, each int) []T {
	if len(list) == 0 {
		return nil
	}
	out := make([]T, 0, len(list))
	for _, a := range old {
		out = append(out, list[int(a)*each:int(a+1)*each]...)
	}
	return out
}

// table is m by stops, as they are numbered now.
func (r *renumbered) table(p *Problem, m []int32) []int32 {
	if len(m) == 0 {
		return nil
	}
	row, column := p.index(p.places())
	w := len(r.old)
	t := make([]int32, w*w)
	for a, oa := range r.old {
		from, to := m[row[oa]:], t[a*w:(a+1)*w]
		for b, ob := range r.old {
			to[b] = from[column[ob]]
		}
	}
	return t
}

func (r *renumbered) pairs(list [][2]int32) [][2]int32 {
	out := make([][2]int32, len(list))
	for i, p := range list {
		out[i] = [2]int32{r.now[p[0]], r.now[p[1]]}
	}
	return out
}

// routes gives the stops of list other numbers.
func renamed(list []Route, names []int32) []Route {
	out := make([]Route, len(list))
	for i, r := range list {
		out[i] = Route{r.Label, make([]int32, len(r.Stops))}
		for j, x := range r.Stops {
			out[i].Stops[j] = names[x]
		}
	}
	return out
}
