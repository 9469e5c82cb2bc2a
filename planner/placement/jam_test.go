package placement

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Jams are broken by shares of bundles and by no layout: loops dealt out to levels at
// random, each whole on one of them.
func TestJams(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 1))
	const loops = 14
	deal := func() []crowd {
		levels := make([]crowd, 3+rng.IntN(4))
		for i := range loops {
			k := rng.IntN(len(levels))
			levels[k] = levels[k].with(i)
		}
		return levels
	}
	found := 0
	for range 300 {
		var list []shared
		for range 8 {
			w := crowd{}
			for range 5 {
				w = w.with(rng.IntN(loops))
			}
			list = append(list, shared{w, 0.5})
		}
		for _, j := range oddJams(list, loops, 5) {
			found++
			sum := 0.0
			for _, b := range list {
				sum += b.share * float64(j.of(3, nil, b.whole))
			}
			require.Greater(t, sum, float64(j.most), "%v", j)
			for range 20 {
				count := 0
				for s, w := range deal() {
					count += j.of(s, nil, w)
				}
				require.LessOrEqual(t, count, j.most, "%v", j)
			}
		}
	}
	assert.Greater(t, found, 100)
	// Three loops, each pair together by half, are the smallest that are broken.
	pair := func(i, j int) shared { return shared{crowd{}.with(i).with(j), 0.5} }
	list := oddJams([]shared{pair(0, 1), pair(1, 100), pair(0, 100)}, 101, 5)
	assert.Equal(t, []jam{{stall: -1, loops: crowd{}.with(0).with(1).with(100), most: 1}}, list)
	assert.Equal(t, 0, jam{stall: 2, loops: crowd{}.with(1), most: 0}.of(1, nil, crowd{}.with(1)))
	assert.Equal(t, 1, jam{stall: 2, loops: crowd{}.with(1), most: 0}.of(2, nil, crowd{}.with(1)))
}

// Lots find room on the levels of a stall just where some way to deal them out, of all
// ways, has it; a jam has none, and has it without any one of its loops.
func TestDealing(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 1))
	room, jams := 0, 0
	for range 400 {
		s := stall{times: 1 + rng.IntN(3), room: 20, mass: 30}
		var all []int
		for i := range 2 + rng.IntN(6) {
			s.lots = append(s.lots, lot{loop: i, n: 1, share: 1, width: int64(3 + rng.IntN(12)), mass: int64(rng.IntN(16))})
			all = append(all, i)
		}
		fits := func(loops []int) bool { return fitsSomehow(&s, loops) }
		d := dealing{t: &s, left: dealNodes}
		require.True(t, d.take(all))
		require.Equal(t, fits(all), d.try(0))
		if fits(all) {
			room++
			continue
		}
		jams++
		members := d.least(0).loops.members()
		require.False(t, fits(members))
		for k := range members {
			require.True(t, fits(append(append([]int(nil), members[:k]...), members[k+1:]...)), "one loop fewer finds room")
		}
	}
	assert.Greater(t, room, 100)
	assert.Greater(t, jams, 100)
}

// fitsSomehow tries every way to deal loops out.
func fitsSomehow(s *stall, loops []int) bool {
	ways := 1
	for range loops {
		ways *= s.times
	}
	for way := range ways {
		width, mass := make([]int64, s.times), make([]int64, s.times)
		for _, i := range loops {
			width[way%s.times] += s.lots[i].width
			mass[way%s.times] += s.lots[i].mass
			way /= s.times
		}
		ok := true
		for k := range width {
			ok = ok && width[k] <= s.room && mass[k] <= s.mass
		}
		if ok {
			return true
		}
	}
	return false
}

// TestLongProofsOfLargerCells: whatever the steps and the seed, no layout of a cell beats
// a bound of another run of it, and where two are proved they are as good.
func TestLongProofsOfLargerCells(t *testing.T) {
	t.Parallel()
	proved := 0
	for seed := range uint64(8) {
		d := seeded(seed)
		in := made(d, recipe{loops: 30, racks: 0, types: 1, stations: 2, levels: 3, width: 1800, places: true, containers: 6})
		type run struct {
			Bound
			splits int
		}
		var runs []run
		for _, steps := range []int{0, 9_000, 200_000} {
			for stream := uint64(1); stream <= 3; stream++ {
				s := DefaultSettings()
				s.ProofSteps, s.MovePrice = steps, 0
				l := Place(t.Context(), in, s, stream, 1, nil)
				runs = append(runs, run{l.Bounds[0], splitsOf(l)})
			}
		}
		for _, a := range runs {
			for _, b := range runs {
				if a.Unplaced != b.Unplaced || a.AddedCost != b.AddedCost || a.splits != b.splits {
					continue
				}
				require.LessOrEqual(t, a.EffortBound, b.Effort*(1+1e-9), "seed %d", seed)
				if a.Optimal && b.Optimal {
					require.InEpsilon(t, a.Effort, b.Effort, 1e-9, "seed %d", seed)
				}
			}
			if a.Optimal {
				proved++
			}
		}
	}
	t.Logf("%d of 72 proved", proved)
	assert.GreaterOrEqual(t, proved, 10)
}
