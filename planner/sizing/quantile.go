package sizing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"

	"lanewright/planner/units"
)

// NormalQuantile returns z with Φ(z) = p for 0 < p < 1.
func NormalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// PoissonCDF returns P(X <= n) of a Poisson variable with the given mean, 0
// for n below 0. It is the regularised upper incomplete gamma function
// Q(n + 1, mean) (Abramowitz, Stegun, Handbook of Mathematical Functions,
// 1964, 26.4.21; from memory).
func PoissonCDF(n int64, mean float64) float64 {
	switch {
	case n < 0:
		return 0
	case mean <= 0:
		return 1
	}
	return mathext.GammaIncRegComp(float64(n)+1, mean)
}

// PoissonQuantile returns the smallest n with P(X <= n) >= p, 0 <= p < 1.
func PoissonQuantile(p, mean float64) int64 {
	if mean <= 0 {
		return 0
	}
	sd := math.Sqrt(mean)
	below := func(n int64) bool { return PoissonCDF(n, mean) < p }
	lo, step := int64(max(0, math.Floor(mean+NormalQuantile(clampShare(p))*sd))), int64(1)
	for lo >= 0 && !below(lo) {
		lo -= step
		step *= 2
	}
	lo = max(lo, -1)
	hi := lo + 1
	for step = 1; below(hi); step *= 2 {
		lo, hi = hi, hi+step
	}
	for hi-lo > 1 {
		if mid := lo + (hi-lo)/2; below(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

func clampShare(p float64) float64 { return min(max(p, 1e-12), 1-1e-12) }

// EmpiricalQuantile returns the use that a share p of the windows of t net
// minutes does not exceed, taken from the use of consecutive days of day net
// minutes each. A window starts at the start of a day and takes whole days,
// then the fraction of the next day's use that the rest of t is of a day. Use
// inside a day is thus taken as even; the days' own pattern is kept.
func EmpiricalQuantile(days []units.Ratio, p, t, day units.Ratio) units.Ratio {
	if len(days) == 0 || day.Sign() <= 0 {
		return units.Ratio{}
	}
	length := t.Div(day)
	whole := int(min(length.Floor(), int64(len(days))))
	rest := length.Sub(units.Int(int64(whole)))
	span := whole
	if rest.Sign() > 0 {
		span++
	}
	span = max(1, span)
	if span > len(days) {
		return mean(days).Mul(length)
	}
	var windows []units.Ratio
	for from := 0; from+span <= len(days); from++ {
		var use units.Ratio
		for _, d := range days[from : from+whole] {
			use = use.Add(d)
		}
		if whole < span {
			use = use.Add(days[from+whole].Mul(rest))
		}
		windows = append(windows, use)
	}
	slices.SortFunc(windows, units.Ratio.Cmp)
	rank := p.Mul(units.Int(int64(len(windows)))).Ceil()
	return windows[min(max(rank, 1), int64(len(windows)))-1]
}

func mean(days []units.Ratio) units.Ratio {
	var sum units.Ratio
	for _, d := range days {
		sum = sum.Add(d)
	}
	return sum.Div(units.Int(int64(len(days))))
}
