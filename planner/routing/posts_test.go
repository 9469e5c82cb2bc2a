package routing

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/units"
)

// drawProblem draws up to 12 stops on a ring of one-way aisles with shortcuts.
func drawProblem(t *rapid.T) *problem {
	p := &plant.Plant{Settings: plant.DefaultSettings()}
	const points = 8
	code := func(i int) plant.PointCode { return plant.PointCode(fmt.Sprintf("P%d", i%points)) }
	var all []plant.PointCode
	for i := range points {
		all = append(all, code(i))
		p.AislePoints = append(p.AislePoints, plant.AislePoint{Point: code(i)})
		p.Aisles = append(p.Aisles, plant.Aisle{From: code(i), To: code(i + 1), Length: units.Length(5+i) * units.Metre, OneWay: true})
	}
	for range rapid.IntRange(0, 6).Draw(t, "shortcuts") {
		p.Aisles = append(p.Aisles, plant.Aisle{
			From: code(rapid.IntRange(0, points-1).Draw(t, "from")), To: code(rapid.IntRange(0, points-1).Draw(t, "to")),
			Length: units.Length(rapid.IntRange(1, 20).Draw(t, "length")) * units.Metre,
		})
	}
	network, _ := floor.New(p)
	v := &vehicle{
		Vehicle: &plant.Vehicle{Vehicle: "CART", Containers: 20, MassLimit: 200 * units.Kilogram, Speed: units.MetrePerSecond, StopTime: 20 * time.Second, LoadTime: 5 * time.Second, UnloadTime: 6 * time.Second, EmptyTime: 3 * time.Second},
		market:  code(0), set: p.Settings, table: network.Quickest(all, floor.Ride{Speed: units.MetrePerSecond}, 1),
	}
	v.bare = newLimit(p.Settings, v.Vehicle)
	var stops []stop
	for i := range rapid.IntRange(2, 12).Draw(t, "stops") {
		d := Demand{Share: units.Int(1), Rate: rapid.Float64Range(0.01, 0.1).Draw(t, "rate"), Variance: 0.001, Gross: 7 * units.Kilogram, Returnable: i%2 == 0}
		d.Loop.Part = plant.PartCode(fmt.Sprintf("L%d", i))
		stops = append(stops, newStop(site{rack: plant.RackCode(fmt.Sprintf("R%d", i)), point: code(rapid.IntRange(0, points-1).Draw(t, "point"))}, []Demand{d}, time.Hour))
	}
	return newProblem(&group{interval: time.Hour}, v, stops, wishes{})
}

// TestQuestionKeepsTheRules: whatever the engine calls feasible keeps the limits of the
// plan, and the times that it adds up are those of the plan but for its units.
func TestQuestionKeepsTheRules(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := newPart(drawProblem(t))
		for _, a := range []aim{byWork, byWay} {
			s := newPosts(p, a, p.score.handlers, search.Stream(1, "test"))
			for _, r := range s.rounds {
				if len(r.stops) == 0 {
					continue
				}
				exact := p.tour(r.stops)
				require.True(t, exact.fits())
				require.InDelta(t, exact.round.Seconds(), float64(r.spent)*p.tick().Seconds(), 0.001)
				require.True(t, s.carries(r.goods))
			}
		}
	})
}

// TestPostsStayConsistent: after kicks, kept and undone, all sums are those of the
// rounds, and every stop is on one.
func TestPostsStayConsistent(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := newPart(drawProblem(t))
		p.limit.round = time.Duration(rapid.IntRange(8, 30).Draw(t, "limit")) * time.Minute
		s := newPosts(p, byWork, max(1, p.score.handlers-rapid.IntRange(0, 1).Draw(t, "fewer")), search.Stream(rapid.Uint64().Draw(t, "seed"), "test"))
		at := rapid.SampledFrom([]pace{toilPace, savePace, fewPace, holdPace}).Draw(t, "pace")
		s.anneal(context.Background(), rapid.IntRange(1, 60).Draw(t, "kicks"), at, func() bool { return false })
		var cost, over int64
		var stops []int
		hands := make([]ticks, len(s.hands))
		for i, r := range s.rounds {
			if len(r.stops) == 0 {
				continue
			}
			cost += r.cost
			hands[r.hand].busy, hands[r.hand].slots = hands[r.hand].busy+r.spent, hands[r.hand].slots+r.spent+s.minute
			for _, x := range r.stops {
				require.Equal(t, int32(i), s.on[x])
				stops = append(stops, int(x)-1)
			}
			again := r
			s.fill(int32(i), slices.Clone(r.stops))
			require.Equal(t, again.cost, s.rounds[i].cost)
			require.Equal(t, again.spent, s.rounds[i].spent)
		}
		for _, h := range hands {
			over += s.tooMuch(h)
		}
		require.Equal(t, hands, s.hands)
		require.Equal(t, cost, s.cost)
		require.Equal(t, over, s.over)
		require.ElementsMatch(t, numbers(len(p.stops)), stops)
	})
}
