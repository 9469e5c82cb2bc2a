package placement

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// No layout of a tiny cell leaves out fewer containers or adds cheaper racks than the
// lanes allow, at the best prices and at any others.
func TestShortageAgainstEnumeration(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(7, 1))
	cells, exact, more := 0, 0, 0
	for seed, in := range tinyCells(30_000, math.MaxInt) {
		if cells == 700 {
			break
		}
		c := cellOf(in)
		if c.anyFree() {
			continue
		}
		cells++
		best, _ := enumerate(in)
		cost := int64(math.Round(best.cost * 1e6))
		leave := int64(best.unplaced) - c.hopeless()
		r := newRelaxed(c)
		require.LessOrEqual(t, r.unplaced, int64(best.unplaced), "seed %d", seed)
		bound := r.cheapest(leave, cost)
		require.LessOrEqual(t, bound, cost, "seed %d", seed)
		if bound == cost && r.unplaced == int64(best.unplaced) {
			exact++
		}
		c.steps = 0 // without the prices of lanes
		if o := newRelaxed(c); r.unplaced > o.unplaced || bound > o.cheapest(leave, cost) {
			more++
		}
		s := newShortage(c)
		sets := c.racksWithin(cost)
		s.least(sets[rng.IntN(len(sets))], leave)
		for k := range s.price {
			s.price[k] = rng.Float64()
		}
		wild := relaxed{c: c, cuts: []cut{s.cut()}, hopeless: c.hopeless()}
		require.NotEmpty(t, wild.sufficient(sets, leave), "seed %d: any prices", seed)
	}
	t.Logf("of %d cells goals 1 and 2 are proved in %d, in %d of them by lanes", cells, exact, more)
	assert.GreaterOrEqual(t, exact, cells*9/10)
	assert.Positive(t, more)
}

// Thirteen widths on levels of 5600 that hold nothing but full-length lanes of one
// container: 73 levels are needed (the cutting example of planner/internal/cutting,
// with its source). The lanes are 407,160 long, so 72 levels leave out 3,960 of it, two
// lanes at least, and 71 leave out 9,560, five.
func TestShortageOfTheCuttingExample(t *testing.T) {
	t.Parallel()
	width := []int64{1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200}
	count := []int64{22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20}
	levels := func(n int) *cell {
		c := &cell{standing: n, standingCols: n, frontage: 0, steps: 1}
		for b := range n {
			c.bases = append(c.bases, base{first: b, end: b + 1})
			c.cols = append(c.cols, column{base: b, width: 5600, lanes: width})
		}
		for i, w := range width {
			c.loops = append(c.loops, loop{k: count[i]})
			c.lays = append(c.lays, lay{ways: [2]way{{capacity: 1, width: w}}, n: 1})
			c.lay = append(c.lay, slices.Repeat([]int32{int32(i)}, n)...)
			c.least = append(c.least, w*count[i])
		}
		return c
	}
	for n, least := range map[int]int64{73: 0, 72: 2, 71: 5} {
		c := levels(n)
		set := make([]int, n)
		s := newShortage(c)
		got := s.least(set, 0)
		if least == 0 {
			assert.Zero(t, got)
			continue
		}
		assert.Greater(t, got, float64(least-1), "%d levels", n)
		r := relaxed{c: c, cuts: []cut{s.cut()}}
		assert.GreaterOrEqual(t, r.short(nil), least, "%d levels", n)
		s.left = 0
		assert.Zero(t, s.least(set, 0), "nothing is proved without work")
	}
}

// The dearest filling of a level is that of all fillings; widths counted in steps never
// make it less.
func TestDearestFilling(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(9, 1))
	for range 500 {
		var widths []int64
		for range 1 + rng.IntN(5) {
			widths = append(widths, 150+rng.Int64N(600))
		}
		slices.Sort(widths)
		widths = slices.Compact(widths)
		c := &cell{cols: []column{{width: 2000 + rng.Int64N(1000), lanes: widths}}}
		s := newSlots(c)
		s.grid[0] = 1 + rng.Int64N(40)
		price := make([]float64, len(widths))
		for k := range price {
			price[k] = float64(rng.IntN(4)) * rng.Float64()
		}
		var most func(k int, left int64) float64
		most = func(k int, left int64) float64 {
			if k == len(widths) {
				return 0
			}
			best := 0.0
			for n := int64(0); n*widths[k] <= left; n++ {
				best = max(best, float64(n)*price[k]+most(k+1, left-n*widths[k]))
			}
			return best
		}
		want := most(0, c.cols[0].width)
		require.InDelta(t, want, s.dearest(price, 0), 1e-9)
		sum, used := 0.0, int64(0)
		s.lanes(price, 0, func(slot int) { sum, used = sum+price[slot], used+widths[slot] })
		require.InDelta(t, want, sum, 1e-9)
		require.LessOrEqual(t, used, c.cols[0].width)
		if want > 0 {
			require.GreaterOrEqual(t, s.inSteps(price, 0), want-1e-9)
		}
	}
}

// However a loop is parted, its parts meet the conditions on them, and some shares of
// parts that add up to the loop do not.
func TestRoundUps(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 1))
	for range 2000 {
		k := 1 + rng.Int64N(40)
		u := roundUp{by: 2 + rng.Int64N(8)}
		u.need = math.Ceil(float64(k) / float64(u.by))
		sum := 0.0
		for left := k; left > 0; {
			n := 1 + rng.Int64N(left)
			sum += u.of(n)
			left -= n
		}
		require.GreaterOrEqual(t, sum, 1-1e-12, "%d by %d", k, u.by)
		assert.InDelta(t, 1, u.of(k), 1e-12)
		if full := k / u.by * u.by; full > 0 && full < k {
			assert.Less(t, float64(k)/float64(full)*u.of(full), 1.)
		}
	}
}
