package cutting

import "slices"

// thrift cuts what it can from a cheaper source that is left, the dearest first.
func (k *kinds) thrift(st *state) {
	slices.SortStableFunc(st.cuts, func(a, b cut) int { return int(min(1, max(-1, k.cost(b.source)-k.cost(a.source)))) })
	for i := 0; i < len(st.cuts); i++ {
		c := &st.cuts[i]
		if c.source == uncut {
			continue
		}
		to := k.cheaper(st, *c)
		if to < 0 {
			continue
		}
		n := min(c.times, st.have[to])
		moved := cut{to, n, c.uses}
		st.value -= n * (k.cost(c.source) - k.cost(to))
		st.give(c.source, n)
		st.give(to, -n)
		if c.times -= n; c.times == 0 {
			*c = moved
			i--
			continue
		}
		st.cuts = append(st.cuts, moved)
	}
}

// cheaper is the cheapest source for a cut that is cheaper than its own; below 0
// where there is none.
func (k *kinds) cheaper(st *state, c cut) int {
	load, best, cost := int64(0), -1, k.cost(c.source)
	for _, u := range c.uses {
		load += u.N * k.size[u.Kind]
	}
	for i, s := range k.sources {
		if st.have[i] > 0 && s.room >= load && s.cost < cost {
			best, cost = i, s.cost
		}
	}
	return best
}
