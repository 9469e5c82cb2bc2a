package placement

import (
	"cmp"
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/search"
)

// fullCell is a cell whose own plan is today's layout.
func fullCell(seed uint64) Input {
	in := made(seeded(seed), recipe{loops: 20, racks: 3, types: 2, stations: 3, levels: 3, width: 1500, containers: 8})
	return standing(in, hasty(in, 1))
}

// A plan of the facts that it was made of stays as it is, and a small change
// moves less than where moves are free, for no more containers without a lane.
func TestSmallChangesMoveLittle(t *testing.T) {
	t.Parallel()
	free := func(s *Settings) { s.MovePrice = 0 }
	priced, all := 0, 0
	for seed := range uint64(6) {
		in := fullCell(seed)
		again := placedAs(in, shortly, func(s *Settings) { s.MovePrice = 5 })
		require.Empty(t, broken(in, again))
		if elsewhere(in.Index.Plant.Current, again) > 0 {
			assert.Negative(t, compareFirst(again, placedLike(in)), "seed %d: moves for nothing", seed)
		}
		now := in
		now.Loops = grown(in, int(seed))
		l, other := placedAs(now, shortly), placedAs(now, shortly, free)
		require.Empty(t, broken(now, l))
		assert.LessOrEqual(t, l.Bounds[0].Unplaced, other.Bounds[0].Unplaced, "seed %d", seed)
		priced, all = priced+elsewhere(in.Index.Plant.Current, l), all+elsewhere(in.Index.Plant.Current, other)
	}
	assert.Less(t, priced, all/2)
	t.Logf("%d containers move, %d where moves are free", priced, all)
}

// placedLike is today's layout as a plan that may move nothing.
func placedLike(in Input) Layout {
	return placedAs(in, shortly, func(s *Settings) { s.Limited = true })
}

// compareFirst compares two layouts by containers without a lane, added racks and
// split loops.
func compareFirst(a, b Layout) int {
	x, y := &a.Bounds[0], &b.Bounds[0]
	return cmp.Or(cmp.Compare(x.Unplaced, y.Unplaced), cmp.Compare(x.AddedCost, y.AddedCost), cmp.Compare(splitsOf(a), splitsOf(b)))
}

// A container moves when it saves more than its price, and stays when it saves
// less.
func TestMovePrice(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name  string
		price float64
		stays bool
	}{{"free", 0, false}, {"cheap", 1e-6, false}, {"dear", 1e6, true}} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSmall(3)
			best := placedAs(s.input())
			level := 3 - at(best, "A")
			s.plant.Current = []plant.CurrentLane{{Rack: "R", Level: level, Lane: 1, Part: "A", Station: "S", Containers: 3}}
			l := placedAs(s.input(), func(s *Settings) { s.MovePrice = test.price })
			assert.Equal(t, test.stays, at(l, "A") == level)
			assert.LessOrEqual(t, l.Bounds[0].EffortBound, best.Bounds[0].Effort+1e-9)
		})
	}
}

// at is the level of a part's first lane.
func at(l Layout, part plant.PartCode) int {
	for _, lane := range l.Lanes {
		if lane.Loop.Part == part {
			return lane.Level
		}
	}
	return 0
}

// Racks chosen together are no dearer than racks added one by one.
func TestRacksOfLimitedPlans(t *testing.T) {
	t.Parallel()
	saved := 0
	for seed := range uint64(4) {
		in := fullCell(seed)
		in.Loops = varied(grownAll(in), 0)
		s := DefaultSettings()
		s.Limited, s.MoveLimit = true, 10
		c, _ := freeze(in, s, &split(in)[0], overall{today(in), heeded(in)})
		never := func() bool { return false }
		one := newReplan(c, c.today, nil)
		one.improve(10, mostChanges, never)
		one.extendKept(never)
		greedy := one.st.key()
		one.onFreeRacks(10, search.Stream(1, "test"), never)
		together := one.st.key()
		assert.LessOrEqual(t, together.compare(greedy), 0, "seed %d", seed)
		assert.LessOrEqual(t, one.moved(), int64(10), "seed %d", seed)
		if together.cost < greedy.cost {
			saved++
		}
		require.Empty(t, broken(in, Place(context.Background(), in, s, 1, 2, nil)))
	}
	t.Logf("cheaper in %d of 4", saved)
}

// grownAll makes every loop a tenth larger.
func grownAll(in Input) Input {
	for i := range in.Loops {
		in.Loops = grown(in, i)
	}
	return in
}
