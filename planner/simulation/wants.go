package simulation

import (
	"math"
	"math/rand/v2"

	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// wants tells when the next container of a loop is wanted: the moment, in net
// nanoseconds, at which the piece after the last of the container in use is
// reached for. The emptied container is then put aside and becomes the signal.
// Every way of use is one of these.
type wants interface {
	// next returns that time, which never goes back, and how many pieces are
	// wanted at that very moment, 1 or more.
	next() (net int64, pieces float64)
}

// newWants returns the use of l by its own demand model.
func newWants(l *sizing.Loop, random *rand.Rand) wants {
	if l.Rate.Sign() <= 0 {
		return unused{}
	}
	const minute = 60e9
	rate, variance := l.Rate.Float64()/minute, l.Variance.Float64()/minute
	switch {
	case l.Model == plant.PoissonModel || l.Model == plant.NegativeBinomialModel && variance <= rate:
		return newPoisson(rate, l.Pack, random)
	case l.Model == plant.NegativeBinomialModel:
		return newBatches(rate, variance, l.Pack, random)
	case l.Model == plant.NormalModel && variance > 0:
		return newWalk(rate, variance, l, random)
	case l.Model == plant.EmpiricalModel && len(l.Days) > 0:
		return newReplay(l, random)
	default:
		s := newSteady(l)
		s.begin(random.Int64N(max(1, s.step)))
		return s
	}
}

// unused is a loop from which nothing is taken.
type unused struct{}

func (unused) next() (int64, float64) { return never, 1 }

// steady takes a piece at even distances: a container is wanted every q/λ, to
// the nanosecond and with no error that adds up.
type steady struct {
	at, step        int64
	rest, part, den int64
}

func newSteady(l *sizing.Loop) *steady {
	nanoseconds := units.Int(l.Pack).Div(l.Rate).Mul(units.Int(60_000_000_000))
	s := &steady{step: nanoseconds.Floor(), den: 1}
	if num, den, ok := nanoseconds.Sub(units.Int(s.step)).Fraction(); ok && den < math.MaxInt64/2 {
		s.part, s.den = num, den
	}
	s.step = max(1, s.step)
	return s
}

// begin lets the first container be wanted at a net time.
func (s *steady) begin(at int64) { s.at = at }

func (s *steady) next() (int64, float64) {
	at := s.at
	if s.step >= never-s.at {
		s.at = never
		return at, 1
	}
	s.at += s.step
	if s.rest += s.part; s.rest >= s.den {
		s.rest -= s.den
		s.at++
	}
	return at, 1
}

// poisson takes single pieces at exponential distances.
type poisson struct {
	at, mean float64
	pack     int64
	// left is how many pieces are still taken before the next container is wanted.
	left   int64
	random *rand.Rand
}

func newPoisson(rate float64, pack int64, random *rand.Rand) *poisson {
	return &poisson{mean: 1 / rate, pack: pack, left: random.Int64N(pack) + 1, random: random}
}

func (p *poisson) next() (int64, float64) {
	p.at += p.mean * gamma(p.left, p.random)
	p.left = p.pack
	return whole(p.at), 1
}

// gamma returns the sum of n exponential variables of mean 1: for few by adding
// them, else by the squeeze of Marsaglia and Tsang (ACM Trans. Mathematical
// Software 26(3), 2000, 363-372; from memory).
func gamma(n int64, random *rand.Rand) float64 {
	const few = 12
	if n <= few {
		sum := 0.0
		for range n {
			sum += random.ExpFloat64()
		}
		return sum
	}
	d := float64(n) - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := random.NormFloat64()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v *= v * v
		u := random.Float64()
		if u < 1-0.0331*x*x*x*x || math.Log(u) < 0.5*x*x+d*(1-v+math.Log(v)) {
			return d * v
		}
	}
}

// batches takes pieces in batches at exponential distances, their sizes by the
// logarithmic series: what is used in any time is then negative binomial with
// the mean and variance of that time (Quenouille, Biometrics 5, 1949, 162-164;
// from memory).
type batches struct {
	at, mean float64
	theta, r float64
	pack     int64
	// left are pieces until the next container is wanted; batch are pieces of the
	// batch that is being taken.
	left, batch int64
	random      *rand.Rand
}

func newBatches(rate, variance float64, pack int64, random *rand.Rand) *batches {
	theta := 1 - rate/variance
	r := math.Log1p(-theta)
	size := -theta / ((1 - theta) * r)
	return &batches{mean: size / rate, theta: theta, r: r, pack: pack, left: random.Int64N(pack) + 1, random: random}
}

func (b *batches) next() (int64, float64) {
	for b.batch < b.left {
		b.left -= b.batch
		b.at += b.mean * b.random.ExpFloat64()
		b.batch = b.size()
	}
	b.batch -= b.left
	b.left = b.pack
	return whole(b.at), float64(min(b.batch+1, b.pack))
}

// size draws from the logarithmic series (Kemp, Applied Statistics 30(3), 1981,
// 249-253, algorithm LK; from memory).
func (b *batches) size() int64 {
	v := b.random.Float64()
	if v >= b.theta {
		return 1
	}
	q := -math.Expm1(b.r * b.random.Float64())
	switch {
	case v <= q*q:
		return max(1, int64(min(1+math.Log(v)/math.Log(q), 1<<40)))
	case v <= q:
		return 2
	default:
		return 1
	}
}

// walk takes pieces as a walk of normal steps asks for them: it never takes any
// back, so that where the walk falls nothing is used until it has risen above
// its highest point.
type walk struct {
	// slot is the length of a step, drift and spread its mean and deviation.
	slot, drift, spread float64
	// at is the start of the step under way; low and high are the highest points of
	// the walk at its start and end, and where it stands.
	at, low, high, stands float64
	// wanted is the piece at which the next container is wanted.
	wanted, pack float64
	random       *rand.Rand
}

// slots is how many steps the walk takes in the time that a loop must live
// through.
const slots = 16

func newWalk(rate, variance float64, l *sizing.Loop, random *rand.Rand) *walk {
	slot := max(float64(l.Interval+l.Response)/slots, 1)
	w := &walk{slot: slot, drift: rate * slot, spread: math.Sqrt(variance * slot), pack: float64(l.Pack), random: random}
	// It starts as far below its highest point as it stands in the long run.
	w.stands = -random.ExpFloat64() * variance / (2 * rate)
	w.at = -slot
	w.wanted = float64(random.Int64N(l.Pack) + 1)
	return w
}

func (w *walk) next() (int64, float64) {
	for w.wanted > w.high {
		w.at += w.slot
		w.low = w.high
		w.stands += w.drift + w.spread*w.random.NormFloat64()
		w.high = max(w.high, w.stands)
	}
	at := w.at + w.slot*(w.wanted-w.low)/(w.high-w.low)
	w.wanted += w.pack
	return whole(at), 1
}

// replay uses again what was used on the days of the history, from a day drawn
// at random on, spread evenly over each.
type replay struct {
	days         []float64
	day          float64
	today        int
	at, used     float64
	wanted, pack float64
}

func newReplay(l *sizing.Loop, random *rand.Rand) wants {
	r := &replay{days: make([]float64, len(l.Days)), day: l.Day.Float64() * 60e9, pack: float64(l.Pack)}
	sum := 0.0
	for i, d := range l.Days {
		r.days[i] = d.Float64()
		sum += r.days[i]
	}
	if sum <= 0 || r.day <= 0 {
		return unused{}
	}
	r.today = random.IntN(len(r.days))
	r.wanted = float64(random.Int64N(l.Pack) + 1)
	return r
}

func (r *replay) next() (int64, float64) {
	for r.used+r.days[r.today] < r.wanted {
		r.used += r.days[r.today]
		r.at += r.day
		r.today = (r.today + 1) % len(r.days)
	}
	at := r.at + r.day*(r.wanted-r.used)/r.days[r.today]
	r.wanted += r.pack
	return whole(at), 1
}

// whole returns a net time in nanoseconds, never where it is beyond any play.
func whole(at float64) int64 {
	if at >= 1<<62 {
		return never
	}
	return int64(at)
}
