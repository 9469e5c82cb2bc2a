package planner

import (
	"context"

	"lanewright/planner/internal/packing"
)

// Packing in one dimension as the stages do it, for those who measure it on
// published problems: tubes cut from stocks, pieces put into bins.
type (
	Packing        = packing.Problem
	PackingPiece   = packing.Piece
	PackingOptions = packing.Options
	PackingResult  = packing.Result
)

// Pack puts pieces into few bins, with a bound on their number.
func Pack(ctx context.Context, p Packing, o PackingOptions) (PackingResult, error) {
	return packing.Solve(ctx, p, o)
}

// CheckPacking says what is wrong with a result as a packing of the problem.
func CheckPacking(p Packing, r PackingResult) error { return packing.Check(p, r.Bins) }
