package sizing

import (
	"math"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Covered returns D of the rule: the pieces that the loop must cover over
// T = R + L, 0 or more. A steady loop covers μ(1 + α) exactly. The others cover
// what l.Measure asks for: by the cycle the use that is not exceeded with the
// service level, μ + z·σ (normal, σ² = variance·T), the quantile of μ and σ²
// (Poisson, negative binomial) or of the history (empirical); by the fill rate
// the smallest D whose pieces short are few enough, see filled.
func Covered(l demand.Loop) units.Ratio { return covered(l, l.Window()) }

// covered is D over t net minutes.
func covered(l demand.Loop, t units.Ratio) units.Ratio {
	mean := l.Rate.Mul(t)
	switch {
	case l.Model == plant.SteadyModel:
		return mean.Mul(units.Int(1).Add(l.Safety))
	case l.Measure == plant.ServiceFillRate:
		return filled(l, t)
	}
	switch l.Model {
	case plant.PoissonModel, plant.NegativeBinomialModel:
		return units.Int(countsOf(l, t).quantile(l.ServiceLevel.Float64()))
	case plant.EmpiricalModel:
		return EmpiricalQuantile(l.Days, l.ServiceLevel, t, l.Day)
	default:
		return normal(mean, l.Variance.Mul(t), NormalQuantile(l.ServiceLevel.Float64()))
	}
}

// countsOf is the distribution of the use over t of a loop that counts pieces.
func countsOf(l demand.Loop, t units.Ratio) counts {
	mean := l.Rate.Mul(t).Float64()
	if l.Model == plant.NegativeBinomialModel {
		return negativeBinomial(mean, l.Variance.Mul(t).Float64())
	}
	return poisson(mean)
}

// normal returns μ + z·σ, never below 0. μ stays exact: only z·σ is a float,
// so a loop with no variance rounds as its exact mean does.
func normal(mean, variance units.Ratio, z float64) units.Ratio {
	d := mean.Add(units.Float(z * math.Sqrt(variance.Float64())))
	return d.Max(units.Ratio{})
}
