package cutting

import (
	"cmp"
	"slices"

	"lanewright/planner/internal/patterns"
)

// source is a stock as the algorithms see it: what its pieces may take, its
// cost, and its places in the problem's list.
type source struct {
	room, cost int64
	stocks     []int
}

// unlimited is a count that is never used up; so many there are of each source
// that no cutting could use up.
const unlimited = int64(1) << 60

// kinds is a problem as the algorithms see it. Sizes, the largest first, have
// their kerf with them; what all have in common is divided out. have is how many
// there are of each source.
type kinds struct {
	size, need []int64
	items      [][]int
	sources    []source
	have       []int64
	// dearest is the greatest cost, at least 1; step what all costs have in
	// common.
	dearest, step int64
}

// dear is what an uncut piece costs, in dearest stocks.
const dear = 1024

// newKinds merges what is equal and leaves out stocks that hold no piece.
func newKinds(p Problem) kinds {
	k := kinds{dearest: 1}
	order := slices.DeleteFunc(patterns.Every(len(p.Items)), func(i int) bool { return p.Items[i].Count == 0 })
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Items[b].Length, p.Items[a].Length) })
	unit := int64(0)
	for _, i := range order {
		size := p.Items[i].Length + p.Kerf
		unit = patterns.Divisor(unit, size)
		if n := len(k.size); n == 0 || k.size[n-1] != size {
			k.size, k.need, k.items = append(k.size, size), append(k.need, 0), append(k.items, nil)
		}
		n := len(k.size) - 1
		k.need[n] += p.Items[i].Count
		k.items[n] = append(k.items[n], i)
	}
	for i := range k.size {
		k.size[i] /= unit
	}
	k.stocks(p, max(unit, 1))
	return k
}

// stocks takes in the stocks, the longest first, of equal ones the cheapest.
func (k *kinds) stocks(p Problem, unit int64) {
	order := patterns.Every(len(p.Stocks))
	room := func(i int) int64 { return p.room(p.Stocks[i]) / unit }
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(room(b), room(a)), cmp.Compare(p.Stocks[a].Cost, p.Stocks[b].Cost))
	})
	for _, i := range order {
		s := p.Stocks[i]
		k.step = patterns.Divisor(k.step, s.Cost)
		k.dearest = max(k.dearest, s.Cost)
		if n := len(k.size); n == 0 || s.Count == 0 || room(i) < k.size[n-1] {
			continue
		}
		n := len(k.sources)
		if n == 0 || k.sources[n-1].room != room(i) || k.sources[n-1].cost != s.Cost {
			k.sources, k.have = append(k.sources, source{room: room(i), cost: s.Cost}), append(k.have, 0)
			n++
		}
		k.sources[n-1].stocks = append(k.sources[n-1].stocks, i)
		k.have[n-1] = min(unlimited, k.have[n-1]+min(unlimited, s.Count))
	}
	k.step = max(k.step, 1)
	for i, n := range k.have {
		if n >= patterns.Pieces(k.need) {
			k.have[i] = unlimited
		}
	}
}

// limited reports whether a source may be used up.
func limited(have int64) bool { return have < unlimited }
