package placement

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// placed is a layout by the settings of a plan that asks for nothing else.
func placed(in Input, threads int) Layout {
	return Place(context.Background(), in, DefaultSettings(), 1, threads, nil)
}

// placedAs is a layout by settings that differ from these.
func placedAs(in Input, changes ...func(*Settings)) Layout {
	s := DefaultSettings()
	for _, change := range changes {
		change(&s)
	}
	return Place(context.Background(), in, s, 1, 2, nil)
}

// shortly asks for a short proof, only where what is tested is true of any
// layout: rules, threads, moves. Bounds are tested as they are by default.
func shortly(s *Settings) { s.ProofSteps = 300 }

// hasty is a layout with a short proof.
func hasty(in Input, threads int) Layout {
	s := DefaultSettings()
	shortly(&s)
	return Place(context.Background(), in, s, 1, threads, nil)
}

func anyRecipe(d dice) recipe {
	return recipe{
		loops: d.from(1, 14), racks: d(4), types: d.from(1, 3), stations: d.from(1, 4), levels: d.from(1, 3), width: d.from(9, 20) * 100,
		frontage: []int{0, 0, 3000, 6000}[d(4)], fixed: []int{0, 40, 100}[d(3)], pins: []int{0, 30}[d(2)], apart: []int{0, 40, 90}[d(3)],
		masses: []int{0, 60}[d(2)], today: []int{0, 60}[d(2)], costs: []int{0, 60, 100}[d(3)], fill: []int{0, 60}[d(2)], places: d.yes(60),
		containers: []int{3, 8, 24}[d(3)],
	}
}

func TestEveryRuleHolds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		in := made(d, anyRecipe(d))
		if found := broken(in, hasty(in, 1)); len(found) > 0 {
			t.Fatalf("%d rules broken: %v", len(found), found)
		}
	})
}

func TestManyCells(t *testing.T) {
	t.Parallel()
	for seed := range uint64(300) {
		d := seeded(seed)
		in := made(d, anyRecipe(d))
		require.Empty(t, broken(in, hasty(in, 1)), "seed %d", seed)
	}
}

func TestLargeCells(t *testing.T) {
	t.Parallel()
	for seed := range uint64(12) {
		d := seeded(seed)
		r := anyRecipe(d)
		r.loops, r.racks, r.frontage = 40+d(60), d(14), []int{0, 20000}[d(2)]
		in := made(d, r)
		require.Empty(t, broken(in, hasty(in, 1)), "seed %d", seed)
	}
}

func TestThreadsAndOrderChangeNothing(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		d := seeded(seed)
		in := made(d, anyRecipe(d))
		one := printed(hasty(in, 1))
		same(t, one, printed(hasty(in, 4)), fmt.Sprintf("seed %d: threads", seed))
		same(t, one, printed(hasty(shuffled(in, seed), 2)), fmt.Sprintf("seed %d: order of rows", seed))
	}
}

// printed is a layout line by line, without pointers.
func printed(l Layout) []string {
	var lines []string
	for _, r := range l.Racks {
		lines = append(lines, fmt.Sprint(r.Rack, r.Type.RackType, r.Stations, r.Place, r.Point))
	}
	for _, x := range l.Lanes {
		lines = append(lines, fmt.Sprintf("%+v", x))
	}
	lines = append(lines, fmt.Sprintf("%+v %+v %+v", l.Unplaced, l.Bounds, l.Balance))
	for _, f := range l.Findings {
		lines = append(lines, fmt.Sprint(f.Severity, f.Code, f.Summary, f.Detail, f.Remedy, f.Subject, f.Origin))
	}
	return lines
}

func same(t *testing.T, a, b []string, what string) {
	t.Helper()
	require.Len(t, b, len(a), what)
	for i := range a {
		require.Equal(t, a[i], b[i], what)
	}
}

func shuffled(in Input, seed uint64) Input {
	rng := rand.New(rand.NewPCG(seed, 1))
	p := *in.Index.Plant
	mix(rng, &p.Stations)
	mix(rng, &p.Parts)
	mix(rng, &p.Containers)
	mix(rng, &p.RackTypes)
	mix(rng, &p.Racks)
	mix(rng, &p.Current)
	x := plant.NewIndex(&p)
	loops := slices.Clone(in.Loops)
	rng.Shuffle(len(loops), func(i, j int) { loops[i], loops[j] = loops[j], loops[i] })
	return Input{Index: x, Loops: loops, Racks: structure.Racks(x), Plant: in.Plant}
}

func mix[T any](rng *rand.Rand, list *[]T) {
	*list = slices.Clone(*list)
	rng.Shuffle(len(*list), func(i, j int) { (*list)[i], (*list)[j] = (*list)[j], (*list)[i] })
}

func TestCancelledKeepsTheBest(t *testing.T) {
	t.Parallel()
	in := made(seeded(3), recipe{loops: 30, racks: 4, types: 2, stations: 3, levels: 3, width: 1500, containers: 8})
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	l := Place(ctx, in, DefaultSettings(), 1, 1, nil)
	assert.Empty(t, broken(in, l))
	assert.Equal(t, "cancelled", string(l.Bounds[0].Stopped))
}

func TestNothingToPlace(t *testing.T) {
	t.Parallel()
	x := plant.NewIndex(&plant.Plant{})
	l := placed(Input{Index: x, Plant: plant.DefaultSettings()}, 2)
	assert.Empty(t, l.Lanes)
	assert.Empty(t, l.Bounds)
	assert.Empty(t, Moves(Input{Index: x}, l))
}
