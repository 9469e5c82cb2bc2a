package cutting

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// brute is the least value of a problem by trying every piece in every stock that
// was begun and as the first of every other.
func brute(p Problem) int64 {
	var lengths []int64
	dearest := int64(1)
	for _, t := range p.Items {
		for range t.Count {
			lengths = append(lengths, t.Length)
		}
	}
	for _, s := range p.Stocks {
		dearest = max(dearest, s.Cost)
	}
	best := int64(len(lengths)) * 1024 * dearest
	used := make([]int64, len(p.Stocks))
	// open is what is left of the stocks that were begun.
	var open []int64
	var try func(n int, value int64)
	try = func(n int, value int64) {
		if value >= best {
			return
		}
		if n == len(lengths) {
			best = value
			return
		}
		for i := range open {
			was := open[i]
			if need := lengths[n] + p.Kerf; was >= need {
				open[i] -= need
				try(n+1, value)
				open[i] = was
			}
		}
		for i, s := range p.Stocks {
			room := s.Length - lengths[n]
			if p.LastCut {
				room -= p.Kerf
			}
			if used[i] < s.Count && room >= 0 {
				used[i]++
				open = append(open, room)
				try(n+1, value+s.Cost)
				open = open[:len(open)-1]
				used[i]--
			}
		}
		try(n+1, value+1024*dearest)
	}
	try(0, 0)
	return best
}

// TestBruteForce: no bound is above the best value of tiny problems with several
// stocks, what is called proved is best, and nearly all are proved.
func TestBruteForce(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 1))
	proved := 0
	const problems = 400
	for n := range problems {
		p := random(rng, 1+n%4, 1+rng.IntN(3), 2)
		if n%5 == 0 {
			for i := range p.Stocks {
				p.Stocks[i].Count = min(p.Stocks[i].Count, 1+rng.Int64N(2))
			}
		}
		best, r := brute(p), solved(t, p, 0)
		assert.LessOrEqual(t, r.Bound, best, "problem %d: %v", n, p)
		assert.Equal(t, best, r.Value, "problem %d: %v", n, p)
		if r.Proved() {
			proved++
		}
	}
	assert.Equal(t, problems, proved)
}
