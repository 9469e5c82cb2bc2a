package placement

import (
	"fmt"
	"maps"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// loopOf uses rate pieces a minute in packs of pack.
func loopOf(model plant.DemandModel, pack int64, rate, variance float64) *sizing.Loop {
	l := &sizing.Loop{}
	l.Model, l.Pack, l.Rate, l.Variance, l.Day = model, pack, units.Float(rate), units.Float(variance), units.Int(480)
	return l
}

func (e emptied) sum() (all, mean float64) {
	for n, p := range e {
		all, mean = all+p, mean+float64(n)*p
	}
	return all, mean
}

// Chances by hand.
func TestEmptied(t *testing.T) {
	t.Parallel()
	history := loopOf(plant.EmpiricalModel, 10, 1, 0)
	history.Days = []units.Ratio{units.Int(0), units.Int(120), units.Int(240)}
	none, one := math.Exp(-1), math.Exp(-1)
	tests := []struct {
		name    string
		loop    *sizing.Loop
		minutes float64
		want    []float64
	}{
		{"steady, 2.25 containers", loopOf(plant.SteadyModel, 4, 1, 0), 9, []float64{0, 0, 0.75, 0.25}},
		{"steady, nothing", loopOf(plant.SteadyModel, 4, 0, 0), 9, []float64{1, 0}},
		// No piece 1/e, one 1/e: of two pieces to a pack one piece empties it
		// every second time.
		{"poisson, mean 1, packs of 2", loopOf(plant.PoissonModel, 2, 1, 0), 1, []float64{none + one/2}},
		{"poisson, packs of 1", loopOf(plant.PoissonModel, 1, 1, 0), 1, []float64{none, one, one / 2, one / 6, one / 24}},
		// Mean 1, variance 2: shape 1, that is the geometric distribution 1/2, 1/4...
		{"negative binomial", loopOf(plant.NegativeBinomialModel, 1, 1, 2), 1, []float64{1. / 2, 1. / 4, 1. / 8, 1. / 16}},
		{"negative binomial with no more variance than a Poisson", loopOf(plant.NegativeBinomialModel, 1, 1, 0.5), 1, []float64{none, one, one / 2}},
		{"a normal with no variance is steady", loopOf(plant.NormalModel, 4, 1, 0), 9, []float64{0, 0, 0.75, 0.25}},
		// A quarter of a day uses 0, 30 or 60 pieces.
		{"history, a quarter of a day", history, 120, []float64{1. / 3, 0, 0, 1. / 3, 0, 0, 1. / 3}},
		// Day and a half: 0+60, 120+120, 240+0 pieces.
		{"history, a day and a half", history, 720, []float64{6: 1. / 3, 24: 2. / 3}},
		// Four days: 360+0, 360+120, 360+240 pieces.
		{"history, once round and a day", history, 1920, []float64{36: 1. / 3, 48: 1. / 3, 60: 1. / 3}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			e := newReturner(test.loop, 1).emptied(test.minutes)
			require.GreaterOrEqual(t, len(e), len(test.want))
			for n, want := range test.want {
				assert.InDelta(t, want, e[n], 1e-12, "%d containers", n)
			}
		})
	}
}

// A normal use of mean 0 is 0 half of the time and else half a normal: its mean
// is σ/√(2π) (Johnson, Kotz, Balakrishnan, Continuous Univariate Distributions
// 1, 1994, the half-normal; from memory), and so is that of the containers.
func TestNormalUseIsNeverBelowZero(t *testing.T) {
	t.Parallel()
	all, mean := newReturner(loopOf(plant.NormalModel, 4, 0, 64), 1).emptied(1).sum()
	assert.InDelta(t, 1, all, 1e-12)
	assert.InDelta(t, 8/math.Sqrt(2*math.Pi)/4, mean, 1e-9)
}

// Where pieces are so many that they count as continuous, the chances are close
// to those piece by piece.
func TestManyPieces(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ mean, variance, pack float64 }{{9e5, 9e5, 4e5}, {4000, 8e5, 900}, {300, 2e5, 200}} {
		exact, wide := byPieces(c.mean, c.variance, c.pack), byGamma(c.mean, c.variance, c.pack)
		for n := range min(len(exact), len(wide)) {
			assert.InDelta(t, exact[n], wide[n], 2e-3, "%v: %d containers", c, n)
		}
	}
	all, mean := newReturner(loopOf(plant.NegativeBinomialModel, 1e6, 3e6, 9e12), 1).emptied(1).sum()
	assert.InDelta(t, 1, all, 1e-9)
	assert.InDelta(t, 3, mean, 1e-6)
}

// anyLoop draws a loop of any model that uses pack·e pieces in an hour.
func anyLoop(d dice) *sizing.Loop {
	models := []plant.DemandModel{plant.SteadyModel, plant.PoissonModel, plant.NormalModel, plant.NegativeBinomialModel, plant.EmpiricalModel}
	pack := int64(d.from(1, 40))
	rate := float64(d.from(1, 200)) / 50 * float64(pack) / 60
	l := loopOf(models[d(len(models))], pack, rate, rate*float64(d(400))/100)
	for range d.from(20, 24) {
		l.Days = append(l.Days, units.Int(int64(d(40))*pack))
	}
	return l
}

// The chances of every model add up to 1, and those of each but the normal,
// which can not be below 0, have the mean of its use.
func TestEmptiedMeans(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		l, minutes := anyLoop(d), float64(d.from(1, 240))
		all, mean := newReturner(l, 1).emptied(minutes).sum()
		require.InDelta(t, 1, all, 1e-9)
		want := l.Rate.Float64() * minutes / float64(l.Pack)
		switch l.Model {
		case plant.EmpiricalModel:
			want = 0
			for _, day := range l.Days {
				want += day.Float64() / float64(len(l.Days)) * minutes / 480 / float64(l.Pack)
			}
		case plant.NormalModel:
			require.GreaterOrEqual(t, mean, want-1e-9)
			return
		default:
		}
		require.InDelta(t, want, mean, 1e-8)
		_, half := newReturner(l, 0.5).emptied(minutes).sum()
		require.InDelta(t, want/2, half, 1e-8, "half of the containers")
	})
}

// anyKinds draws what comes back on a rack.
func anyKinds(d dice) []kind {
	var kinds []kind
	for range d.from(1, 3) {
		k := kind{along: units.Length(d.from(150, 700)) * mm, stack: d.from(1, 3)}
		if d.yes(30) {
			k.along = units.Length(d.from(20, 90)) * units.Inch / 4
		}
		for range d.from(1, 4) {
			k.loops = append(k.loops, newReturner(anyLoop(d), []float64{1, 1, 0.5, 0.25}[d(4)]))
		}
		kinds = append(kinds, k)
	}
	return kinds
}

// A longer interval, a faster loop, a loop more or a higher level never needs
// less; the order of loops and kinds changes nothing.
func TestMoreNeverNeedsLess(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		kinds, minutes, level := anyKinds(d), float64(d.from(1, 120)), float64(d.from(900, 999))/1000
		need := needed(kinds, minutes, level)
		require.GreaterOrEqual(t, needed(kinds, minutes+float64(d.from(1, 500)), level), need, "longer")
		require.GreaterOrEqual(t, needed(kinds, minutes, level+0.0005), need, "surer")
		require.True(t, fits(kinds, minutes, level, need))
		if need > 0 {
			require.False(t, fits(kinds, minutes, level, need-1), "needed is the least")
		}
		turned := slices.Clone(kinds)
		slices.Reverse(turned)
		for i := range turned {
			turned[i].loops = slices.Clone(turned[i].loops)
			slices.Reverse(turned[i].loops)
		}
		require.InDelta(t, need, needed(turned, minutes, level), 0, "turned round")
		more := slices.Clone(kinds)
		more[0].loops = append(slices.Clone(more[0].loops), newReturner(anyLoop(d), 1))
		require.GreaterOrEqual(t, needed(more, minutes, level), need, "a loop more")
		r := kinds[0].loops[0]
		r.rate *= 1.1
		if r.model == plant.NegativeBinomialModel {
			r.variance *= 1.1
		}
		faster := slices.Clone(kinds)
		faster[0].loops = append([]returner{r}, kinds[0].loops[1:]...)
		require.GreaterOrEqual(t, needed(faster, minutes, level), need, "faster")
	})
}

// enumerated is the need of steady loops by going through every phase of every
// loop, pieces taken out of the container in use, in whole pieces and exact
// chances. Each loop has uses[i] pieces in the interval.
func enumerated(kinds []kind, uses [][]int64, level *big.Rat) float64 {
	chances := map[int64]*big.Rat{}
	phases := make([]int64, 0, 9)
	var walk func(i, j int, chance *big.Rat)
	walk = func(i, j int, chance *big.Rat) {
		if i == len(kinds) {
			length, at := int64(0), 0
			for k := range kinds {
				n := int64(0)
				for h := range kinds[k].loops {
					n += (phases[at] + uses[k][h]) / int64(kinds[k].loops[h].pack)
					at++
				}
				s := int64(kinds[k].stack)
				length += (n + s - 1) / s * int64(kinds[k].along)
			}
			if chances[length] == nil {
				chances[length] = new(big.Rat)
			}
			chances[length].Add(chances[length], chance)
			return
		}
		if j == len(kinds[i].loops) {
			walk(i+1, 0, chance)
			return
		}
		q := int64(kinds[i].loops[j].pack)
		for phase := range q {
			phases = append(phases, phase)
			walk(i, j+1, new(big.Rat).Mul(chance, big.NewRat(1, q)))
			phases = phases[:len(phases)-1]
		}
	}
	walk(0, 0, big.NewRat(1, 1))
	var lengths []int64
	for l := range chances {
		lengths = append(lengths, l)
	}
	slices.Sort(lengths)
	below := new(big.Rat)
	for _, l := range lengths {
		if below.Add(below, chances[l]); below.Cmp(level) >= 0 {
			return float64(l)
		}
	}
	return -1
}

// Tiny racks of steady loops agree with going through all cases, to the
// nanometre, at levels that chances reach exactly too.
func TestNeedByBruteForce(t *testing.T) {
	t.Parallel()
	for seed := range uint64(300) {
		d := seeded(seed)
		var kinds []kind
		var uses [][]int64
		for range d.from(1, 2) {
			k := kind{along: units.Length(d.from(2, 8)) * 50 * mm, stack: d.from(1, 3)}
			var use []int64
			for range d.from(1, 2) {
				l := loopOf(plant.SteadyModel, int64(d.from(1, 8)), 0, 0)
				use = append(use, int64(d(20)))
				l.Rate = units.R(use[len(use)-1], 60)
				k.loops = append(k.loops, newReturner(l, 1))
			}
			kinds, uses = append(kinds, k), append(uses, use)
		}
		level := big.NewRat(int64(d.from(1, 64))*15-5, 960)
		if d.yes(50) {
			level = big.NewRat(int64(d.from(1, 63)), 64)
		}
		float, _ := level.Float64()
		require.InDelta(t, enumerated(kinds, uses, level), needed(kinds, 60, float), 0, "seed %d", seed)
	}
}

// played plays the use of a loop piece by piece through a number of intervals
// and returns what was emptied in each: one long play in which containers run
// on from visit to visit. It draws uses with the distribution's own recipe.
func played(rng *rand.Rand, l *sizing.Loop, minutes float64, visits int) []int {
	mean, variance := l.Rate.Float64()*minutes, l.Variance.Float64()*minutes
	poisson := func(mean float64) float64 {
		n := 0.0
		for left := rng.ExpFloat64(); left < mean; left += rng.ExpFloat64() {
			n++
		}
		return n
	}
	draw := func() float64 {
		switch l.Model {
		case plant.PoissonModel:
			return poisson(mean)
		case plant.NegativeBinomialModel:
			// A Poisson use whose mean is itself drawn, from the gamma distribution:
			// with a whole shape it is a sum of exponential draws.
			shape, drawn := int(math.Round(mean*mean/(variance-mean))), 0.0
			for range shape {
				drawn += rng.ExpFloat64() * mean / float64(shape)
			}
			return poisson(drawn)
		case plant.NormalModel:
			return max(0, mean+math.Sqrt(variance)*rng.NormFloat64())
		case plant.EmpiricalModel:
			return l.Days[rng.IntN(len(l.Days))].Float64() * minutes / 480
		default:
			return mean
		}
	}
	counts := make([]int, visits)
	for i := range counts {
		out, used := rng.Float64()*float64(l.Pack), draw()
		if l.Model == plant.PoissonModel || l.Model == plant.NegativeBinomialModel {
			out = math.Floor(out)
		}
		for used -= float64(l.Pack) - out; used >= 0; used -= float64(l.Pack) {
			counts[i]++
		}
	}
	return counts
}

// The need of racks agrees with a play of many visits that draws phases and
// uses: the played share of visits within the need is at the level or above,
// that of one step less is below it, both up to three deviations of the play.
func TestNeedAgainstPlay(t *testing.T) {
	t.Parallel()
	const visits, minutes, level = 40_000, 60.0, 0.98
	for seed := range uint64(12) {
		d, rng := seeded(seed), rand.New(rand.NewPCG(seed, 3))
		k := kind{along: 400 * mm, stack: d.from(1, 2)}
		total := make([]int, visits)
		for range d.from(1, 4) {
			l := anyLoop(d)
			mean := l.Rate.Float64() * minutes
			l.Variance = units.Float((mean + mean*mean/float64(d.from(1, 3))) / minutes)
			k.loops = append(k.loops, newReturner(l, 1))
			for i, n := range played(rng, l, minutes, visits) {
				total[i] += n
			}
		}
		need := int(needed([]kind{k}, minutes, level) / float64(k.along))
		within, less := 0, 0
		for _, n := range total {
			stacks := (n + k.stack - 1) / k.stack
			if stacks <= need {
				within++
			}
			if stacks < need {
				less++
			}
		}
		slack := 3 * math.Sqrt(level*(1-level)*visits)
		assert.GreaterOrEqual(t, float64(within), level*visits-slack, "seed %d", seed)
		assert.LessOrEqual(t, float64(less), level*visits+slack, "seed %d", seed)
	}
}

// What a lane can take: whole containers only, whichever go best together.
func TestWhatALaneHolds(t *testing.T) {
	t.Parallel()
	of := func(lengths ...units.Length) (kinds []kind) {
		for _, l := range lengths {
			kinds = append(kinds, kind{along: l})
		}
		return kinds
	}
	for _, test := range []struct {
		lane  units.Length
		kinds []kind
		want  units.Length
	}{
		{1000 * mm, of(400 * mm), 800 * mm},
		{1200 * mm, of(400 * mm), 1200 * mm},
		{1000 * mm, of(400*mm, 600*mm), 1000 * mm},
		{1100 * mm, of(400*mm, 600*mm), 1000 * mm},
		{1000 * mm, of(385*mm, 301*mm), 987 * mm},
		{300 * mm, of(400 * mm), 0},
		// 47 1/4 in of 15 3/4 in: three, exactly.
		{189 * units.Inch / 4, of(63 * units.Inch / 4), 189 * units.Inch / 4},
		// A measure in common below a millimetre is rounded up: 387.35 to 388.
		{1200 * mm, of(61*units.Inch/4, 600*mm+1), 388*2*mm + 388*mm},
		{units.Length(1) << 61, of(400*mm, 300*mm+1), units.Length(1) << 61},
	} {
		assert.InDelta(t, float64(test.want), holds(test.lane, test.kinds), 0, "%v of %v", test.lane, test.kinds)
	}
}

// Rare bursts reach far beyond what is needed: that makes no step coarser. A
// loop with a tail of hundreds of containers and one of 0.2 need no more than
// exact sums of 301 and 403 mm, however far the tail goes.
func TestLongTailsAreExact(t *testing.T) {
	t.Parallel()
	bursts := newReturner(loopOf(plant.NegativeBinomialModel, 10, 1, 150), 1)
	kinds := []kind{{along: 301 * mm, stack: 1, loops: []returner{bursts}}, {along: 403 * mm, stack: 1, loops: []returner{newReturner(loopOf(plant.SteadyModel, 10, 0.2, 0), 1)}}}
	assert.Greater(t, len(bursts.emptied(10)), 110, "the tail is longer than the steps")
	below, need := 0.0, needed(kinds, 10, 0.95)
	whole := map[float64]float64{}
	for n, p := range bursts.emptied(10) {
		whole[float64(n)*301] += 0.8 * p
		whole[float64(n)*301+403] += 0.2 * p
	}
	for _, length := range slices.Sorted(maps.Keys(whole)) {
		if below += whole[length]; below >= 0.95 {
			assert.InDelta(t, length, need/1e6, 0)
			break
		}
	}
	assert.Greater(t, needed(kinds, 10, 0.9999999), mostSteps*1e6, "beyond the steps they grow")
}

// Input that no plant has ends in bounded time with a number.
func TestHostileEmpties(t *testing.T) {
	t.Parallel()
	for _, l := range []*sizing.Loop{
		loopOf(plant.SteadyModel, 1, 1e60, 0), loopOf(plant.PoissonModel, 1, 1e60, 0), loopOf(plant.NormalModel, 1, 1, 1e60),
		loopOf(plant.NegativeBinomialModel, 1, 1e-9, 1e60), loopOf(plant.NegativeBinomialModel, 1, 1e-9, 1), loopOf(plant.PoissonModel, math.MaxInt64, 1e-30, 0),
	} {
		kinds := []kind{{along: 1, stack: 1, loops: []returner{newReturner(l, 0.5)}}, {along: units.Length(1)<<61 + 1, stack: mostEmptied, loops: []returner{newReturner(l, 1)}}}
		need := needed(kinds, 1e7, 0.995)
		assert.False(t, math.IsNaN(need) || need < 0, "%v: %v", l.Model, need)
		all, _ := newReturner(l, 1).emptied(1e7).sum()
		assert.InDelta(t, 1, all, 1e-6, "%v, rate %v, variance %v", l.Model, l.Rate, l.Variance)
	}
}

// manyRacks is a plant of racks with so many loops each, and its layout: a lane
// for each loop, and so many return lanes.
func manyRacks(racks, loops, back int) (Input, Layout) {
	d := seeded(1)
	p := &plant.Plant{Settings: plant.DefaultSettings(), Cells: []plant.Cell{{Cell: "C"}}, Stations: []plant.Station{{Station: "S", Cell: "C"}}}
	for i, b := range [][3]int{{300, 200, 150}, {400, 300, 150}, {600, 400, 220}, {385, 285, 120}, {297, 198, 148}} {
		p.Containers = append(p.Containers, plant.Container{Container: plant.ContainerCode(fmt.Sprint("B", i)), Returnable: true, Nests: units.R(int64(1+i%2), 2),
			Length: units.Length(b[0]) * mm, Width: units.Length(b[1]) * mm, Height: units.Length(b[2]) * mm})
	}
	p.RackTypes = []plant.RackType{{RackType: "T", Levels: []plant.Level{
		{Level: 1, Kind: plant.Supply, LaneLength: 1400 * mm, ClearHeight: 300 * mm},
		{Level: 2, Kind: plant.Return, LaneLength: 1400 * mm, ClearHeight: 300 * mm},
	}}}
	var sized []sizing.Loop
	var l Layout
	for i := range racks {
		r := plant.Rack{Rack: plant.RackCode(fmt.Sprintf("R%04d", i)), RackType: "T", Cell: "C"}
		p.Racks = append(p.Racks, r)
		for k := range loops {
			s := *anyLoop(d)
			s.Containers = 4
			s.Rate, s.Variance = s.Rate.Mul(units.R(1, 2)), s.Variance.Mul(units.R(1, 2))
			s.Key, s.Interval = demand.Key{Part: plant.PartCode(fmt.Sprintf("P%04d-%02d", i, k)), Cell: "C", Station: "S"}, time.Hour
			s.Container = p.Containers[d(len(p.Containers))].Container
			sized = append(sized, s)
			l.Lanes = append(l.Lanes, Lane{Rack: r.Rack, Level: 1, Lane: k + 1, Kind: plant.Supply, Loop: s.Key, Side: plant.LengthAlong, Capacity: 4, Containers: 4})
		}
		for k := range back {
			l.Lanes = append(l.Lanes, Lane{Rack: r.Rack, Level: 2, Lane: k + 1, Kind: plant.Return})
		}
	}
	x := plant.NewIndex(p)
	l.Racks = structure.Racks(x)
	return Input{Index: x, Loops: sized, Racks: l.Racks, Plant: p.Settings}, l
}

func benchmarkEmpties(b *testing.B, back int) {
	in, l := manyRacks(1250, 16, back)
	short := 0
	for b.Loop() {
		short = len(Empties(in, l, nil))
	}
	b.ReportMetric(float64(short), "short")
}

// BenchmarkEmpties judges 20,000 loops on 1,250 racks, all models, five sizes
// that have no measure in common but a millimetre; the second has too few
// return lanes everywhere, so that an interval is looked for on each rack.
func BenchmarkEmpties(b *testing.B)      { benchmarkEmpties(b, 12) }
func BenchmarkEmptiesShort(b *testing.B) { benchmarkEmpties(b, 2) }
