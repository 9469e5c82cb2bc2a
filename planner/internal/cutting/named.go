package cutting

import "slices"

// named turns kinds back into the items of the problem and sources into stocks:
// what is equal is used up in the order of the list.
func named(p Problem, k *kinds, cuts []cut, r *Result) {
	left, have := make([]int64, len(p.Items)), make([]int64, len(p.Stocks))
	for i, t := range p.Items {
		left[i] = t.Count
	}
	for i, s := range p.Stocks {
		have[i] = s.Count
	}
	for _, c := range cuts {
		for c.times > 0 {
			pattern := draw(p, k, c, left, have)
			c.times -= pattern.Times
			if c.source == uncut {
				r.Uncut[pattern.Parts[0].Item] += pattern.Times
				r.Missing += pattern.Times
				continue
			}
			r.Cost += pattern.Times * p.Stocks[pattern.Stock].Cost
			r.Patterns = append(r.Patterns, pattern)
		}
	}
}

// draw takes the pieces of one stock, and of as many more as can be cut alike.
func draw(p Problem, k *kinds, c cut, left, have []int64) Pattern {
	pattern := Pattern{Times: c.times}
	if c.source != uncut {
		at := slices.IndexFunc(k.sources[c.source].stocks, func(i int) bool { return have[i] > 0 })
		pattern.Stock = k.sources[c.source].stocks[at]
		pattern.Times = min(pattern.Times, have[pattern.Stock])
	}
	pieces, length := int64(0), int64(0)
	for _, u := range c.uses {
		want := u.N
		for _, i := range k.items[u.Kind] {
			if n := min(want, left[i]); n > 0 {
				pattern.Parts = append(pattern.Parts, Part{i, n})
				pattern.Times = min(pattern.Times, left[i]/n)
				pieces, length = pieces+n, length+n*p.Items[i].Length
				want -= n
			}
		}
	}
	for _, part := range pattern.Parts {
		left[part.Item] -= part.Count * pattern.Times
	}
	if c.source != uncut {
		if have[pattern.Stock] != Unlimited {
			have[pattern.Stock] -= pattern.Times
		}
		pattern.Rest, _ = p.rest(p.Stocks[pattern.Stock], pieces, length)
	}
	return pattern
}
