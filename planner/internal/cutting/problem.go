// Package cutting cuts items of given lengths from stocks of several lengths at
// the least cost it can, and says below which cost nobody gets. Items of one
// length are handled by their number, so that a thousand alike cost no more than
// one.
package cutting

import (
	"errors"
	"fmt"
	"math"
)

// Item is a length and how many pieces of it are to be cut.
type Item struct {
	Length, Count int64
}

// Unlimited is the count of a stock that can be bought as often as it is wanted.
const Unlimited = math.MaxInt64

// Stock is a length to cut from, what one costs, and how many there are: an
// offcut on hand is a stock with a count of 1, and a cost of 0 where it would be
// thrown away. With its length for the cost of each, the least material is used.
type Stock struct {
	Length, Cost, Count int64
}

// Problem asks for cuts. Lengths are whole numbers of any one unit.
type Problem struct {
	Items  []Item
	Stocks []Stock
	// Kerf is what a cut takes away. LastCut says that a piece is cut at its far
	// end too where it ends just at the stock's end, so that each piece takes its
	// kerf; else the last piece of a stock that is used up needs no cut.
	Kerf    int64
	LastCut bool
}

// ErrProblem marks problems that have no meaning.
var ErrProblem = errors.New("not a cutting problem")

// Limits of what is computed exactly in 64 bits: the longest length, the most
// pieces, and the most that as many of the dearest stock may cost.
const (
	MostLength = int64(1) << 50
	MostPieces = 1_000_000
	MostCost   = int64(1) << 50
)

// Check says in words what is wrong with a problem. That some pieces find no
// stock is not wrong: they stay uncut.
func (p Problem) Check() error {
	pieces, dearest := int64(1), int64(0)
	for i, t := range p.Items {
		switch {
		case t.Length < 1 || t.Length > MostLength:
			return fmt.Errorf("%w: item %d has the length %d; lengths must be 1 to %d", ErrProblem, i+1, t.Length, MostLength)
		case t.Count < 0:
			return fmt.Errorf("%w: item %d has the count %d; counts must be 0 or more", ErrProblem, i+1, t.Count)
		case t.Count > MostPieces-pieces:
			return fmt.Errorf("%w: there are more than %d pieces", ErrProblem, MostPieces)
		}
		pieces += t.Count
	}
	for i, s := range p.Stocks {
		if s.Length < 1 || s.Length > MostLength || s.Cost < 0 || s.Count < 0 {
			return fmt.Errorf("%w: stock %d has the length %d, cost %d and count %d; a length must be 1 to %d, cost and count 0 or more", ErrProblem, i+1, s.Length, s.Cost, s.Count, MostLength)
		}
		dearest = max(dearest, s.Cost)
	}
	if p.Kerf < 0 || p.Kerf > MostLength {
		return fmt.Errorf("%w: the kerf is %d; it must be 0 to %d", ErrProblem, p.Kerf, MostLength)
	}
	if dearest > MostCost/pieces {
		return fmt.Errorf("%w: %d pieces at a cost of up to %d are beyond %d", ErrProblem, pieces-1, dearest, MostCost)
	}
	return nil
}

// room is what the pieces of a stock with their kerfs may take together.
func (p Problem) room(s Stock) int64 {
	if p.LastCut {
		return s.Length
	}
	return s.Length + p.Kerf
}
