package tours

// Temperatures are in mean legs to near stops; measured.
const (
	hotSoft, hotHard   = 2.0, 3.0
	coldSoft, coldHard = 0.06, 0.03
	// Problems of up to so many stops without a limit of time begin with soft
	// limits, which are hard from this share of the budget on.
	smallStops = 250
	hardFrom   = 0.5
	// Larger ones do if there is time for so many kicks for each stop, which is
	// judged after so many kicks where the number of all kicks is not set.
	kicksForSoft = 700
	judgedAfter  = 1024
	// From so many stops on the search begins the cooler the fewer kicks there
	// are for each stop: with so many at one mean leg.
	largeStops   = 1500
	hotLeast     = 0.1
	kicksForHeat = 200
)

// soft reports whether f's limits are soft at first.
func (f *frozen) soft() bool { return f.Stops <= smallStops && !f.timed }

// hot is the temperature that the search begins with where it may do so many
// kicks.
func (t *trajectory) hot(kicks float64) float64 {
	switch n := t.f.Stops; {
	case t.mild:
		return hotSoft
	case n < largeStops:
		return hotHard
	default:
		return min(max(kicks/float64(n)/kicksForHeat, hotLeast), hotHard)
	}
}

// cold is the temperature that the search ends with.
func (t *trajectory) cold() float64 {
	if t.mild {
		return coldSoft
	}
	return coldHard
}

// judge decides what there is time for where so many kicks can be done: a
// population, and limits that are soft at first.
func (t *trajectory) judge(kicks float64) {
	t.judged = true
	n := t.f.Stops
	if (1-annealed)*kicks < leastChildren*float64(n*stepsOfChild) {
		t.population = nil
	}
	if !t.mild && !t.f.timed && n < largeStops && kicks >= kicksForSoft*float64(n) {
		t.soften(takenLater)
	}
}

// soften lets breaches be, at prices that adjust themselves.
func (t *trajectory) soften(taken float64) {
	t.mild, t.hard = true, false
	t.takenMean = taken
	t.reprice(t.f.softPrices())
}

// Prices of breaches rise and fall so that routes are within the limits in
// about this share of the kicks; they are set anew after so many.
const (
	keptShare  = 0.3
	repriced   = 300
	priceRises = 1.15
	priceFalls = 0.87
)

// reconsider sets new prices from time to time, where limits are soft.
func (t *trajectory) reconsider() {
	if t.hard {
		return
	}
	t.counted++
	if t.over > 0 {
		t.breached++
	}
	if t.counted < repriced {
		return
	}
	by := priceFalls
	if float64(t.counted-t.breached) < keptShare*float64(t.counted) {
		by = priceRises
	}
	t.breached, t.counted = 0, 0
	t.reprice(t.prices.times(by))
}
