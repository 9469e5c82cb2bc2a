package planner

import (
	"cmp"
	"slices"
)

// best leaves out what does nothing or is beaten, and orders the rest.
func best(list []Relief) []Relief {
	list = slices.DeleteFunc(list, func(r Relief) bool { return !r.relieves() })
	kept := make([]Relief, 0, len(list))
	for i := range list {
		beaten := func(o Relief) bool { return o.beats(list[i]) }
		if !slices.ContainsFunc(list, beaten) {
			kept = append(kept, list[i])
		}
	}
	slices.SortStableFunc(kept, Relief.compare)
	kept = slices.CompactFunc(kept, func(a, b Relief) bool { return a.Text == b.Text })
	return kept[:min(len(kept), mostReliefs)]
}

// relieves reports whether a relief is one.
func (r Relief) relieves() bool {
	return r.Unplaced < r.UnplacedBefore && !r.hollow || r.UnplacedBefore == 0 && r.Unplaced == 0 && r.LanesFreed > 0
}

// compare orders reliefs: containers placed, price, visits, lanes freed, effort.
// A price that is not known comes after those that are.
func (r Relief) compare(o Relief) int {
	if r.PriceKnown != o.PriceKnown && r.Unplaced == o.Unplaced {
		if r.PriceKnown {
			return -1
		}
		return 1
	}
	return cmp.Or(
		cmp.Compare(r.Unplaced, o.Unplaced), cmp.Compare(r.Price, o.Price), r.Visits.Cmp(o.Visits),
		cmp.Compare(o.LanesFreed, r.LanesFreed), cmp.Compare(r.Effort, o.Effort), cmp.Compare(r.Text, o.Text),
	)
}

// beats reports whether r is nowhere worse than o and somewhere better, as far
// as their prices can be compared.
func (r Relief) beats(o Relief) bool {
	if r.PriceKnown != o.PriceKnown {
		return false
	}
	signs := []int{
		cmp.Compare(r.Unplaced, o.Unplaced), cmp.Compare(r.Price, o.Price), cmp.Compare(r.Yearly, o.Yearly),
		r.Visits.Cmp(o.Visits), cmp.Compare(o.LanesFreed, r.LanesFreed), cmp.Compare(r.Effort, o.Effort),
	}
	return slices.Max(signs) <= 0 && slices.Min(signs) < 0
}
