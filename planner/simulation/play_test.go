package simulation_test

import (
	"context"
	"fmt"
	"math"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// alone is the plan of loops that nobody shares anything with: each has its
// lanes and rounds of its own, every interval.
func alone(loops []demand.Loop) simulation.Input {
	p := &plant.Plant{
		Settings:   plant.DefaultSettings(),
		Shifts:     []plant.Shift{plant.DefaultShift()},
		Containers: []plant.Container{{Container: "B", Length: 400 * units.Millimetre, Width: 300 * units.Millimetre, Height: 200 * units.Millimetre}},
		Cells:      []plant.Cell{{Cell: "C"}},
	}
	for i := range loops {
		loops[i].Key = demand.Key{Part: plant.PartCode(fmt.Sprintf("P%04d", i)), Cell: "C", Station: "S"}
		loops[i].Container = "B"
		p.Parts = append(p.Parts, plant.Part{Part: loops[i].Part, Container: "B", Pack: loops[i].Pack})
	}
	x := plant.NewIndex(p)
	sized, _ := sizing.Size(x, loops)
	in := simulation.Input{Plant: p.Settings, Index: x, Loops: sized}
	for i := range sized {
		in.Lanes = append(in.Lanes, placement.Lane{Rack: "R", Level: 1, Lane: i + 1, Kind: plant.Supply, Loop: sized[i].Key, Capacity: sized[i].Containers, Containers: sized[i].Containers})
	}
	return in
}

func play(t testing.TB, in simulation.Input, s simulation.Settings, threads int) simulation.Result {
	t.Helper()
	r, err := simulation.Play(context.Background(), in, s, 11, threads, nil)
	require.NoError(t, err)
	return r
}

// short plays a loop alone and returns its result.
func short(t testing.TB, l demand.Loop, s simulation.Settings) simulation.LoopResult {
	t.Helper()
	return play(t, alone([]demand.Loop{l}), s, 2).Loops[0]
}

// varying is a loop of half a piece a minute.
func varying(model plant.DemandModel, pack int64, fixed int) demand.Loop {
	l := steady("0.5", pack, 30*time.Minute, 30*time.Minute)
	l.Model, l.Variance, l.Fixed = model, units.MustRatio("2"), fixed
	return l
}

// TestMeasuredShortageRateIsTheExactOne: what is used while a loop must live
// through R + L is X, and of the container in use 1 to q pieces are gone, each as
// likely. The loop runs short in a cycle when both together are more than its k
// containers hold: P = Σ_r P(X > kq − r)/q, summed here term by term from the
// distributions of X over an hour (Poisson of mean 30; negative binomial of mean 30
// and variance 120). The play must find that share, neither more nor less.
func TestMeasuredShortageRateIsTheExactOne(t *testing.T) {
	t.Parallel()
	s := simulation.Settings{Weeks: 40, WarmUp: 1, Replications: 16}
	for _, c := range []struct {
		model plant.DemandModel
		pmf   func(n int) float64
		pack  int64
		fixed int
	}{
		{plant.PoissonModel, poissonPMF(30), 1, 38},
		{plant.PoissonModel, poissonPMF(30), 5, 8},
		{plant.PoissonModel, poissonPMF(30), 20, 3},
		{plant.NegativeBinomialModel, negativeBinomialPMF(30, 120), 1, 48},
		{plant.NegativeBinomialModel, negativeBinomialPMF(30, 120), 5, 11},
		{plant.NegativeBinomialModel, negativeBinomialPMF(30, 120), 20, 3},
	} {
		want := 0.0
		for r := int64(1); r <= c.pack; r++ {
			want += above(c.pmf, int(int64(c.fixed)*c.pack-r)) / float64(c.pack)
		}
		got := short(t, varying(c.model, c.pack, c.fixed), s)
		// Neighbouring cycles share half of what they live through.
		deviation := math.Sqrt(2 * want * (1 - want) / float64(got.Cycles))
		assert.InDelta(t, want, got.Rate, 4*deviation, "%s, packs of %d: %d short of %d cycles", c.model, c.pack, got.ShortCycles, got.Cycles)
		assert.Greater(t, want, 8*deviation, "the check can tell")
	}
}

func poissonPMF(mean float64) func(int) float64 {
	return func(n int) float64 {
		log, _ := math.Lgamma(float64(n) + 1)
		return math.Exp(float64(n)*math.Log(mean) - mean - log)
	}
}

func negativeBinomialPMF(mean, variance float64) func(int) float64 {
	p := mean / variance
	r := mean * p / (1 - p)
	return func(n int) float64 {
		a, _ := math.Lgamma(float64(n) + r)
		b, _ := math.Lgamma(float64(n) + 1)
		c, _ := math.Lgamma(r)
		return math.Exp(a - b - c + r*math.Log(p) + float64(n)*math.Log1p(-p))
	}
}

// above is the chance of more than n.
func above(pmf func(int) float64, n int) float64 {
	sum := 0.0
	for k := n + 1; k < n+2000; k++ {
		sum += pmf(k)
	}
	return sum
}

// TestServiceLevelsAreKept: loops sized by the rule keep their service level,
// whatever the model, the pack and the level.
func TestServiceLevelsAreKept(t *testing.T) {
	t.Parallel()
	for _, model := range []plant.DemandModel{plant.SteadyModel, plant.PoissonModel, plant.NormalModel, plant.NegativeBinomialModel} {
		var loops []demand.Loop
		for _, pack := range []int64{1, 3, 7, 20, 90} {
			for _, level := range []string{"0.8", "0.9", "0.95", "0.99", "0.995"} {
				l := varying(model, pack, 0)
				l.ServiceLevel = units.MustRatio(level)
				loops = append(loops, l)
			}
		}
		r := play(t, alone(loops), simulation.Settings{Weeks: 20, WarmUp: 1, Replications: 10}, 2)
		for i, l := range r.Loops {
			assert.Equal(t, simulation.Proved, l.Verdict, "%s, packs of %d, level %s: rate %.4f", model, loops[i].Pack, loops[i].ServiceLevel, l.Rate)
		}
	}
}

// TestFillRatesAreKept: loops sized for a fill rate have that share of their pieces
// there when they are wanted.
func TestFillRatesAreKept(t *testing.T) {
	t.Parallel()
	for _, model := range []plant.DemandModel{plant.PoissonModel, plant.NormalModel, plant.NegativeBinomialModel} {
		for _, pack := range []int64{1, 6, 40} {
			l := varying(model, pack, 0)
			l.Measure, l.ServiceLevel = plant.ServiceFillRate, units.MustRatio("0.98")
			got := short(t, l, simulation.Settings{Weeks: 20, WarmUp: 1, Replications: 10})
			assert.Equal(t, simulation.Proved, got.Verdict, "%s, packs of %d: fill rate %.4f", model, pack, got.FillRate)
		}
	}
}

// TestThreadsChangeNothing: the result has the same bytes for any number of threads.
func TestThreadsChangeNothing(t *testing.T) {
	t.Parallel()
	var loops []demand.Loop
	for i := range 40 {
		l := varying([]plant.DemandModel{plant.PoissonModel, plant.NormalModel, plant.NegativeBinomialModel, plant.SteadyModel}[i%4], int64(1+i), 0)
		l.Rate = units.R(int64(i+1), 60)
		loops = append(loops, l)
	}
	in := onRoute(alone(loops), 30*time.Minute, 30)
	s := simulation.Settings{Weeks: 1, Replications: 6}
	one := play(t, in, s, 1)
	assert.Equal(t, one, play(t, in, s, 2))
	assert.Equal(t, one, play(t, in, s, 7))
	other, err := simulation.Play(context.Background(), in, s, 12, 2, nil)
	require.NoError(t, err)
	assert.NotEqual(t, one.Loops, other.Loops, "another seed is another play")
}

// TestContainersAreNeitherLostNorMade: at every moment each container of a loop is
// full, in use, a signal, or under way.
func TestContainersAreNeitherLostNorMade(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := varying(rapid.SampledFrom([]plant.DemandModel{plant.PoissonModel, plant.NormalModel, plant.NegativeBinomialModel, plant.SteadyModel}).Draw(t, "model"),
			rapid.Int64Range(1, 30).Draw(t, "pack"), rapid.IntRange(1, 12).Draw(t, "containers"))
		l.Response = time.Duration(rapid.IntRange(1, 90).Draw(t, "L")) * time.Minute
		if rapid.Bool().Draw(t, "exchange") {
			l.Response = l.Interval
		}
		in := alone([]demand.Loop{l, l})
		if rapid.Bool().Draw(t, "split") {
			split(&in)
		}
		if rapid.Bool().Draw(t, "route") {
			in = onRoute(in, 30*time.Minute, rapid.IntRange(1, 20).Draw(t, "vehicle"))
		}
		trace, err := simulation.TraceLoop(context.Background(), in, simulation.Settings{Weeks: 1}, 3, in.Loops[0].Key, 0)
		require.NoError(t, err)
		for _, p := range trace.Points {
			open := p.OnHand > float64(p.Full)*float64(l.Pack)+1e-6
			held := p.Full + p.Signals + p.UnderWay
			if p.Missing > 0 {
				require.Zero(t, p.Full, "%+v", p)
			}
			require.Contains(t, []int{trace.Containers - 1, trace.Containers}, held, "%+v", p)
			if open {
				require.Equal(t, trace.Containers-1, held, "%+v", p)
			}
		}
	})
}

// split gives the first loop a second rack with as many containers.
func split(in *simulation.Input) {
	lane := in.Lanes[0]
	lane.Rack = "Q"
	in.Lanes = append(in.Lanes, lane)
}

// TestMoreContainersNeverRunShortOftener: with the same use, a container more never
// makes a cycle short that was not.
func TestMoreContainersNeverRunShortOftener(t *testing.T) {
	t.Parallel()
	for _, model := range []plant.DemandModel{plant.SteadyModel, plant.PoissonModel, plant.NormalModel, plant.NegativeBinomialModel} {
		before := int64(math.MaxInt64)
		for k := 2; k < 26; k++ {
			got := short(t, varying(model, 5, k), simulation.Settings{Weeks: 4, Replications: 2})
			assert.LessOrEqual(t, got.ShortCycles, before, "%s, %d containers", model, k)
			before = got.ShortCycles
		}
		assert.Zero(t, before, model)
	}
}

// TestTraceShowsWhatWasCounted: what a loop lived through is what was counted.
func TestTraceShowsWhatWasCounted(t *testing.T) {
	t.Parallel()
	in := onRoute(alone([]demand.Loop{varying(plant.PoissonModel, 5, 6), varying(plant.PoissonModel, 5, 6)}), 30*time.Minute, 4)
	s := simulation.Settings{Weeks: 2, WarmUp: 1, Replications: 1}
	r := play(t, in, s, 1)
	trace, err := simulation.TraceLoop(context.Background(), in, s, 11, in.Loops[1].Key, 0)
	require.NoError(t, err)
	counts := map[simulation.Event]int64{}
	left := int64(0)
	for i, p := range trace.Points {
		counts[p.Event]++
		left += int64(p.Left)
		if i > 0 {
			assert.False(t, p.At.Before(trace.Points[i-1].At))
		}
	}
	assert.Equal(t, r.Loops[1].Cycles, counts[simulation.EventVisit])
	assert.InDelta(t, r.Loops[1].Shortages, counts[simulation.EventShort], 1)
	assert.Equal(t, r.Loops[1].LeftBehind, left)
	assert.Len(t, trace.Shifts, 10)
	_, err = simulation.TraceLoop(context.Background(), in, s, 11, demand.Key{Part: "none"}, 0)
	assert.ErrorIs(t, err, simulation.ErrNotPlayed)
}

func TestLoopsWithoutLanesAreNotPlayed(t *testing.T) {
	t.Parallel()
	in := alone([]demand.Loop{varying(plant.PoissonModel, 5, 15), varying(plant.PoissonModel, 5, 15)})
	in.Lanes = in.Lanes[:1]
	r := play(t, in, simulation.Settings{Weeks: 1}, 1)
	assert.Equal(t, simulation.Proved, r.Loops[0].Verdict)
	assert.True(t, r.Loops[0].Ideal)
	assert.Equal(t, simulation.NotPlayed, r.Loops[1].Verdict)
	in = onRoute(alone([]demand.Loop{varying(plant.PoissonModel, 5, 6)}), 30*time.Minute, 4)
	in.Routes[0].Stops[0].Loops = nil
	assert.Equal(t, simulation.NotPlayed, play(t, in, simulation.Settings{Weeks: 1}, 1).Loops[0].Verdict, "no round serves it")
}

// TestPlaysThatAreTooMuchAreRefused before they begin: a rate in a wrong unit must
// not keep a machine busy for days.
func TestPlaysThatAreTooMuchAreRefused(t *testing.T) {
	t.Parallel()
	l := steady("20000", 1, time.Minute, time.Minute)
	in := alone([]demand.Loop{l})
	_, err := simulation.Play(context.Background(), in, simulation.DefaultSettings(), 1, 1, nil)
	require.ErrorIs(t, err, simulation.ErrTooMuch)
	f := simulation.TooMuch(err)
	assert.Contains(t, f.Summary, "events")
	assert.Equal(t, simulation.CodeTooMuch, f.Code)
}

// TestPlaysThatAreStopped end soon, with the reason and nothing else.
func TestPlaysThatAreStopped(t *testing.T) {
	t.Parallel()
	in := alone([]demand.Loop{varying(plant.PoissonModel, 5, 15)})
	for _, in := range []simulation.Input{in, onRoute(in, 30*time.Minute, 4)} {
		ctx, cancel := context.WithCancel(context.Background())
		started := make(chan struct{})
		once := sync.Once{}
		go func() {
			<-started
			cancel()
		}()
		s := simulation.Settings{Weeks: 500, Replications: 1000}
		_, err := simulation.Play(ctx, in, s, 1, 1, func(string, int, int) { once.Do(func() { close(started) }) })
		assert.ErrorIs(t, err, context.Canceled)
		_, err = simulation.TraceLoop(ctx, in, s, 1, in.Loops[0].Key, 0)
		assert.ErrorIs(t, err, context.Canceled)
	}
}

// TestWilson: 81 of 263, 15 of 148, 0 of 20 and 1 of 29 (Newcombe, Statistics in
// Medicine 17, 1998, 857-872, table I, method 3; from memory, recomputed).
func TestWilson(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ k, n, low, high float64 }{
		{81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718},
	} {
		low, high := simulation.Wilson(c.k/c.n, c.n, 1.959964)
		assert.InDelta(t, c.low, low, 5e-5)
		assert.InDelta(t, c.high, high, 5e-5)
	}
}
