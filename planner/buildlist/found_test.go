package buildlist_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/buildlist"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// without leaves parts of a kind out of a kit.
func without(k *plant.Kit, kinds ...plant.PartKind) {
	k.Parts = slices.DeleteFunc(slices.Clone(k.Parts), func(p plant.KitPart) bool { return slices.Contains(kinds, p.Kind) })
}

// TestFindings: what a kit can not give is said, with the number that governs.
func TestFindings(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name         string
		code         string
		times        int
		value, limit float64
		bend         func(*plant.RackType, *plant.Kit)
	}{
		{"nothing holds tubes together", buildlist.CodeJoints, 1, 0, 0, func(_ *plant.RackType, k *plant.Kit) { without(k, plant.ConnectorPart, plant.FastenerPart) }},
		{"connectors alone are enough", buildlist.CodeJoints, 0, 0, 0, func(_ *plant.RackType, k *plant.Kit) { without(k, plant.FastenerPart) }},
		{"no feet", buildlist.CodeSupport, 1, 0, 0, func(_ *plant.RackType, k *plant.Kit) { without(k, plant.FootPart, plant.CasterPart) }},
		{"no casters", buildlist.CodeSupport, 1, 0, 0, func(r *plant.RackType, k *plant.Kit) { r.OnCasters = true; without(k, plant.CasterPart) }},
		{"casters", buildlist.CodeSupport, 0, 0, 0, func(r *plant.RackType, _ *plant.Kit) { r.OnCasters = true }},
		{"guides by the piece", buildlist.CodeUncover, 1, 1441.2, 0, func(_ *plant.RackType, k *plant.Kit) { k.Of(plant.GuidePart).StockLengths = nil }},
		{"tracks of 1 m", buildlist.CodeLoose, 0, 0, 0, func(_ *plant.RackType, k *plant.Kit) {
			k.Of(plant.RollerPart).StockLengths = []units.Length{1000 * mm}
		}},
		{"tracks of 800 mm", buildlist.CodeLoose, 28, 1451.2, 800, func(_ *plant.RackType, k *plant.Kit) {
			k.Of(plant.RollerPart).StockLengths = []units.Length{800 * mm}
		}},
		{"a return level at the feet", buildlist.CodeHoleEnd, 4, 2, 7.8, func(r *plant.RackType, _ *plant.Kit) { r.Levels[0].PickHeight = 157_400_000 }},
		{"a return level under the feet", buildlist.CodeHoleEnd, 4, -5.4, 7.8, func(r *plant.RackType, _ *plant.Kit) { r.Levels[0].PickHeight = 150 * mm }},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r, k := plant.ShippedRackTypes()[1], plant.ShippedKit("mm")
			r.Levels = slices.Clone(r.Levels)
			c.bend(&r, &k)
			f, _ := structure.Build(&r, &k, nil)
			require.NotNil(t, f)
			_, found := buildlist.Make("R1", f, buildlist.MM)
			var same finding.List
			for _, one := range found {
				if one.Code == c.code {
					same = append(same, one)
				}
			}
			require.Len(t, same, c.times, "%v", found)
			if c.value > 0 {
				assert.InDelta(t, c.value, same[0].Measure.Value, 0.3)
				assert.InDelta(t, c.limit, same[0].Measure.Limit, 0.01)
			}
		})
	}
}

// TestGuides: guides that narrow a lane or run into uprights are found with what is
// missing.
func TestGuides(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, code   string
		times        int
		value, limit float64
		rack         int
		bend         func(*plant.RackType, *plant.Kit)
	}{
		{"as they are", buildlist.CodeNarrow, 0, 0, 0, 3, func(*plant.RackType, *plant.Kit) {}},
		{"guides of 60 mm", buildlist.CodeNarrow, 1, 300, 295, 3, func(_ *plant.RackType, k *plant.Kit) { k.Of(plant.GuidePart).Width = 60 * mm }},
		{"room for guides", buildlist.CodeStruck, 0, 0, 0, 3, func(*plant.RackType, *plant.Kit) {}},
		{"usable width up to the uprights", buildlist.CodeStruck, 1, 4, 0, 3, func(r *plant.RackType, _ *plant.Kit) { r.Levels[1].UsableWidth += 8 * mm }},
		{"no rows between", buildlist.CodeStruck, 0, 0, 0, 1, func(r *plant.RackType, _ *plant.Kit) { r.Levels[1].UsableWidth += 8 * mm }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r, k := plant.ShippedRackTypes()[c.rack], plant.ShippedKit("mm")
			r.Levels = slices.Clone(r.Levels)
			c.bend(&r, &k)
			f, _ := structure.Build(&r, &k, someLanes())
			_, found := buildlist.Make("R1", f, buildlist.MM)
			found = slices.DeleteFunc(found, func(one finding.Finding) bool { return one.Code != c.code })
			require.Len(t, found, c.times, "%v", found)
			if c.times > 0 {
				assert.InDelta(t, c.value, found[0].Measure.Value, 1e-6)
				assert.InDelta(t, c.limit, found[0].Measure.Limit, 1e-6)
				assert.Equal(t, 2, found[0].Subject.Level)
			}
		})
	}
}

// TestPrices: a price that is not known makes a cost partial, never 0.
func TestPrices(t *testing.T) {
	t.Parallel()
	r, k := plant.ShippedRackTypes()[1], plant.ShippedKit("mm")
	f, _ := structure.Build(&r, &k, nil)
	l := made(t, "R1", f)
	none := buildlist.Sum(l.Buys)
	assert.Zero(t, none.Priced)
	assert.Len(t, none.Unpriced, len(l.Buys))
	found := buildlist.Prices(l.Buys)
	require.Len(t, found, 1)
	assert.Equal(t, buildlist.CodeUnpriced, found[0].Code)
	assert.Contains(t, found[0].Summary, "is not known")

	k.Of(plant.TubePart).PricePerMetre = 4 * units.Unit
	l = made(t, "R1", f)
	some := buildlist.Sum(l.Buys)
	assert.Equal(t, 1, some.Priced)
	assert.InDelta(t, 4*46.842, some.Cost.Float64(), 1e-6)
	assert.Contains(t, buildlist.Prices(l.Buys)[0].Summary, "other parts only")

	for i := range k.Parts {
		k.Parts[i].Price, k.Parts[i].PricePerMetre = units.Unit, units.Unit
	}
	l = made(t, "R1", f)
	assert.Empty(t, buildlist.Prices(l.Buys))
}

// TestLongLanes: a lane longer than the longest stock takes the fewest pieces, and
// these meet on cross tubes where they can.
func TestLongLanes(t *testing.T) {
	t.Parallel()
	k := plant.ShippedKit("mm")
	r := plant.ShippedRackTypes()[3]
	r.Depth = 7050 * mm
	r.Levels = slices.Clone(r.Levels)
	for i := range r.Levels {
		r.Levels[i].LaneLength, r.Levels[i].Drop = 7000*mm, r.Levels[i].Drop*2
	}
	r.Levels[0].PickHeight = 450 * mm
	f, _ := structure.Build(&r, &k, nil)
	l, found := buildlist.Make("R1", f, buildlist.MM)
	check(t, l)
	for _, one := range found {
		assert.NotEqual(t, buildlist.CodeLoose, one.Code, one.Summary)
	}
	of := map[int]int{}
	for _, p := range l.Pieces {
		if p.Role == structure.Track || p.Role == structure.Guide {
			of[p.Member]++
			assert.LessOrEqual(t, p.Length, 3000*mm)
		}
	}
	for i, n := range of {
		assert.Equal(t, 3, n, "7 m of %s out of 3 m", f.Members[i].Mark)
	}
}

// TestTooLongForStock: pieces that no stock is long enough for are named and left
// out of the cut list.
func TestTooLongForStock(t *testing.T) {
	t.Parallel()
	r, k := plant.ShippedRackTypes()[1], plant.ShippedKit("mm")
	k.Of(plant.TubePart).StockLengths = []units.Length{1500 * mm}
	f, _ := structure.Build(&r, &k, nil)
	l := made(t, "R1", f)
	cuts, found, err := buildlist.CutLists(context.Background(), []buildlist.List{l}, buildlist.CutOptions{})
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Equal(t, buildlist.CodeTooLong, found[0].Code)
	assert.Equal(t, []float64{1740, 1500}, []float64{found[0].Measure.Value, found[0].Measure.Limit})
	assert.Len(t, cuts[0].Uncut, 4, "the uprights")
	assert.Equal(t, l.Tubes(), cuts[0].Pieces+len(cuts[0].Uncut))
}
