package packing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/planner/search"
)

// BenchmarkClasses packs problems of every class: the metrics are the shares
// of them in percent at the bound, one bin above it, and more. Run it with
// -benchtime 20x for 20 problems each.
func BenchmarkClasses(b *testing.B) {
	for _, c := range classes() {
		b.Run(c.name, func(b *testing.B) {
			var at, above, more float64
			rng := search.Stream(1, c.name)
			for range b.N {
				p := c.make(rng)
				r, err := Solve(b.Context(), p, Options{Seed: 1})
				require.NoError(b, err)
				require.NoError(b, Check(p, r.Bins))
				switch r.Count - r.Bound {
				case 0:
					at++
				case 1:
					above++
				default:
					more++
				}
			}
			b.ReportMetric(100*at/float64(b.N), "%bound")
			b.ReportMetric(100*above/float64(b.N), "%one-above")
			b.ReportMetric(100*more/float64(b.N), "%more")
		})
	}
}
