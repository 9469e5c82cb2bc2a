package routing

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// drawWork draws up to seven racks on a ring of one-way aisles with shortcuts, a train
// and a cart.
func drawWork(t *rapid.T) (*work, []site) {
	const points = 7
	p := &plant.Plant{Settings: plant.DefaultSettings(), Cells: []plant.Cell{{Cell: "C"}}}
	code := func(i int) plant.PointCode { return plant.PointCode(fmt.Sprintf("P%d", i%points)) }
	some := rapid.IntRange(0, points-1)
	for i := range points {
		p.AislePoints = append(p.AislePoints, plant.AislePoint{Point: code(i)})
		p.Aisles = append(p.Aisles, plant.Aisle{From: code(i), To: code(i + 1), Length: units.Length(20+7*i) * units.Metre, OneWay: true})
	}
	p.AislePoints[0].Kind = plant.Market
	for range rapid.IntRange(0, 8).Draw(t, "shortcuts") {
		p.Aisles = append(p.Aisles, plant.Aisle{From: code(some.Draw(t, "from")), To: code(some.Draw(t, "to")), Length: units.Length(rapid.IntRange(1, 90).Draw(t, "length")) * units.Metre})
	}
	p.Vehicles = []plant.Vehicle{
		{Vehicle: "TRAIN", Count: 9, Containers: 20, Speed: units.MetrePerSecond, StopTime: 20 * time.Second, LoadTime: 5 * time.Second, UnloadTime: 6 * time.Second, EmptyTime: 3 * time.Second},
		{Vehicle: "CART", Count: 9, Containers: rapid.IntRange(5, 19).Draw(t, "cart"), Speed: units.MetrePerSecond, StopTime: 9 * time.Second, LoadTime: 4 * time.Second, UnloadTime: 4 * time.Second},
	}
	p.Vehicles = p.Vehicles[:rapid.IntRange(1, 2).Draw(t, "vehicles")]
	in := Input{Plant: p.Settings, Index: plant.NewIndex(p)}
	in.Network, _ = floor.New(p)
	var at []plant.PointCode
	for i := range rapid.IntRange(1, 7).Draw(t, "racks") {
		rack := structure.Rack{Rack: plant.RackCode(fmt.Sprintf("R%d", i)), Cell: "C", Point: code(some.Draw(t, "point"))}
		d := Demand{
			Rack: rack.Rack, Share: units.Int(1), Rate: rapid.Float64Range(0.01, 0.2).Draw(t, "rate"), Variance: rapid.Float64Range(0, 0.05).Draw(t, "variance"),
			Gross: 7 * units.Kilogram, Returnable: i%2 == 0, Interval: rapid.SampledFrom([]time.Duration{time.Hour, time.Hour, 30 * time.Minute}).Draw(t, "interval"),
		}
		in.Racks, in.Demands, at = append(in.Racks, rack), append(in.Demands, d), append(at, rack.Point)
	}
	w := &work{in: in, threads: 1, wishes: newWishes(p, DefaultSettings())}
	w.fleet = fleet(in, at, 1)
	served := w.settle(sites(in))
	return w, served
}

// least is the shortest time that v drives from its market to all points and back, by
// trying all orders.
func (v *vehicle) least(at int, left []plant.PointCode) float64 {
	if len(left) == 0 {
		l, _ := v.table.Leg(at, v.home)
		return l.Time.Minutes()
	}
	best := math.Inf(1)
	for i, p := range left {
		row, _ := v.table.Index(p)
		l, _ := v.table.Leg(at, row)
		left[0], left[i] = left[i], left[0]
		best = min(best, l.Time.Minutes()+v.least(row, left[1:]))
		left[0], left[i] = left[i], left[0]
	}
	return best
}

// TestNoRoundIsChargedTooMuch: whatever racks a round of any vehicle type serves, at the
// shortest of their intervals, they are charged no more than its share of that interval.
func TestNoRoundIsChargedTooMuch(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		w, served := drawWork(t)
		if len(served) == 0 {
			return
		}
		d := newBounder(w, served)
		d.charge(1000)
		for _, v := range w.fleet {
			for set := 1; set < 1<<len(served); set++ {
				d.requireCovered(t, v, set)
			}
		}
	})
}

func (d *bounder) requireCovered(t *rapid.T, v *vehicle, set int) {
	var points []plant.PointCode
	var list []Demand
	interval, charge := time.Duration(math.MaxInt64), 0.0
	for i, s := range d.sites {
		if set>>i&1 == 0 {
			continue
		}
		if !d.whole(v, s, s.interval) {
			return
		}
		points, list = append(points, s.point), append(list, s.demands...)
		interval, charge = min(interval, s.interval), charge+d.least[i].due
	}
	n := total(list, interval)
	if n.planned(d.z) > v.bare.containers {
		return
	}
	round := v.least(v.home, points) + roundTime(v.Vehicle, 0, len(points), n.planned(d.z), n.empties).Minutes()
	require.LessOrEqual(t, charge, round/interval.Minutes()+1e-9, "%s: racks %b", v.code(), set)
}

// TestChargedMore: two racks far apart, each of a little more than half a round, need a
// round each. By its own trip each pays for a little more than half of one; together
// they can be charged both.
func TestChargedMore(t *testing.T) {
	t.Parallel()
	e := &dues{trip: []float64{10, 10}, tour: []float64{10, 20, 20, 10}, at: make([][]int32, 2), back: make([]float64, 2), top: make([]float64, 2), outward: []int32{0, 1}}
	e.aside = [][]int32{e.asideOf(0), e.asideOf(1)}
	for p := range int32(2) {
		e.add(charged{point: p, part: 0.55, due: 5.5, most: math.Inf(1)})
	}
	before := e.sum()
	paid := e.raise(math.Inf(1), 300)
	require.InDelta(t, 11, before, 1e-9)
	require.InDelta(t, 20, paid[0]+paid[1], 0.5)
	require.LessOrEqual(t, max(paid[0], paid[1]), 10+1e-9)
}
