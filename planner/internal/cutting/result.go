package cutting

import (
	"fmt"

	"lanewright/planner/search"
)

// Part is a number of pieces of one item, named by its place in the list.
type Part struct {
	Item  int
	Count int64
}

// Pattern is how so many stocks are cut alike.
type Pattern struct {
	// Stock is the stock's place in the list.
	Stock int
	Times int64
	Parts []Part
	// Rest is the length of the offcut of each, 0 where nothing is left.
	Rest int64
}

// Result is a cutting and what is known about it.
type Result struct {
	Patterns []Pattern
	// Uncut are the pieces of each item that no stock was left for, Missing their
	// number.
	Uncut   []int64
	Missing int64
	// Cost is that of the stocks used. Value is the cost and, for every missing
	// piece, Dear: as much as 1024 of the dearest stocks. No cutting has a value
	// below Bound.
	Cost, Value, Dear, Bound int64
	Stopped                  search.Stop
	// Steps is the number of elementary operations that were used.
	Steps int64
}

// Proved reports whether no cutting is better.
func (r Result) Proved() bool { return r.Value == r.Bound }

// Verify says what is wrong with r as a cutting of p: a stock that is cut beyond
// its end or used too often, a piece cut too often or not, a cost that does not
// add up. It shares nothing with the search.
func Verify(p Problem, r Result) error {
	cut, used, cost := make([]int64, len(p.Items)), make([]int64, len(p.Stocks)), int64(0)
	for n, pattern := range r.Patterns {
		if pattern.Times < 1 || pattern.Stock < 0 || pattern.Stock >= len(used) {
			return fmt.Errorf("pattern %d is cut %d times from stock %d", n+1, pattern.Times, pattern.Stock+1)
		}
		stock := p.Stocks[pattern.Stock]
		pieces, length := int64(0), int64(0)
		for _, part := range pattern.Parts {
			pieces += part.Count
			length += part.Count * p.Items[part.Item].Length
			cut[part.Item] += part.Count * pattern.Times
		}
		if rest, ok := p.rest(stock, pieces, length); !ok || rest != pattern.Rest || pieces < 1 {
			return fmt.Errorf("pattern %d cuts %d pieces of together %d from %d and leaves %d", n+1, pieces, length, stock.Length, pattern.Rest)
		}
		used[pattern.Stock] += pattern.Times
		cost += pattern.Times * stock.Cost
	}
	return p.verifyCounts(r, cut, used, cost)
}

func (p Problem) verifyCounts(r Result, cut, used []int64, cost int64) error {
	for i, n := range used {
		if n > p.Stocks[i].Count {
			return fmt.Errorf("%d of %d stocks number %d are used", n, p.Stocks[i].Count, i+1)
		}
	}
	missing := int64(0)
	for i, n := range cut {
		missing += r.Uncut[i]
		if n+r.Uncut[i] != p.Items[i].Count || r.Uncut[i] < 0 {
			return fmt.Errorf("%d of %d pieces number %d are cut, %d not", n, p.Items[i].Count, i+1, r.Uncut[i])
		}
	}
	if cost != r.Cost || missing != r.Missing || r.Value != cost+missing*r.Dear || r.Bound > r.Value {
		return fmt.Errorf("cost %d and %d missing pieces are given as %d and %d, value %d, bound %d", cost, missing, r.Cost, r.Missing, r.Value, r.Bound)
	}
	return nil
}

// rest is what is left of a stock after so many pieces, and whether they fit. A
// cut through a rest that is shorter than the kerf leaves nothing.
func (p Problem) rest(s Stock, pieces, length int64) (int64, bool) {
	left := s.Length - length - (pieces-1)*p.Kerf
	if p.LastCut {
		left -= p.Kerf
		return left, left >= 0
	}
	return max(0, left-p.Kerf), left >= 0
}
