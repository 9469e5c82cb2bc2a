package sizing

import (
	"math"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// ExpectedShort returns the mean of the pieces that the use over R + L exceeds
// covered by, the pieces short in one refill cycle: σ·L(z) (normal), the sum of
// (x − covered)⁺ over the distribution (Poisson, negative binomial), its mean
// over the windows of the history (empirical), (μ − covered)⁺ (steady).
func ExpectedShort(l demand.Loop, covered units.Ratio) float64 {
	return short(l, l.Window(), covered)
}

func short(l demand.Loop, t, covered units.Ratio) float64 {
	mean := l.Rate.Mul(t)
	switch l.Model {
	case plant.SteadyModel:
		return mean.Sub(covered).Max(units.Ratio{}).Float64()
	case plant.PoissonModel, plant.NegativeBinomialModel:
		return countsOf(l, t).short(covered.Float64())
	case plant.EmpiricalModel:
		return windowsOf(l.Days, t, l.Day).short(covered).Float64()
	}
	sd := math.Sqrt(l.Variance.Mul(t).Float64())
	if sd == 0 {
		return mean.Sub(covered).Max(units.Ratio{}).Float64()
	}
	return sd * NormalLoss(covered.Sub(mean).Float64()/sd)
}

// filled returns the smallest D, whole pieces where the model counts pieces,
// with
//
//	pieces short in a cycle <= (1 − β)·λ·R,
//
// β the service level: the fill rate of an order-up-to system, 1 − σ·L(z)/(mean
// use per review) (Silver, Pyke, Thomas, Inventory and Production Management in
// Supply Chains, 4th ed., 2017, periodic review, order-up-to level; from
// memory). It counts as the shortage of a cycle all that is short at its end,
// also what was already short when its delivery came in. Where shortages last
// longer than one interval they count twice, so the true fill rate is not
// below β.
//
// A loop that uses nothing is never short and covers 0.
func filled(l demand.Loop, t units.Ratio) units.Ratio {
	allowed := units.Int(1).Sub(l.ServiceLevel).Mul(l.Rate).Mul(units.Minutes(l.Interval))
	if allowed.Sign() <= 0 {
		return units.Ratio{}
	}
	mean := l.Rate.Mul(t)
	switch l.Model {
	case plant.PoissonModel, plant.NegativeBinomialModel:
		return units.Int(countsOf(l, t).filled(allowed.Float64()))
	case plant.EmpiricalModel:
		return windowsOf(l.Days, t, l.Day).filled(allowed)
	}
	variance := l.Variance.Mul(t)
	if variance.Sign() <= 0 {
		return mean.Sub(allowed).Max(units.Ratio{})
	}
	return normal(mean, variance, normalLossInverse(allowed.Float64()/math.Sqrt(variance.Float64())))
}

// short is E(X − d)⁺ for d >= 0. Summing the recurrence of the terms gives, for
// a whole d, (mean − d)·P(X > d) + (d + 1)·f(d + 1)/p; between whole numbers it
// is straight.
func (c counts) short(d float64) float64 {
	if c.mean <= 0 {
		return 0
	}
	if c.smooth() {
		return c.sd() * NormalLoss(c.deviate(d))
	}
	n := math.Floor(d)
	return max(0, (c.mean-d)*c.above(n)+(n+1)*c.chance(n+1)/c.p)
}

// filled returns the smallest n with E(X − n)⁺ <= allowed. The pieces short
// fall and bend upwards with n, by P(X > n) from n to n + 1: so a step along
// that slope never passes the answer, and neither does one from above.
func (c counts) filled(allowed float64) int64 {
	if c.mean <= allowed {
		return 0
	}
	z := normalLossInverse(allowed / c.sd())
	n := c.guess(z, 1-exceeds(z))
	if c.smooth() {
		return pieces(n)
	}
	if over := c.short(n) - allowed; over <= 0 {
		n = max(0, n-math.Floor(-over/c.above(n-1)))
	}
	const steps = 100
	for range steps {
		over, slope := c.short(n)-allowed, c.above(n)
		if over <= 0 {
			return pieces(n)
		}
		n += max(1, math.Ceil(over/slope))
	}
	return pieces(search(math.Ceil(c.mean), func(n float64) bool { return c.short(n) <= allowed }))
}

// short is the mean of (w − covered)⁺ over the windows.
func (w windows) short(covered units.Ratio) units.Ratio {
	if len(w.uses) == 0 || w.scale.IsZero() {
		return units.Ratio{}
	}
	var sum units.Ratio
	each := covered.Div(w.scale)
	for _, u := range w.uses {
		sum = sum.Add(u.Sub(each).Max(units.Ratio{}))
	}
	return sum.Mul(w.scale).Div(units.Int(int64(len(w.uses))))
}

// filled returns the smallest d >= 0 with a mean of (w − d)⁺ of at most
// allowed, exactly: with the j largest of n windows above d it is their sum
// less n·allowed, over j.
func (w windows) filled(allowed units.Ratio) units.Ratio {
	if len(w.uses) == 0 || w.scale.IsZero() {
		return units.Ratio{}
	}
	n := int64(len(w.uses))
	h := heapOf(w.uses)
	sum := units.Int(0).Sub(allowed.Div(w.scale).Mul(units.Int(n)))
	var d units.Ratio
	for j := int64(1); j <= n; j++ {
		top := h.pop()
		if j > 1 && top.Cmp(d) <= 0 {
			break
		}
		sum = sum.Add(top)
		d = sum.Div(units.Int(j))
	}
	return d.Mul(w.scale).Max(units.Ratio{})
}
