package placement

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"lanewright/planner/plant"
	"lanewright/planner/sizing"
)

// emptied is how many containers become empty between two visits: emptied[n]
// is the chance of exactly n. The pieces already taken out of the container in
// use are as likely to be any number below the standard pack q, so a use of x
// pieces empties
//
//	⌊x/q⌋ + 1 containers with the fractional part of x/q as its chance, else ⌊x/q⌋.
//
// The mean is x/q whatever x is. The chances change gradually with x, so that
// nothing is rounded up here that would need an exact ratio.
type emptied []float64

const (
	// mostEmptied bounds the counts: what is beyond counts as so many. No rack
	// takes back as many between two visits.
	mostEmptied = 2000
	// noChance is what a tail may hold that is cut off.
	noChance = 1e-12
	// widePieces bounds the standard deviation of a use that is added up piece
	// by piece, wideBurst the variance over the mean; beyond, pieces are so
	// many that one more or less does not matter and the use is continuous.
	widePieces, wideBurst = 1000, 1000
)

// returner is a loop whose empties a rack takes back.
type returner struct {
	model plant.DemandModel
	// rate and variance are of the pieces used in a net minute, pack is pieces
	// per container.
	rate, variance, pack float64
	// until[i] is the pieces used on the first i days of twice the history, day
	// the net minutes of a day.
	until []float64
	day   float64
	// share is that of the loop's containers which lies on the rack.
	share float64
}

func newReturner(l *sizing.Loop, share float64) returner {
	r := returner{model: l.Model, rate: l.Rate.Float64(), variance: l.Variance.Float64(), pack: float64(l.Pack), share: share}
	if r.model != plant.EmpiricalModel {
		return r
	}
	r.day = l.Day.Float64()
	r.until = make([]float64, 1, 2*len(l.Days)+1)
	for i := range 2 * len(l.Days) {
		r.until = append(r.until, r.until[i]+l.Days[i%len(l.Days)].Float64())
	}
	return r
}

// emptied returns the containers of r that become empty on the rack within so
// many net minutes.
func (r returner) emptied(minutes float64) emptied {
	mean, variance := r.rate*minutes, r.variance*minutes
	var e emptied
	switch r.model {
	case plant.PoissonModel:
		e = byPieces(mean, mean, r.pack)
	case plant.NegativeBinomialModel:
		e = byPieces(mean, max(mean, variance), r.pack)
	case plant.EmpiricalModel:
		e = byHistory(r.until, minutes/r.day, r.pack)
	case plant.NormalModel:
		e = byNormal(mean, variance, r.pack)
	default:
		e = bySteady(mean, r.pack)
	}
	return e.share(r.share)
}

// moments are mean and variance of what emptied returns, but for a normal use
// below 0: the variance of the pieces, of the phase of the container in use
// and of the share.
func (r returner) moments(minutes float64) (mean, variance float64) {
	mean = r.rate * minutes / r.pack
	_, part := math.Modf(mean)
	variance = part * (1 - part)
	switch r.model {
	case plant.SteadyModel:
	case plant.PoissonModel:
		variance += mean / r.pack
	default:
		variance += r.variance * minutes / r.pack / r.pack
	}
	return mean * r.share, variance*r.share*r.share + mean*r.share*(1-r.share)
}

func bySteady(mean, q float64) emptied {
	var e emptied
	e.use(mean/q, 1)
	return e
}

// use adds a use of so many containers that has the given chance.
func (e *emptied) use(containers, chance float64) {
	containers = min(max(0, containers), mostEmptied)
	whole := min(math.Floor(containers), mostEmptied-1)
	part := containers - whole
	n := int(whole)
	for len(*e) < n+2 {
		*e = append(*e, 0)
	}
	(*e)[n] += chance * (1 - part)
	(*e)[n+1] += chance * part
}

// byPieces is for whole pieces with the given mean and variance, Poisson where
// the two are equal and negative binomial where the variance is larger. Both
// obey (Panjer, ASTIN Bulletin 12, 1981, 22-26; from memory)
//
//	p(x)/p(x−1) = a + b/x,  a = 1 − mean/variance,  b = mean²/variance − a,
//
// so the chances are taken from the most likely x up and down and then made to
// add up to 1.
func byPieces(mean, variance, q float64) emptied {
	if mean <= 0 {
		return emptied{1}
	}
	if variance > widePieces*widePieces || variance > wideBurst*mean {
		return byGamma(mean, variance, q)
	}
	var e emptied
	a := 1 - mean/variance
	b := mean*mean/variance - a
	top := math.Floor(max(0, b/(1-a)))
	sum, least := 0.0, 1e-14*(1-a)
	for x, w := top, 1.0; w > least; x++ {
		e.use(x/q, w)
		sum += w
		w *= a + b/(x+1)
	}
	for x, w := top, 1.0; x > 0 && w > least; x-- {
		w /= a + b/x
		e.use((x-1)/q, w)
		sum += w
	}
	for n := range e {
		e[n] /= sum
	}
	return trimmed(e)
}

// byHistory takes the days of history each as the first of a window of so many
// days and the use inside a day as even. After the last day comes the first
// again: so every day counts as often and a longer window never uses less.
func byHistory(until []float64, days, q float64) emptied {
	n := len(until) / 2
	rounds := math.Floor(days / float64(n))
	whole, part := math.Modf(days - rounds*float64(n))
	var e emptied
	for i := range n {
		to := i + int(whole)
		use := rounds*until[n] + until[to] - until[i] + part*(until[to+1]-until[to])
		e.use(use/q, 1/float64(n))
	}
	return trimmed(e)
}

// byNormal is for a normal use that is 0 where it would be below. It is not
// rounded to pieces, which would lose the use of slow loops. With
// M(x) = E[min(use, x)] and the loss function L(z) = φ(z) − z(1 − Φ(z)) it is
//
//	M(x) = σ(L(−μ/σ) − L((x − μ)/σ)).
func byNormal(mean, variance, q float64) emptied {
	if variance <= 0 {
		return bySteady(mean, q)
	}
	sd := math.Sqrt(variance)
	none := loss(-mean / sd)
	return byLimits(q, func(x float64) float64 { return sd * (none - loss((x-mean)/sd)) })
}

func loss(z float64) float64 {
	return math.Exp(-z*z/2)/math.Sqrt(2*math.Pi) - z*math.Erfc(z/math.Sqrt2)/2
}

// byGamma is for very many pieces: the gamma distribution of the same mean and
// variance, to which the negative binomial tends. With its shape k = μ²/σ²
// and scale θ = σ²/μ, and P the regularised lower incomplete gamma function,
//
//	M(x) = μ·P(k + 1, x/θ) + x(1 − P(k, x/θ)).
func byGamma(mean, variance, q float64) emptied {
	shape, scale := mean*mean/variance, variance/mean
	return byLimits(q, func(x float64) float64 {
		return mean*mathext.GammaIncReg(shape+1, x/scale) + x*mathext.GammaIncRegComp(shape, x/scale)
	})
}

// byLimits is for a use of which M(x) = E[min(use, x)] is known. That at least
// n containers become empty has the chance (M(nq) − M((n−1)q)) / q.
func byLimits(q float64, limited func(x float64) float64) emptied {
	var e emptied
	above, last := 1.0, 0.0
	for n := 1; n <= mostEmptied && above > noChance; n++ {
		m := limited(float64(n) * q)
		tail := min(above, max(0, (m-last)/q))
		e = append(e, above-tail)
		above, last = tail, m
	}
	return append(e, above)
}

// share returns how many of the containers lie on a rack that holds a share of
// the loop's: each does with that chance.
func (e emptied) share(s float64) emptied {
	if s >= 1 {
		return e
	}
	out := make(emptied, len(e))
	odds := emptied{1}
	for n, chance := range e {
		for k, p := range odds {
			out[k] += chance * p
		}
		if n < len(e)-1 {
			odds = odds.and(emptied{1 - s, s})
		}
	}
	return trimmed(out)
}

// and returns the containers of both together.
func (e emptied) and(o emptied) emptied {
	sum := make(emptied, min(len(e)+len(o)-1, mostEmptied+1))
	for n, p := range e {
		if p == 0 {
			continue
		}
		for k, w := range o {
			sum[min(n+k, mostEmptied)] += p * w
		}
	}
	return sum
}

// trimmed takes off the end that has no chance; what it has counts as the last
// that stays.
func trimmed(chances []float64) []float64 {
	end, tail := len(chances), 0.0
	for ; end > 1 && tail+chances[end-1] < noChance; end-- {
		tail += chances[end-1]
	}
	chances[end-1] += tail
	return chances[:end]
}
