package buildlist_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/buildlist"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// fresh orders bars: new ones come behind those of the store.
func fresh(b buildlist.Bar) int {
	if b.OnHand {
		return 0
	}
	return 1
}

// checkCuts holds cut lists against the pieces they are for: every piece once, no
// bar cut beyond its end, nothing taken from the store that is not there.
func checkCuts(t require.TestingT, lists []buildlist.List, cuts []buildlist.CutList, store []buildlist.Stock) {
	want, got := map[string]units.Length{}, map[string]units.Length{}
	for _, l := range lists {
		for _, p := range l.Pieces {
			if len(p.Part.StockLengths) > 0 {
				want[string(l.Rack)+" "+p.Mark] = p.Length
			}
		}
	}
	left := map[string]int{}
	for _, s := range store {
		left[fmt.Sprint(s.Part, s.Length)] += s.Count
	}
	for _, c := range cuts {
		var cut, used, bought units.Length
		require.True(t, slices.IsSortedFunc(c.Bars, func(a, b buildlist.Bar) int { return fresh(a) - fresh(b) }), "the store's bars are cut first")
		for _, b := range c.Bars {
			length := b.Rest
			for n, one := range b.Cuts {
				got[string(one.Rack)+" "+one.Mark] = one.Length
				length += one.Length
				cut += one.Length
				if n > 0 || b.Rest > 0 {
					length += c.Kerf
				}
			}
			require.LessOrEqual(t, length, b.Length, "%s", c.Part.Part)
			used += b.Length
			if !b.OnHand {
				bought += b.Length
				require.Contains(t, c.Part.StockLengths, b.Length)
				continue
			}
			left[fmt.Sprint(c.Part.Part, b.Length)]--
			require.GreaterOrEqual(t, left[fmt.Sprint(c.Part.Part, b.Length)], 0)
		}
		times := 0
		for _, p := range c.Patterns {
			times += p.Times
		}
		require.Equal(t, len(c.Bars), times)
		require.Equal(t, []units.Length{cut, used, bought}, []units.Length{c.Cut, c.Used, c.Bought})
		require.LessOrEqual(t, c.Least, c.Bought)
		require.Empty(t, c.Uncut)
	}
	require.Equal(t, want, got)
}

// TestCutLists cuts the tubes, tracks and guides of two racks, with and without
// offcuts in the store.
func TestCutLists(t *testing.T) {
	t.Parallel()
	for _, k := range kits() {
		var lists []buildlist.List
		for n, r := range plant.ShippedRackTypes()[:2] {
			f, _ := structure.Build(&r, &k, someLanes())
			lists = append(lists, made(t, fmt.Sprint("R", n+1), f))
		}
		cuts, found, err := buildlist.CutLists(context.Background(), lists, buildlist.CutOptions{})
		require.NoError(t, err)
		assert.Empty(t, found)
		require.Len(t, cuts, 3)
		checkCuts(t, lists, cuts, nil)
		store := []buildlist.Stock{{Part: k.Of(plant.TubePart).Part, Length: 1400 * mm, Count: 5}, {Part: k.Of(plant.GuidePart).Part, Length: 1500 * mm, Count: 2}}
		spared, _, err := buildlist.CutLists(context.Background(), lists, buildlist.CutOptions{OnHand: store})
		require.NoError(t, err)
		checkCuts(t, lists, spared, store)
		for i := range cuts {
			assert.LessOrEqual(t, spared[i].Bought, cuts[i].Bought, "what lies in the store is not bought")
			gap := float64(cuts[i].Bought)/float64(cuts[i].Least) - 1
			assert.LessOrEqual(t, gap, 0.05, "%s of %s", cuts[i].Part.Part, k.Kit)
		}
	}
}

// TestAnyCutList: every piece of any racks is on one bar, whatever lies in the
// store.
func TestAnyCutList(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r, k := anyRack(t)
		f, _ := structure.Build(&r, &k, nil)
		l, _ := buildlist.Make("R1", f, buildlist.MM)
		store := []buildlist.Stock{{
			Part: k.Of(plant.TubePart).Part, Length: units.Length(rapid.IntRange(200, 7000).Draw(t, "offcut")) * mm, Count: rapid.IntRange(0, 20).Draw(t, "offcuts"),
		}}
		cuts, found, err := buildlist.CutLists(context.Background(), []buildlist.List{l}, buildlist.CutOptions{OnHand: store, Steps: 1_000_000})
		require.NoError(t, err)
		require.Empty(t, found)
		checkCuts(t, []buildlist.List{l}, cuts, store)
	})
}

// TestStoreGoesFirst: bars that lie in the store spare new ones, the shortest that
// do first.
func TestStoreGoesFirst(t *testing.T) {
	t.Parallel()
	k := plant.ShippedKit("mm")
	tube := k.Of(plant.TubePart)
	l := buildlist.List{Rack: "R1", Frame: &structure.Frame{Kit: &k}, Pieces: []buildlist.Piece{
		{Mark: "A", Part: tube, Length: 1000 * mm}, {Mark: "B", Part: tube, Length: 2990 * mm},
	}}
	store := []buildlist.Stock{{Part: tube.Part, Length: 6000 * mm, Count: 1}, {Part: tube.Part, Length: 1001 * mm, Count: 1}, {Part: tube.Part, Length: 1400 * mm, Count: 9}}
	cuts, _, err := buildlist.CutLists(context.Background(), []buildlist.List{l}, buildlist.CutOptions{OnHand: store})
	require.NoError(t, err)
	checkCuts(t, []buildlist.List{l}, cuts, store)
	assert.Zero(t, cuts[0].Bought)
	assert.Equal(t, 6000*mm, cuts[0].Used, "one bar of 6 m is less than it and an offcut")

	cuts, _, err = buildlist.CutLists(context.Background(), []buildlist.List{l}, buildlist.CutOptions{OnHand: store[1:]})
	require.NoError(t, err)
	assert.Equal(t, []units.Length{3000 * mm, 4001 * mm}, []units.Length{cuts[0].Bought, cuts[0].Used})
	assert.True(t, cuts[0].Proved)
}

// TestParseStock reads bars of a part; a part that nothing is cut from is said.
func TestParseStock(t *testing.T) {
	t.Parallel()
	list, err := buildlist.ParseStock("tube 30 x 30 x 2.5 = 1850, 2400.5")
	require.NoError(t, err)
	assert.Equal(t, []buildlist.Stock{{Part: "tube 30 x 30 x 2.5", Length: 1850 * mm, Count: 1}, {Part: "tube 30 x 30 x 2.5", Length: 2_400_500_000, Count: 1}}, list)
	for _, text := range []string{"", "tube", "=3", "tube=", "tube=0", "tube=NaN", "tube=1e9", "tube=1,,2"} {
		_, err := buildlist.ParseStock(text)
		assert.Error(t, err, text)
	}
	_, found, err := buildlist.CutLists(context.Background(), nil, buildlist.CutOptions{OnHand: list})
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Equal(t, buildlist.CodeStore, found[0].Code)
}
