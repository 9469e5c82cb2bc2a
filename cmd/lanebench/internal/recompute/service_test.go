package recompute

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
)

func rats(list ...int64) []*big.Rat {
	var out []*big.Rat
	for _, n := range list {
		out = append(out, ratio(n))
	}
	return out
}

// Chances of pieces by hand: Poisson of mean 1, and the geometric distribution,
// which is the negative binomial of mean 1 and variance 2.
func TestChances(t *testing.T) {
	t.Parallel()
	for x := range 8 {
		f := math.Gamma(float64(x) + 1)
		assert.InDelta(t, math.Exp(-1)/f, chance(float64(x), 1, 1), 1e-12)
		assert.InDelta(t, math.Pow(0.5, float64(x)+1), chance(float64(x), 1, 2), 1e-12)
	}
	assert.InDelta(t, 1, chance(0, 0, 0), 0)
	assert.InDelta(t, 2, piecesQuantile(1, 2, 0.8), 0, "7/8 within 2, 3/4 within 1")
	assert.InDelta(t, 1, piecesQuantile(1, 2, 0.75), 0, "a chance that is the level is enough")
}

// The least cover that leaves so little short. Of Poisson use of mean 1, 1/e is
// short of 1 and 3/e − 1 of 2. Of the geometric use 2^−d is short of d. A normal
// use is short of mean + σ by 0.083315 σ (loss function; recomputed). Of the
// windows 0, 10 and 20, 15 leaves 5/3 and 8 leaves 14/3.
func TestFill(t *testing.T) {
	t.Parallel()
	assert.InDelta(t, 1, piecesFill(1, 1, 0.3679), 0)
	assert.InDelta(t, 2, piecesFill(1, 1, 0.3678), 0)
	assert.InDelta(t, 2, piecesFill(1, 1, 0.1037), 0)
	assert.InDelta(t, 3, piecesFill(1, 1, 0.1036), 0)
	assert.InDelta(t, 4, piecesFill(1, 2, 1./16), 0)
	assert.InDelta(t, 0, piecesFill(1, 2, 1), 0)
	assert.InDelta(t, 110, normalFill(100, 10, 0.83315), 1e-3)
	assert.InDelta(t, 90, normalFill(100, 10, 10.83315), 1e-3)
	assert.InDelta(t, 95, normalFill(100, 0, 5), 1e-9)
	assert.InDelta(t, 20, windowsFill(rats(0, 10, 20), 0), 1e-9)
	assert.InDelta(t, 15, windowsFill(rats(0, 10, 20), 5./3), 1e-9)
	assert.InDelta(t, 8, windowsFill(rats(0, 10, 20), 14./3), 1e-9)
	assert.InDelta(t, 0, windowsFill(rats(0, 10, 20), 30), 1e-9)
}

// Five days of 480 min and 48 weeks are 1920 intervals of an hour.
func TestYearly(t *testing.T) {
	t.Parallel()
	f := &facts{settings: map[string]string{"Shortages per year": "2"}, by: map[string]map[string]row{}}
	assert.InDelta(t, 100*(1-2./1920), float(f.yearly("C", ratio(60))), 1e-12)
	f.settings["Weeks per year"] = "24"
	assert.InDelta(t, 100*(1-2./960), float(f.yearly("C", ratio(60))), 1e-12)
	f.settings["Shortages per year"] = "700"
	assert.InDelta(t, 50, float(f.yearly("C", ratio(60))), 0)
}

// Windows of a day and a half end with the history; of more than all of it
// there is only the mean.
func TestWindows(t *testing.T) {
	t.Parallel()
	days := rats(480, 0, 960)
	assert.Equal(t, rats(480, 480), windows(days, ratio(720), ratio(480)))
	assert.Equal(t, rats(0, 120, 240), windows(days, ratio(120), ratio(480)))
	assert.Equal(t, rats(4800), windows(days, ratio(4800), ratio(480)))
}

// Empties by hand: 9 pieces in packs of 4; one Poisson piece in packs of 2; a
// day and a half of a history that goes round; half of two containers.
func TestEmptiesByHand(t *testing.T) {
	t.Parallel()
	s := spread{}
	s.phases(9, 4, 1)
	assert.InDelta(t, 0.75, s[2], 1e-12)
	assert.InDelta(t, 0.25, s[3], 1e-12)
	s = spread{}
	s.pieces(1, 1, 2)
	assert.InDelta(t, 1.5*math.Exp(-1), s[0], 1e-12)
	s = spread{}
	s.windows(rats(0, 120, 240), 1.5, 10)
	assert.InDelta(t, 1./3, s[6], 1e-12)
	assert.InDelta(t, 2./3, s[24], 1e-12)
	s = spread{2: 1}.thin(0.5)
	assert.InDelta(t, 0.5, s[1], 1e-12)
	s = spread{}
	s.normal(0, 8, 4)
	mean := 0.0
	for n, p := range s {
		mean += n * p
	}
	assert.InDelta(t, 8/math.Sqrt(2*math.Pi)/4, mean, 1e-6, "half a normal")
}

// Three slow loops of 0.1 containers each reach two containers.
func TestLengthsByHand(t *testing.T) {
	t.Parallel()
	slow := back{n: &need{rate: big.NewRat(1, 60), variance: new(big.Rat), model: "steady"}, pack: 10, share: 1, kind: [2]string{"tote", "length"}, length: 400, stack: 1}
	list := []back{slow, slow, slow}
	assert.InDelta(t, 800, lengths(list, 60).reached(0.995), 0)
	assert.InDelta(t, 400, lengths(list, 24).reached(0.995), 0)
	for i := range list {
		list[i].stack = 2
	}
	assert.InDelta(t, 400, lengths(list, 60).reached(0.995), 0, "two to a stack")
	list[2].kind = [2]string{"tote", "width"}
	assert.InDelta(t, 800, lengths(list, 60).reached(0.995), 0, "what lies another way has a stack of its own")
	assert.InDelta(t, 1100, longest(1190, []float64{400, 300}), 0)
	assert.InDelta(t, 0, longest(200, []float64{400, 300}), 0)
}
