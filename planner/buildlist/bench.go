package buildlist

import (
	"cmp"
	"slices"

	"lanewright/planner/internal/cutting"
	"lanewright/planner/units"
)

// bench is where the pieces of a part are cut: the problem in whole numbers of
// unit, and which pieces and bars it means.
type bench struct {
	problem cutting.Problem
	unit    units.Length
	// waiting are the pieces of each item that have no bar yet.
	waiting [][]Cut
	stock   []Bar
	uncut   []Cut
	// spare is the length of all bars of the store, weight what a unit that is
	// bought costs over one that is not.
	spare, weight int64
}

// newBench sets a problem up. Pieces come the longest first, equal ones in the
// order of the racks.
func newBench(j *cutJob, store []Stock) *bench {
	w := &bench{weight: 1}
	for _, l := range j.part.StockLengths {
		w.stock = append(w.stock, Bar{Length: l})
	}
	var counts []int64
	for range w.stock {
		counts = append(counts, cutting.Unlimited)
	}
	for _, s := range store {
		if s.Part == j.part.Part && s.Count > 0 && s.Length > 0 {
			w.stock, counts, w.weight = append(w.stock, Bar{Length: s.Length, OnHand: true}), append(counts, int64(s.Count)), stored
		}
	}
	longest := units.Length(0)
	for _, s := range w.stock {
		longest = max(longest, s.Length)
	}
	cuts := slices.Clone(j.cuts)
	slices.SortStableFunc(cuts, func(a, b Cut) int { return cmp.Compare(b.Length, a.Length) })
	for _, c := range cuts {
		switch n := len(w.waiting); {
		case c.Length > longest:
			w.uncut = append(w.uncut, c)
		case n > 0 && w.waiting[n-1][0].Length == c.Length:
			w.waiting[n-1] = append(w.waiting[n-1], c)
		default:
			w.waiting = append(w.waiting, []Cut{c})
		}
	}
	w.measure(j.kit.Kerf, counts)
	return w
}

// measure writes the problem in the largest unit that all lengths are whole
// multiples of, but no less than a micrometre: there pieces and kerf round up and
// bars down, which is safe.
func (w *bench) measure(kerf units.Length, counts []int64) {
	w.unit = kerf
	for _, c := range w.waiting {
		w.unit = divisor(w.unit, c[0].Length)
	}
	for _, s := range w.stock {
		w.unit = divisor(w.unit, s.Length)
	}
	w.unit = max(w.unit, 1000*units.Nanometre)
	up := func(l units.Length) int64 { return int64((l + w.unit - 1) / w.unit) }
	w.problem.Kerf = up(kerf)
	for _, c := range w.waiting {
		w.problem.Items = append(w.problem.Items, cutting.Item{Length: up(c[0].Length), Count: int64(len(c))})
	}
	for i, s := range w.stock {
		length := int64(s.Length / w.unit)
		cost := length * w.weight
		if s.OnHand {
			cost = length
			w.spare += length * counts[i]
		}
		w.problem.Stocks = append(w.problem.Stocks, cutting.Stock{Length: length, Cost: cost, Count: counts[i]})
	}
}

// divisor is the greatest common one.
func divisor(a, b units.Length) units.Length {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// first orders patterns: those from the store before those from new bars.
func (w *bench) first(p cutting.Pattern) int {
	if w.stock[p.Stock].OnHand {
		return 0
	}
	return 1
}

// saw cuts the bars of a pattern and names their pieces.
func (w *bench) saw(c *CutList, p cutting.Pattern) {
	bar := w.stock[p.Stock]
	pattern := Pattern{Length: bar.Length, OnHand: bar.OnHand, Times: int(p.Times)}
	for _, part := range p.Parts {
		pattern.Cuts = append(pattern.Cuts, Alike{w.waiting[part.Item][0].Length, int(part.Count)})
	}
	slices.SortFunc(pattern.Cuts, func(a, b Alike) int { return cmp.Compare(b.Length, a.Length) })
	for range p.Times {
		one := Bar{Length: bar.Length, OnHand: bar.OnHand}
		for _, part := range p.Parts {
			from := w.waiting[part.Item]
			one.Cuts = append(one.Cuts, from[:part.Count]...)
			w.waiting[part.Item] = from[part.Count:]
		}
		slices.SortStableFunc(one.Cuts, func(a, b Cut) int { return cmp.Compare(b.Length, a.Length) })
		one.Rest = rest(one, c.Kerf)
		pattern.Rest = one.Rest
		c.add(one)
	}
	c.Patterns = append(c.Patterns, pattern)
}

// left are pieces that only bars of the store were long enough for, when these
// were used up.
func (w *bench) left() (list []Cut) {
	for _, c := range w.waiting {
		list = append(list, c...)
	}
	return list
}

// least is the length that must be bought, by the bound of the cutting: its cost
// is what is bought, weighed, and what is taken from the store, which is no more
// than lies there.
func (w *bench) least(r cutting.Result, c CutList) units.Length {
	if r.Proved() {
		return c.Bought
	}
	bought := max(0, (r.Bound-r.Missing*r.Dear-w.taken()+w.weight-1)/w.weight)
	return units.Length(bought) * w.unit
}

// taken is the most that the store adds to a cost.
func (w *bench) taken() int64 {
	if w.weight == 1 {
		return 0
	}
	return w.spare
}
