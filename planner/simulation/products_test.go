package simulation_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/sizing"
	"lanewright/planner/units"
)

// lanterns is the plan of a cell that builds 240 lanterns and 80 beacons a day, with
// this variation. Three parts go into them: one lens or two, a battery for beacons
// only, and screws that are used at a direct rate besides.
func lanterns(t testing.TB, variation string) simulation.Input {
	t.Helper()
	p := &plant.Plant{
		Settings: plant.DefaultSettings(), Shifts: []plant.Shift{plant.DefaultShift()},
		Cells: []plant.Cell{{Cell: "C"}}, Containers: []plant.Container{{Container: "B"}},
		Products: []plant.Product{
			{Product: "BEACON", UnitsPerDay: units.Int(80), Variation: units.MustRatio(variation)},
			{Product: "LANTERN", UnitsPerDay: units.Int(240), Variation: units.MustRatio(variation)},
		},
	}
	p.Settings.Interval = 30 * time.Minute
	use := func(part plant.PartCode, product plant.ProductCode, pieces string) {
		p.Usage = append(p.Usage, plant.Usage{Part: part, Product: product, Cell: "C", Station: "10", PerUnit: units.MustRatio(pieces)})
	}
	for _, part := range []plant.PartCode{"LENS", "BATTERY", "SCREW"} {
		p.Parts = append(p.Parts, plant.Part{Part: part, Container: "B", Pack: 12})
	}
	use("LENS", "LANTERN", "2")
	use("LENS", "BEACON", "1")
	use("BATTERY", "BEACON", "1")
	use("SCREW", "LANTERN", "4")
	p.Usage = append(p.Usage, plant.Usage{Part: "SCREW", Cell: "C", Station: "10", PerHour: units.Int(60)})
	x := plant.NewIndex(p)
	loops, found := demand.Loops(x, p.Settings)
	require.Empty(t, found)
	sized, _ := sizing.Size(x, loops)
	in := simulation.Input{Plant: p.Settings, Index: x, Loops: sized}
	for i, l := range sized {
		in.Lanes = append(in.Lanes, placement.Lane{Rack: "R", Level: 1, Lane: i + 1, Kind: plant.Supply, Loop: l.Key, Capacity: l.Containers, Containers: l.Containers})
	}
	return in
}

// TestProductsUseWhatTheRatesSay: over many weeks the products that are built take
// from each loop what its rate says, in both orders, however demand varies.
func TestProductsUseWhatTheRatesSay(t *testing.T) {
	t.Parallel()
	for _, variation := range []string{"0", "0.2"} {
		in := lanterns(t, variation)
		for _, use := range []simulation.Use{simulation.UseRandom, simulation.UseLevelled} {
			s := simulation.Settings{Weeks: 50, WarmUp: 1, Replications: 4, Use: use}
			whole := play(t, in, s, 2)
			for i, l := range in.Loops {
				alone := in
				alone.Lanes = in.Lanes[i : i+1]
				got := play(t, alone, s, 2)
				want := l.Rate.Float64() * 480 * 5 * 50 * 4
				assert.InEpsilon(t, want, got.Pieces, 0.01, "%s, %s, variation %s", l.Part, use, variation)
				assert.Equal(t, whole.Loops[i], got.Loops[i], "who else is played changes nothing for a loop")
			}
			// On one route all loops of the cell are fed by the same units.
			want := 0.0
			for _, l := range in.Loops {
				want += l.Rate.Float64() * 480 * 5 * 50 * 4
			}
			assert.InEpsilon(t, want, play(t, onRoute(in, 30*time.Minute, 1000), s, 2).Pieces, 0.01, "%s, variation %s, on a route", use, variation)
		}
	}
}

// TestLevelledOrdersNeedLess: with the containers that steady use would need,
// products in random order leave loops short much oftener than in levelled order.
func TestLevelledOrdersNeedLess(t *testing.T) {
	t.Parallel()
	in := lanterns(t, "0")
	s := simulation.Settings{Weeks: 20, WarmUp: 1, Replications: 10, Use: simulation.UseRandom}
	random := play(t, in, s, 2)
	s.Use = simulation.UseLevelled
	levelled := play(t, in, s, 2)
	sum := func(r simulation.Result) (n int64) {
		for _, l := range r.Loops {
			n += l.ShortCycles
		}
		return n
	}
	assert.Less(t, 3*sum(levelled), sum(random), "levelled %d, random %d", sum(levelled), sum(random))
}

// TestVariationOfProductsIsCovered: the rule takes the days' variation as if it came
// anew in every minute, so that loops sized by it keep their level when whole days
// are high or low.
func TestVariationOfProductsIsCovered(t *testing.T) {
	t.Parallel()
	in := lanterns(t, "0.25")
	r := play(t, in, simulation.Settings{Weeks: 20, WarmUp: 1, Replications: 10, Use: simulation.UseRandom}, 2)
	for _, l := range r.Loops {
		assert.Equal(t, simulation.Proved, l.Verdict, "%+v", l)
	}
}
