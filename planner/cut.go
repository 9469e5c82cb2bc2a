package planner

import (
	"context"

	"lanewright/planner/internal/cutting"
)

// Cutting asks for pieces cut from stocks of several lengths. It is here for
// those who measure the cutting of build lists.
type Cutting = cutting.Problem

// CuttingItem is a length and how many pieces of it are to be cut.
type CuttingItem = cutting.Item

// CuttingStock is a length to cut from, its cost, and how many there are.
type CuttingStock = cutting.Stock

// CuttingResult is a cutting with its bound.
type CuttingResult = cutting.Result

// UnlimitedStock is the count of a stock that can be bought as often as wanted.
const UnlimitedStock = cutting.Unlimited

// Cut cuts the items at little cost, with a bound on it.
func Cut(ctx context.Context, p Cutting, o PackingOptions) (CuttingResult, error) {
	return cutting.Solve(ctx, p, cutting.Options(o))
}

// CheckCutting says what is wrong with a result as a cutting of the problem.
func CheckCutting(p Cutting, r CuttingResult) error { return cutting.Verify(p, r) }
