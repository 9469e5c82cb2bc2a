package placement

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// roomy returns a made-up cell that needs racks and has frontage for more.
func roomy(seed uint64) Input {
	d := seeded(seed)
	return made(d, recipe{
		loops: d.from(4, 24), racks: d(3), types: d.from(1, 3), stations: d.from(1, 3), levels: d.from(2, 4), width: 1500,
		frontage: []int{0, 9000}[d(2)], fixed: []int{0, 40}[d(2)], apart: []int{0, 40}[d(2)], masses: []int{0, 60}[d(2)],
		pins: []int{0, 30}[d(2)], today: []int{0, 40}[d(2)], costs: []int{0, 60, 100}[d(3)], fill: []int{0, 40}[d(2)], places: true, containers: 8,
	})
}

// metresAdded is the frontage of proposed racks.
func metresAdded(l Layout) float64 {
	sum := units.Length(0)
	for _, r := range l.Racks {
		if r.Proposed {
			sum += r.Type.Width
		}
	}
	return sum.Metres()
}

func pricedAt(in Input, price float64, changes ...func(*Settings)) Layout {
	return placedAs(in, append(changes, func(s *Settings) { s.FrontagePrice = price })...)
}

// briefly asks for a short search and a short proof: what a price rules is true
// after any.
func briefly(s *Settings) { s.Steps, s.ProofSteps = 300, 300 }

// A dearer metre never adds frontage, a cheaper one never costs effort, every
// rule holds at any price, and where the price changes nothing the plan is the
// same to the byte.
func TestFrontagePriceIsMonotone(t *testing.T) {
	t.Parallel()
	changed, spread := 0, 0
	for seed := range uint64(14) {
		in := roomy(seed)
		strict := pricedAt(in, 0, briefly)
		var before Layout
		for i, price := range []float64{0.01, 1, 20, 1e6} {
			l := pricedAt(in, price, briefly)
			require.Empty(t, broken(in, l), "seed %d at %g", seed, price)
			require.LessOrEqual(t, l.Bounds[0].Unplaced, strict.Bounds[0].Unplaced, "seed %d at %g", seed, price)
			noted := slices.ContainsFunc(l.Findings, func(f finding.Finding) bool { return f.Code == CodeFrontagePrice })
			if noted {
				changed++
			} else {
				same(t, printed(strict), printed(l), "no note, no change")
			}
			if i > 0 {
				require.LessOrEqual(t, metresAdded(l), metresAdded(before)+1e-9, "seed %d at %g", seed, price)
				require.GreaterOrEqual(t, l.Bounds[0].Effort, before.Bounds[0].Effort-1e-9, "seed %d at %g", seed, price)
				if metresAdded(l) < metresAdded(before) {
					spread++
				}
			}
			before = l
		}
	}
	t.Logf("%d plans changed by a price, %d steps of price with less frontage", changed, spread)
	assert.Greater(t, changed, 15)
	assert.Greater(t, spread, 8)
}

// No fill limit at or below the plan's gives a layout that is better at the
// price.
func TestFrontagePriceBeatsFillLimits(t *testing.T) {
	t.Parallel()
	for seed := range uint64(10) {
		in := roomy(seed)
		for _, price := range []float64{0.5, 20} {
			l := pricedAt(in, price, briefly)
			for _, limit := range FillLimits() {
				if in.Plant.FillLimit.Cmp(limit) < 0 {
					continue
				}
				row := in
				row.Plant.FillLimit = limit
				o := pricedAt(row, 0, briefly)
				if o.Bounds[0].Unplaced == l.Bounds[0].Unplaced {
					require.LessOrEqual(t, l.Bounds[0].Effort+price*metresAdded(l), o.Bounds[0].Effort+price*metresAdded(o)+1e-9, "seed %d at %g, limit %s", seed, price, limit)
				} else {
					require.Less(t, l.Bounds[0].Unplaced, o.Bounds[0].Unplaced)
				}
			}
		}
	}
}

// Bounds of a plan by price are true ones: no layout of a tiny cell beats them.
func TestFrontagePriceBoundsHold(t *testing.T) {
	t.Parallel()
	cells, dearer := 0, 0
	for seed, in := range tinyCells(0, 300) {
		cells++
		best, lightest := enumerate(in)
		l := pricedAt(in, 0.05)
		require.Empty(t, broken(in, l), "seed %d", seed)
		b := l.Bounds[0]
		require.LessOrEqual(t, b.UnplacedBound, best.unplaced, "seed %d", seed)
		if b.Unplaced == best.unplaced {
			require.LessOrEqual(t, b.AddedCostBound, best.cost+1e-6, "seed %d", seed)
			if b.AddedCost > best.cost+1e-6 {
				dearer++
				require.False(t, b.Optimal, "seed %d", seed)
			}
		}
		require.LessOrEqual(t, b.EffortBound, lightest(b.Unplaced, b.AddedCost, splitsOf(l))*(1+1e-9)+1e-9, "seed %d: effort", seed)
	}
	t.Logf("%d of %d cells take dearer racks for less effort", dearer, cells)
	assert.Positive(t, dearer)
}

// The number of threads changes nothing, and the note names the cell.
func TestFrontagePriceIsReproducible(t *testing.T) {
	t.Parallel()
	in := manyCells(3, 12, 0)
	s := DefaultSettings()
	s.Steps, s.FrontagePrice = 200, 2
	one := Place(t.Context(), in, s, 1, 1, nil)
	same(t, printed(one), printed(Place(t.Context(), in, s, 1, 3, nil)), "threads")
	f := found(t, one, CodeFrontagePrice)
	assert.NotEmpty(t, f.Subject.Cell)
	assert.Contains(t, f.Summary, "against the cheapest racks")
}
