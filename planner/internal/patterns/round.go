package patterns

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// Nothing is a share that only arithmetic has made.
const Nothing = 1e-5

// Round says what is settled of the shares of a relaxation: how often each is
// used for certain, its whole part, and which are used once more, that of the
// greatest fraction first, then others that are nearly whole. With a random
// stream the fractions are weighed differently each time.
func Round(shares []float64, rng *rand.Rand) (whole []int64, more []int) {
	whole, weight := make([]int64, len(shares)), make([]float64, len(shares))
	for i, x := range shares {
		w := math.Floor(x + Nothing)
		whole[i], weight[i] = int64(w), x-w
		if rng != nil {
			weight[i] *= 0.4 + rng.Float64()
		}
	}
	order := Every(len(shares))
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(weight[b], weight[a]) })
	for i, at := range order[:min(len(order), 1+len(order)/12)] {
		if i > 0 && weight[at] < 0.55 {
			break
		}
		more = append(more, at)
	}
	return whole, more
}
