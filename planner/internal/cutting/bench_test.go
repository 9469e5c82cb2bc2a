package cutting

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// tubes is a cut list of so many pieces of so many lengths, 200 to 2500 mm, from
// stocks of 3 and 6 m at a kerf of 3 mm, with offcuts on hand.
func tubes(rng *rand.Rand, lengths int, count int64, offcuts int) Problem {
	p := Problem{Kerf: 3, Stocks: []Stock{{6000, 6000, Unlimited}, {3000, 3100, Unlimited}}}
	for range lengths {
		p.Items = append(p.Items, Item{Length: 200 + rng.Int64N(2300)})
	}
	for range count {
		p.Items[rng.IntN(lengths)].Count++
	}
	for range offcuts {
		length := 300 + rng.Int64N(2500)
		p.Stocks = append(p.Stocks, Stock{length, length / 2, 1})
	}
	return p
}

// BenchmarkTubes cuts 8,400 pieces; the metrics are the distance from the bound in
// percent and the pieces.
func BenchmarkTubes(b *testing.B) {
	for _, c := range []struct{ lengths, offcuts int }{{20, 0}, {60, 0}, {60, 30}, {200, 0}, {200, 30}, {800, 30}} {
		b.Run(fmt.Sprintf("lengths=%d/offcuts=%d", c.lengths, c.offcuts), func(b *testing.B) {
			gap := 0.0
			rng := rand.New(rand.NewPCG(1, uint64(c.lengths)))
			for range b.N {
				p := tubes(rng, c.lengths, 8400, c.offcuts)
				r, err := Solve(b.Context(), p, Options{Seed: 1})
				require.NoError(b, err)
				require.NoError(b, Verify(p, r))
				gap += 100 * (float64(r.Value)/float64(r.Bound) - 1)
			}
			b.ReportMetric(gap/float64(b.N), "%gap")
		})
	}
}
