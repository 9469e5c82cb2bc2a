package sizing

import "math"

// NormalQuantile returns z with Φ(z) = p for 0 < p < 1.
func NormalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// NormalLoss returns L(z) = φ(z) − z·(1 − Φ(z)), the mean of what a standard
// normal variable exceeds z by: the pieces short in a cycle are σ·L(z) (Silver,
// Pyke, Thomas, Inventory and Production Management in Supply Chains, 4th ed.,
// 2017, from memory; formula seen in several places).
func NormalLoss(z float64) float64 {
	if z < 0 {
		return NormalLoss(-z) - z
	}
	return max(0, density(z)-z*exceeds(z))
}

// density is φ(z); exceeds is 1 − Φ(z).
func density(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
func exceeds(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// farthestLoss is the z beyond which L is taken as 0: L(37) is below 1e-300.
const farthestLoss = 37.0

// normalLossInverse returns z with L(z) = loss > 0 by Newton's method: on L
// itself, which is convex, below z = 0; on its logarithm, which is concave,
// above. Either way the steps end in a monotone approach.
func normalLossInverse(loss float64) float64 {
	z, tail := -loss, loss < NormalLoss(0)
	if tail {
		z = min(farthestLoss, math.Sqrt(-2*math.Log(max(loss, math.SmallestNonzeroFloat64))))
	}
	for range 50 {
		now := NormalLoss(z)
		step := (now - loss) / exceeds(z)
		if tail {
			step = now / exceeds(z) * math.Log(now/loss)
		}
		next := min(z+step, farthestLoss)
		if math.IsNaN(next) || math.Abs(next-z) <= 1e-15*math.Abs(z) {
			break
		}
		z = next
	}
	return z
}
