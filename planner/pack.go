package planner

import (
	"context"

	"lanewright/planner/internal/packing"
)

// Packing asks for bins of one capacity that hold pieces: tubes cut from
// stocks, for instance. It is here for those who measure the packing of the
// stages on published problems.
type Packing = packing.Problem

// PackingPiece is a size and how many pieces of it there are.
type PackingPiece = packing.Piece

// PackingOptions limit and seed the search.
type PackingOptions = packing.Options

// PackingResult is a packing with its bound.
type PackingResult = packing.Result

// Pack puts pieces into few bins, with a bound on their number.
func Pack(ctx context.Context, p Packing, o PackingOptions) (PackingResult, error) {
	return packing.Solve(ctx, p, o)
}

// CheckPacking says what is wrong with a result as a packing of the problem.
func CheckPacking(p Packing, r PackingResult) error { return packing.Check(p, r.Bins) }
