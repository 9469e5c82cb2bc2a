package sizing

import "math"

// counts is the distribution of a whole number of pieces: Poisson (p = 1, q =
// 0), or negative binomial with success probability p = mean/variance, q = 1 −
// p and size r = mean·p/q. Both follow
//
//	f(n+1)/f(n) = (mean·p + q·n)/(n + 1)
//
// (Panjer, Recursive evaluation of a family of compound distributions, ASTIN
// Bulletin 12(1), 1981, 22-26; from memory), in which r, that grows without
// limit as the variance nears the mean, does not stand: so the negative
// binomial passes into the Poisson distribution without a seam.
type counts struct{ mean, p, q float64 }

func poisson(mean float64) counts { return counts{mean: mean, p: 1} }

// mostDispersed bounds the variance, in means. Use of a thousand pieces that
// varies by thirty times its mean reaches it; beyond, a unit is wrong, and the
// tails would take too long to sum.
const mostDispersed = 1e6

// negativeBinomial is Poisson where the variance is not above the mean.
func negativeBinomial(mean, variance float64) counts {
	variance = min(variance, mostDispersed*mean)
	if !(variance > mean) {
		return poisson(mean)
	}
	return counts{mean, mean / variance, (variance - mean) / variance}
}

func (c counts) sd() float64 { return math.Sqrt(c.mean / c.p) }

// smooth reports whether c is normal but for a skewness below 2e-5: at mean·p >=
// 1e10. Its terms, that soon are beyond 2⁵³, are then not added up.
func (c counts) smooth() bool { return c.mean*c.p >= 1e10 }

// deviate is the normal deviate of n of a smooth distribution.
func (c counts) deviate(n float64) float64 { return (n - c.mean) / c.sd() }

// next is f(n+1)/f(n).
func (c counts) next(n float64) float64 { return (c.mean*c.p + c.q*n) / (n + 1) }

// chance returns f(n) = P(X = n), n >= 0, to nearly full precision at any mean:
// the saddle-point form of Loader, Fast and accurate computation of binomial
// probabilities, 2000 (from memory), which never takes the difference of two
// large logarithms. Both deviances are of ±p·(n − mean).
func (c counts) chance(n float64) float64 {
	if n == 0 {
		return math.Exp(c.logNone())
	}
	off := c.p * (n - c.mean)
	if c.q == 0 {
		return math.Exp(-stirling(n)-deviance(c.mean, off)) / math.Sqrt(2*math.Pi*n)
	}
	r := c.mean * c.p / c.q
	all := n + r
	e := stirling(all) - stirling(n) - stirling(r) - deviance(n*c.q+c.mean*c.p, off) - deviance(all*c.p, -off)
	return math.Sqrt(r/(2*math.Pi*n*all)) * math.Exp(e)
}

// logNone is ln f(0) = r·ln p, −mean for a Poisson variable.
func (c counts) logNone() float64 {
	switch {
	case c.q == 0:
		return -c.mean
	case c.q < 0.5:
		return c.mean * c.p * math.Log1p(-c.q) / c.q
	default:
		return c.mean * c.p * math.Log(c.p) / c.q
	}
}

// deviance is x·ln(x/m) + m − x with x = m + off, 0 or more.
func deviance(m, off float64) float64 {
	e := off / m
	if e <= -1 {
		return m // x is 0, or too small to tell
	}
	if math.Abs(e) >= 0.1 {
		return m * ((1+e)*math.Log1p(e) - e)
	}
	sum, power := 0.0, e
	for k := 2.0; ; k++ {
		power *= -e
		term := power / (k * (k - 1))
		if sum -= term; !(math.Abs(term) > 1e-18*math.Abs(sum)) {
			return m * sum
		}
	}
}

// stirling is the error of Stirling's formula, ln x! − (x+½)·ln x + x − ½·ln 2π,
// for x > 0 (Abramowitz, Stegun, Handbook of Mathematical Functions, 1964,
// 6.1.41; from memory).
func stirling(x float64) float64 {
	if x < 16 {
		g, _ := math.Lgamma(x + 1)
		return g - (x+0.5)*math.Log(x) + x - math.Log(2*math.Pi)/2
	}
	s := 1 / (x * x)
	return (1.0/12 - s*(1.0/360-s*(1.0/1260-s*(1.0/1680-s/1188)))) / x
}

// above returns P(X > n).
func (c counts) above(n float64) float64 {
	switch {
	case n < 0:
		return 1
	case c.mean <= 0:
		return 0
	case c.smooth():
		return exceeds(c.deviate(n + 0.5))
	case n+1 < c.mean:
		return 1 - c.lower(n)
	}
	return c.upper(n + 1)
}

// upTo returns P(X <= n).
func (c counts) upTo(n float64) float64 {
	switch {
	case n < 0:
		return 0
	case c.mean <= 0:
		return 1
	case c.smooth():
		return exceeds(-c.deviate(n + 0.5))
	case n+1 < c.mean:
		return c.lower(n)
	}
	return 1 - c.upper(n+1)
}

// mostTerms bounds the continued fractions, which need about √mean terms.
const mostTerms = 100_000

// upper is P(X >= a) for a >= 1: f(a) times the continued fraction of the
// incomplete beta function I_q(a, r) (Abramowitz, Stegun 26.5.8; from memory),
// its coefficients written with r·q = mean·p. At q = 0 it is that of the
// incomplete gamma function.
func (c counts) upper(a float64) float64 {
	rq := c.mean * c.p
	return share(c.chance(a) * fraction(func(m float64) (even, odd float64) {
		t := a + 2*m
		return m * (rq - m*c.q) / ((t - 1) * t), -(a + m) * ((a+m)*c.q + rq) / (t * (t + 1))
	}))
}

// lower is P(X <= n) for n below the mean: near to Poisson the sum of the terms
// from n down, else f(n) times the continued fraction of I_p(r, n + 1).
func (c counts) lower(n float64) float64 {
	if c.q < 0.5 {
		sum, term := 1.0, 1.0
		for k := n; k > 0 && term > 1e-18*sum; k-- {
			term /= c.next(k - 1)
			sum += term
		}
		return share(c.chance(n) * sum)
	}
	r, b := c.mean*c.p/c.q, n+1
	return share(c.chance(n) * c.q * (n + r) / r * fraction(func(m float64) (even, odd float64) {
		t := r + 2*m
		return m * (b - m) * c.p / ((t - 1) * t), -(r + m) * (r + b + m) * c.p / (t * (t + 1))
	}))
}

func share(p float64) float64 {
	if !(p > 0) {
		return 0
	}
	return min(p, 1)
}

// fraction returns 1/(1 + d₁/(1 + d₂/(1 + …))) by Lentz's method, d(m) giving
// d₂ₘ and d₂ₘ₊₁; d₀ is not used.
func fraction(d func(m float64) (even, odd float64)) float64 {
	const tiny = 1e-290
	keep := func(x float64) float64 {
		if math.Abs(x) < tiny {
			return tiny
		}
		return x
	}
	_, odd := d(0)
	lead := 1.0
	back := 1 / keep(1+odd)
	value := back
	for m := 1.0; m < mostTerms; m++ {
		even, odd := d(m)
		back = 1 / keep(1+even*back)
		lead = keep(1 + even/lead)
		value *= lead * back
		back = 1 / keep(1+odd*back)
		lead = keep(1 + odd/lead)
		value *= lead * back
		if math.Abs(lead*back-1) < 1e-15 {
			break
		}
	}
	return value
}
