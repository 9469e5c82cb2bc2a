package floor

import (
	"math/big"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Straight returns the length of the straight line between a and b, rounded to
// the nearest nanometre. The root is taken in whole numbers, so the result is
// the same on every machine.
func Straight(a, b plant.Place) units.Length {
	dx := new(big.Int).Sub(big.NewInt(int64(a.X)), big.NewInt(int64(b.X)))
	dy := new(big.Int).Sub(big.NewInt(int64(a.Y)), big.NewInt(int64(b.Y)))
	square := dx.Mul(dx, dx)
	square.Add(square, dy.Mul(dy, dy))
	root := new(big.Int).Sqrt(square)
	// (root + 1/2)² = root² + root + 1/4, and square is whole.
	rest := square.Sub(square, new(big.Int).Mul(root, root))
	if rest.Cmp(root) > 0 {
		root.Add(root, big.NewInt(1))
	}
	if !root.IsInt64() {
		return never
	}
	return units.Length(root.Int64())
}
