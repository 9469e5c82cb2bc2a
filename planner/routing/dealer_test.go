package routing

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestDealer: each round has one handler, nobody has too much, and no more handlers are
// needed than by first fit.
func TestDealer(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		g := madeGroup(time.Hour, early)
		list := made(g, rapid.SliceOfN(rapid.Float64Range(0.5, 50), 1, 30).Draw(t, "minutes")...)
		d := newDealer(list, roomOf(51*time.Minute, time.Hour))
		bins := d.share()
		require.LessOrEqual(t, len(bins), len(d.firstFit()))
		require.GreaterOrEqual(t, len(bins), d.least())
		for _, bin := range bins {
			var sum hand
			for _, i := range bin {
				sum = sum.plus(handOf(list[i].round))
			}
			require.Zero(t, sum.over(d.room))
		}
		require.ElementsMatch(t, numbers(len(list)), slices.Concat(bins...))
		require.ElementsMatch(t, numbers(len(list)), slices.Concat(d.forced(max(1, d.least()-1))...))
	})
}

// TestDealerBeatsFirstFit: of 26, 21, 18, 17, 12 and 8 min first fit gives 26 + 21 to
// one, 18 + 17 + 12 to another and 8 to a third; 26 + 17 + 8 and 21 + 18 + 12 are 51
// each.
func TestDealerBeatsFirstFit(t *testing.T) {
	t.Parallel()
	d := newDealer(made(madeGroup(time.Hour, early), 26, 21, 18, 17, 12, 8), roomOf(51*time.Minute, time.Hour))
	assert.Len(t, d.firstFit(), 3)
	assert.Len(t, d.share(), 2)
}
