package routing_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// TestGroover counts vehicles as Groover does (Automation, Production Systems,
// and Computer-Integrated Manufacturing, chapter on material transport, section
// on the analysis of vehicle-based systems): one load a delivery, the vehicle
// returns empty, Tc = TL + Ld/vc + TU + Le/ve; it is available for a share
// A·F·E of each hour, and n = roundup(deliveries·Tc/available). Here every
// delivery is a rack of its own that uses one container an hour, the way there
// and the way back are one-way aisles of Ld and Le, and A·F·E is the busy limit.
// The reduction is exact where whole deliveries fill the vehicles as well as
// fractions of them do, which they do in both examples.
func TestGroover(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		there, back  units.Length
		speed        units.Speed
		load, unload time.Duration
		busy         units.Ratio
		deliveries   int
		cycle        float64
		vehicles     int
	}{
		{
			// Example 10.1: times, speed, factors and rate seen in a mirror of
			// the book's slides, the distances and the answers (5.05 min, 3.94,
			// rounded up to 4) from memory.
			name: "example 10.1", there: 110 * metre, back: 80 * metre, speed: 50 * units.MetrePerSecond / 60,
			load: 45 * time.Second, unload: 30 * time.Second, busy: units.MustRatio("0.855"), deliveries: 40, cycle: 5.05, vehicles: 4,
		},
		{
			// A problem of the same chapter: inputs seen, answer (5.27, rounded
			// up to 6) calculated.
			name: "problem, 500 and 350 ft at 300 ft/min", there: 500 * units.Foot, back: 350 * units.Foot, speed: units.Speed(5 * units.Foot),
			load: 30 * time.Second, unload: 30 * time.Second, busy: units.MustRatio("0.72675"), deliveries: 60, cycle: 3.0 + 5.0/6, vehicles: 6,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := &plant.Plant{Settings: plant.DefaultSettings()}
			p.Settings.LoadLimit, p.Settings.BusyLimit = units.Int(1), c.busy
			p.AislePoints = []plant.AislePoint{{Point: "DOCK", Kind: plant.Market}, {Point: "LINE"}}
			p.Aisles = []plant.Aisle{{From: "DOCK", To: "LINE", Length: c.there, OneWay: true}, {From: "LINE", To: "DOCK", Length: c.back, OneWay: true}}
			p.Vehicles = []plant.Vehicle{{Vehicle: "AGV", Count: 10, Containers: 1, Speed: c.speed, LoadTime: c.load, UnloadTime: c.unload}}
			var racks []structure.Rack
			var demands []routing.Demand
			for i := range c.deliveries {
				rack := structure.Rack{Rack: plant.RackCode(fmt.Sprintf("R%02d", i)), Point: "LINE"}
				racks = append(racks, rack)
				demands = append(demands, routing.Demand{
					Loop: demand.Key{Part: plant.PartCode(rack.Rack)}, Rack: rack.Rack, Share: units.Int(1), Rate: 1.0 / 60, Interval: time.Hour,
				})
			}
			in := input(p, racks, demands)
			plan := routing.Routes(t.Context(), in, routing.Settings{Steps: 1}, 1, 1, nil)
			require.Empty(t, check(in, plan))
			require.Len(t, plan.Routes, c.deliveries)
			assert.InDelta(t, c.cycle, plan.Routes[0].Round.Minutes(), 1e-6)
			assert.Equal(t, c.vehicles, plan.Bounds.Handlers)
			assert.Equal(t, c.vehicles, plan.Bounds.HandlersBound)
			assert.Equal(t, c.deliveries, plan.Bounds.RoutesBound)
		})
	}
}
