package recompute

import (
	"math"
	"math/big"
)

// weekOf is the net minutes of a week of a cell.
func (f *facts) weekOf(cell string) *big.Rat {
	total := 0
	for _, s := range f.cellShifts(cell) {
		total += s.net() * len(s.days)
	}
	return ratio(int64(total))
}

// yearly is the service level, in percent, of a cycle of so many minutes where
// the plant allows shortages by the year: 1 − n·R/(minutes of a year), a half
// at least.
func (f *facts) yearly(cell string, interval *big.Rat) *big.Rat {
	year := mul(f.weekOf(cell), f.setting("Weeks per year", "48"))
	risk := quo(mul(f.setting("Shortages per year", "1"), interval), year)
	level := mul(ratio(100), add(ratio(1), mul(risk, ratio(-1))))
	if half := ratio(50); level.Cmp(half) < 0 {
		return half
	}
	return level
}

// covers returns D of a loop whose use varies: what its use over t minutes does
// not exceed at the service level or, where the plant promises a share of the
// pieces, the least D whose expected shortage is within that share of the mean
// use of an interval.
func (n *need) covers(t *big.Rat, fill bool) float64 {
	p := float(n.service) / 100
	short := (1 - p) * float(mul(n.rate, n.interval))
	mean, variance := n.mean, float(mul(n.variance, t))
	switch n.model {
	case "normal":
		if fill {
			return normalFill(mean, math.Sqrt(variance), short)
		}
		return math.Max(0, mean+quantile(p)*math.Sqrt(variance))
	case "poisson", "negative-binomial":
		if n.model == "poisson" {
			variance = mean
		}
		if fill {
			return piecesFill(mean, variance, short)
		}
		return piecesQuantile(mean, variance, p)
	default:
		w := windows(n.days, t, n.day)
		if fill {
			return windowsFill(w, short)
		}
		rank := ceil(mul(quo(n.service, ratio(100)), ratio(int64(len(w)))))
		return float(w[max(1, rank)-1])
	}
}

// chance of x pieces, Poisson where the variance is the mean, else negative
// binomial, by the logarithms of its factorials.
func chance(x, mean, variance float64) float64 {
	f, _ := math.Lgamma(x + 1)
	if mean <= 0 {
		return map[bool]float64{true: 1}[x == 0]
	}
	if variance <= mean {
		return math.Exp(x*math.Log(mean) - mean - f)
	}
	size, none := mean*mean/(variance-mean), mean/variance
	top, _ := math.Lgamma(x + size)
	bottom, _ := math.Lgamma(size)
	return math.Exp(top - bottom - f + size*math.Log(none) + x*math.Log1p(-none))
}

func piecesQuantile(mean, variance, p float64) float64 {
	sum := 0.0
	for x := 0.0; ; x++ {
		if sum += chance(x, mean, variance); sum >= p-1e-12 {
			return x
		}
	}
}

// piecesFill adds up what is short of each number of pieces: covering one more
// takes off the chance that more than so many are used.
func piecesFill(mean, variance, short float64) float64 {
	expected, above := mean, 1.0
	for d := 0.0; ; d++ {
		if expected <= short*(1+1e-9) {
			return d
		}
		above -= chance(d, mean, variance)
		expected -= above
	}
}

// normalFill halves until the expected shortage, added up slice by slice of the
// normal density above d, is what is allowed.
func normalFill(mean, sd, short float64) float64 {
	expected := func(d float64) float64 {
		sum, from, to := 0.0, math.Max(d, mean-9*sd), mean+9*sd
		const slices = 4000
		h := (to - from) / slices
		for i := range slices {
			x := from + (float64(i)+0.5)*h
			z := (x - mean) / sd
			sum += (x - d) * math.Exp(-z*z/2)
		}
		return sum * h / sd / math.Sqrt(2*math.Pi)
	}
	if sd == 0 {
		return math.Max(0, mean-short)
	}
	low, high := 0.0, math.Max(0, mean+9*sd)
	if expected(low) <= short {
		return 0
	}
	for range 60 {
		if mid := (low + high) / 2; expected(mid) > short {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// windowsFill goes down from the largest use, as far as the shortage allows.
func windowsFill(sorted []*big.Rat, short float64) float64 {
	count := float64(len(sorted))
	d, expected := float(sorted[len(sorted)-1]), 0.0
	for above := 1; above <= len(sorted); above++ {
		next := 0.0
		if above < len(sorted) {
			next = float(sorted[len(sorted)-1-above])
		}
		more := expected + (d-next)*float64(above)/count
		if more > short {
			return d - (short-expected)*count/float64(above)
		}
		d, expected = next, more
	}
	return 0
}
