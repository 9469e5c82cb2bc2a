package routing

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
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
		set:     p.Settings, table: network.Quickest(all, floor.Ride{Speed: units.MetrePerSecond}, 1),
	}
	v.bare = newLimit(p.Settings, v.Vehicle)
	var stops []stop
	for i := range rapid.IntRange(1, 12).Draw(t, "stops") {
		d := Demand{Share: units.Int(1), Rate: rapid.Float64Range(0.01, 0.1).Draw(t, "rate"), Variance: 0.001, Gross: 7 * units.Kilogram, Returnable: i%2 == 0}
		d.Loop.Part = plant.PartCode(fmt.Sprintf("L%d", i))
		stops = append(stops, newStop(site{rack: plant.RackCode(fmt.Sprintf("R%d", i)), point: code(rapid.IntRange(0, points-1).Draw(t, "point"))}, []Demand{d}, time.Hour))
	}
	return newProblem(&group{interval: time.Hour}, v, stops)
}

// requireConsistent recomputes everything that t keeps up to date.
func requireConsistent(rt *rapid.T, t *tours) {
	p := t.p
	var length units.Length
	routes := 0
	for r := range t.first {
		var l load
		var way floor.Leg
		at := int32(home)
		for s := t.first[r]; s != home; s = t.next[s] {
			require.Equal(rt, int32(r), t.route[s])
			require.Equal(rt, at, t.prev[s])
			way = way.Plus(p.leg(at, s))
			l = l.plus(p.loads[s])
			at = s
		}
		require.Equal(rt, at, t.last[r])
		if at != home {
			routes++
			way = way.Plus(p.leg(at, home))
		}
		require.Equal(rt, way, t.drive[r])
		require.Equal(rt, l, t.sums[r])
		require.Equal(rt, p.round(l, way.Time), t.rounds[r])
		length += way.Length
	}
	require.Equal(rt, length, t.length)
	require.Equal(rt, routes, t.routes())
}

func TestToursUndo(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		p := drawProblem(rt)
		tours := newTours(p)
		tours.load(p.savings())
		requireConsistent(rt, tours)
		before := tours.order(nil)
		for range rapid.IntRange(1, 20).Draw(rt, "moves") {
			s := int32(rapid.IntRange(1, len(p.stops)).Draw(rt, "stop"))
			if tours.route[s] != out {
				tours.take(s)
				continue
			}
			if near := int32(rapid.IntRange(1, len(p.stops)).Draw(rt, "near")); tours.route[near] != out {
				tours.put(s, tours.route[near], near)
			} else {
				tours.put(s, tours.fresh(), home)
			}
			requireConsistent(rt, tours)
		}
		tours.undo()
		requireConsistent(rt, tours)
		require.Equal(rt, before, tours.order(nil))
	})
}

// TestSavings wants every stop once and no route that breaks a limit.
func TestSavings(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		p := drawProblem(rt)
		order := p.savings()
		var stops []int
		for _, s := range order {
			if s != home {
				stops = append(stops, int(s)-1)
			}
		}
		require.ElementsMatch(rt, numbers(len(p.stops)), stops)
		tours := newTours(p)
		tours.load(order)
		for r := range tours.first {
			require.True(rt, p.carries(tours.sums[r]))
			require.LessOrEqual(rt, tours.rounds[r], p.limit.round)
		}
	})
}

// TestCrewCount compares with first fit as it is told: each round, longest
// first, to the first handler who has room for it.
func TestCrewCount(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		p := drawProblem(rt)
		p.limit.round = time.Duration(rapid.IntRange(5, 25).Draw(rt, "limit")) * time.Minute
		p.group.interval = time.Duration(rapid.IntRange(25, 40).Draw(rt, "interval")) * time.Minute
		tours := newTours(p)
		var c crew
		for s := range p.stops {
			tours.put(int32(s+1), tours.fresh(), home)
			if s > 0 && rapid.Bool().Draw(rt, "join") {
				tours.take(int32(s + 1))
				tours.put(int32(s+1), tours.route[s], int32(s))
			}
			k := rapid.IntRange(0, 3).Draw(rt, "k")
			handlers, over := c.count(tours, k)
			var rounds []time.Duration
			for r, first := range tours.first {
				if first != home {
					rounds = append(rounds, tours.rounds[r])
				}
			}
			want := firstFit(rounds, p.group.interval, p.limit.round)
			require.Len(rt, want, handlers)
			var wantOver time.Duration
			for _, h := range want[min(k, len(want)):] {
				wantOver += h.busy
			}
			require.Equal(rt, wantOver, over)
		}
	})
}

func firstFit(rounds []time.Duration, interval, limit time.Duration) []hand {
	slices.Sort(rounds)
	slices.Reverse(rounds)
	var hands []hand
next:
	for _, r := range rounds {
		for i := range hands {
			if with := hands[i].plus(r); with.slots <= interval && with.busy <= limit {
				hands[i] = with
				continue next
			}
		}
		hands = append(hands, hand{}.plus(r))
	}
	return hands
}
