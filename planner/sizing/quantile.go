package sizing

import "math"

// PoissonCDF returns P(X <= n) of a Poisson variable with the given mean, 0
// for n below 0.
func PoissonCDF(n int64, mean float64) float64 { return poisson(mean).upTo(float64(n)) }

// PoissonQuantile returns the smallest n with P(X <= n) >= p, 0 <= p < 1.
func PoissonQuantile(p, mean float64) int64 { return poisson(mean).quantile(p) }

// NegativeBinomialCDF returns P(X <= n) of a negative binomial variable with
// the given mean and variance, 0 for n below 0: size mean²/(variance − mean),
// success probability mean/variance. A variance that is not above the mean
// makes it Poisson; one of more than a million times the mean counts as that.
func NegativeBinomialCDF(n int64, mean, variance float64) float64 {
	return negativeBinomial(mean, variance).upTo(float64(n))
}

// NegativeBinomialQuantile returns the smallest n with P(X <= n) >= p,
// 0 <= p < 1.
func NegativeBinomialQuantile(p, mean, variance float64) int64 {
	return negativeBinomial(mean, variance).quantile(p)
}

// quantile returns the smallest n with P(X <= n) >= p: from a guess that is
// seldom off by more than one or two, term by term. That of a smooth
// distribution is off by much less than one and is taken as it is.
func (c counts) quantile(p float64) int64 {
	if c.mean <= 0 || p <= 0 {
		return 0
	}
	p = clampShare(p)
	guess := c.guess(NormalQuantile(p), p)
	if c.smooth() {
		return pieces(guess)
	}
	return pieces(c.walk(guess, 1-p))
}

// walk returns the smallest n with P(X > n) <= left, near from.
func (c counts) walk(from, left float64) float64 {
	const steps = 40
	n, over, f := from, c.above(from), c.chance(from)
	up := !c.enough(n, over, left)
	for range steps {
		if up {
			f *= c.next(n)
			n++
			over -= f
			if c.enough(n, over, left) {
				return n
			}
			continue
		}
		if n == 0 || !c.enough(n-1, over+f, left) {
			return n
		}
		over += f
		f /= c.next(n - 1)
		n--
	}
	return search(n, func(n float64) bool { return c.above(n) <= left })
}

// enough reports whether P(X > n) <= left, over being P(X > n) as a walk has
// it: where that is too near to left to trust it is computed afresh.
func (c counts) enough(n, over, left float64) bool {
	if math.Abs(over-left) < 1e-9*left {
		over = c.above(n)
	}
	return over <= left
}

// guess returns a whole number of pieces near the quantile whose normal deviate
// is z: the Cornish-Fisher expansion (Abramowitz, Stegun 26.2.49; from memory),
// kept between 0 and the one-sided bound of Chebyshev, sd·√(p/(1 − p)) above
// the mean, which no quantile passes.
func (c counts) guess(z, p float64) float64 {
	skew := (1 + c.q) / math.Sqrt(c.mean*c.p)
	excess := (6*c.q + c.p*c.p) / (c.mean * c.p)
	w := z + (z*z-1)*skew/6 + (z*z*z-3*z)*excess/24 - (2*z*z*z-5*z)*skew*skew/36
	p = clampShare(p)
	most := c.mean + c.sd()*math.Sqrt(p/(1-p))
	x := c.mean + w*c.sd() - 0.5
	if math.IsNaN(x) {
		x = most
	}
	return math.Ceil(min(max(0, x), most))
}

// search returns the smallest n >= 0 that is enough by doubling steps and
// halves, from a number that may be far off.
func search(from float64, enough func(n float64) bool) float64 {
	lo, hi, step := from, from, 1.0
	for hi < math.MaxInt64 && !enough(hi) {
		lo, hi, step = hi, hi+step, 2*step
	}
	for step = 1.0; lo >= 0 && enough(lo); step *= 2 {
		hi, lo = lo, lo-step
	}
	for lo = max(lo, -1); hi-lo > 1; {
		mid := math.Floor(lo + (hi-lo)/2)
		if mid <= lo || mid >= hi {
			break // beyond 2⁵³ there is no number between
		}
		if enough(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// pieces is n as a whole number within int64.
func pieces(n float64) int64 {
	if n >= math.MaxInt64 {
		return math.MaxInt64
	}
	return int64(n)
}

func clampShare(p float64) float64 { return min(max(p, 1e-12), 1-1e-12) }
