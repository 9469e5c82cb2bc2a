package sizing_test

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mathext"
	"pgregory.net/rapid"

	"lanewright/planner/sizing"
)

// bisected is the Poisson quantile by halves over gonum's incomplete gamma
// function, which shares nothing with the walk.
func bisected(p, mean float64) int64 {
	enough := func(n int64) bool { return mathext.GammaIncRegComp(float64(n)+1, mean) >= p }
	lo, hi := int64(-1), int64(1)
	for !enough(hi) {
		lo, hi = hi, 2*hi
	}
	for hi-lo > 1 {
		if mid := lo + (hi-lo)/2; enough(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

func TestPoissonQuantileIsThatOfTheIncompleteGamma(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		mean := math.Exp(rapid.Float64Range(-6, 12).Draw(t, "ln mean"))
		p := rapid.OneOf(rapid.Float64Range(0.001, 0.999), rapid.SampledFrom([]float64{.5, .9, .95, .99, .995, .999, .9999})).Draw(t, "p")
		require.Equal(t, bisected(p, mean), sizing.PoissonQuantile(p, mean))
	})
}

// summed returns P(X <= n) and P(X > n) of a negative binomial variable (a
// Poisson one where variance is the mean) in 300-bit floats: terms by their
// recurrence from f = 1 at the mean, up and down until they are below 2^-130 of
// what they are added to, over their sum.
func summed(n int64, mean, variance float64) (upTo, above float64) {
	const bits = 300
	num := func(f float64) *big.Float { return new(big.Float).SetPrec(bits).SetFloat64(f) }
	p := num(0).Quo(num(mean), num(variance))
	q, rq := num(0).Sub(num(1), p), num(0).Mul(num(mean), p)
	low, high := num(0), num(0)
	add := func(k int64, term *big.Float) bool {
		to := low
		if k > n {
			to = high
		}
		to.Add(to, term)
		return term.Sign() != 0 && to.MantExp(nil)-term.MantExp(nil) <= 130
	}
	ratio := func(k int64) *big.Float { // f(k+1)/f(k)
		r := num(0).Mul(q, num(float64(k)))
		return r.Add(r, rq).Quo(r, num(float64(k+1)))
	}
	term := num(1)
	for k := int64(mean); add(k, term) || k <= n; k++ {
		term.Mul(term, ratio(k))
	}
	term = num(1)
	for k := int64(mean) - 1; k >= 0; k-- {
		if term.Quo(term, ratio(k)); !add(k, term) && k < n {
			break
		}
	}
	all := num(0).Add(low, high)
	upTo, _ = low.Quo(low, all).Float64()
	above, _ = high.Quo(high, all).Float64()
	return upTo, above
}

func TestNegativeBinomialIsItsSum(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		mean := math.Exp(rapid.Float64Range(-3, 7).Draw(t, "ln mean"))
		variance := mean * (1 + math.Exp(rapid.Float64Range(-30, 4).Draw(t, "ln excess")))
		n := int64(mean + rapid.Float64Range(-4, 8).Draw(t, "sd")*math.Sqrt(variance))
		if n < 0 {
			n = 0
		}
		want, _ := summed(n, mean, variance)
		require.InDelta(t, want, sizing.NegativeBinomialCDF(n, mean, variance), 1e-12)
	})
}

func TestNegativeBinomialQuantileIsSmallest(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		mean := math.Exp(rapid.Float64Range(-3, 6).Draw(t, "ln mean"))
		variance := mean * (1 + math.Exp(rapid.Float64Range(-30, 5).Draw(t, "ln excess")))
		p := rapid.OneOf(rapid.Float64Range(0.05, 0.95), rapid.SampledFrom([]float64{.99, .999, .99999, 1 - 1e-9})).Draw(t, "p")
		n := sizing.NegativeBinomialQuantile(p, mean, variance)
		_, above := summed(n, mean, variance)
		require.LessOrEqual(t, above, (1-p)*(1+1e-7))
		if n > 0 {
			_, above = summed(n-1, mean, variance)
			require.Greater(t, above, (1-p)*(1-1e-7))
		}
	})
}

// TestNegativeBinomialIsAMixture: a Poisson variable whose mean is gamma
// distributed is negative binomial (Greenwood, Yule, J. of the Royal
// Statistical Society 83, 1920, 255-279; from memory). The integral over the
// gamma density is taken by Simpson's rule.
func TestNegativeBinomialIsAMixture(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		n              int64
		mean, variance float64
	}{{3, 2, 3}, {60, 40, 90}, {130, 100, 150}, {0, 5, 9}} {
		r := c.mean * c.mean / (c.variance - c.mean)
		scale := c.mean / r
		lg, _ := math.Lgamma(r)
		f := func(x float64) float64 {
			if x == 0 {
				return 0
			}
			density := math.Exp((r-1)*math.Log(x) - x/scale - lg - r*math.Log(scale))
			return density * mathext.GammaIncRegComp(float64(c.n)+1, x)
		}
		const parts = 200_000
		h := (c.mean + 40*math.Sqrt(c.variance)) / parts
		sum := f(0) + f(h*parts)
		for i := 1; i < parts; i++ {
			sum += f(h*float64(i)) * float64(2+2*(i%2))
		}
		assert.InDelta(t, sum*h/3, sizing.NegativeBinomialCDF(c.n, c.mean, c.variance), 1e-8, "%+v", c)
	}
}

// TestNegativeBinomialAgreesWithTheIncompleteBeta: P(X <= n) = I_p(r, n + 1).
func TestNegativeBinomialAgreesWithTheIncompleteBeta(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		mean := math.Exp(rapid.Float64Range(-2, 7).Draw(t, "ln mean"))
		variance := mean * (1 + math.Exp(rapid.Float64Range(-3, 5).Draw(t, "ln excess")))
		n := rapid.Int64Range(0, int64(mean+8*math.Sqrt(variance))+1).Draw(t, "n")
		r := mean * mean / (variance - mean)
		require.InDelta(t, mathext.RegIncBeta(r, float64(n)+1, mean/variance), sizing.NegativeBinomialCDF(n, mean, variance), 1e-9)
	})
}

// TestNegativeBinomialNearsPoisson: with a variance a hair above the mean the
// two are the same, at any mean.
func TestNegativeBinomialNearsPoisson(t *testing.T) {
	t.Parallel()
	for _, mean := range []float64{0.5, 10, 1000, 1e6} {
		for _, p := range []float64{.5, .95, .995, 1 - 1e-9} {
			want := sizing.PoissonQuantile(p, mean)
			assert.Equal(t, want, sizing.NegativeBinomialQuantile(p, mean, math.Nextafter(mean, math.Inf(1))), "mean %g", mean)
			assert.Equal(t, want, sizing.NegativeBinomialQuantile(p, mean, mean), "mean %g", mean)
			assert.Equal(t, want, sizing.NegativeBinomialQuantile(p, mean, mean/2), "mean %g", mean)
		}
	}
}

// TestLargeMeans: far tails at means of a million, against sums of 300 bits.
func TestLargeMeans(t *testing.T) {
	t.Parallel()
	for _, variance := range []float64{1e6, 1.000001e6, 2e6, 1e8} {
		const mean, p = 1e6, 1 - 1e-9
		n := sizing.NegativeBinomialQuantile(p, mean, variance)
		_, here := summed(n, mean, variance)
		_, before := summed(n-1, mean, variance)
		assert.LessOrEqual(t, here, (1-p)*(1+1e-6), "variance %g", variance)
		assert.Greater(t, before, (1-p)*(1-1e-6), "variance %g", variance)
	}
}
