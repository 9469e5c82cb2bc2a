package simulation_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/simulation"
	"lanewright/planner/units"
)

// onRoute lets all loops of in be served by one route, every interval of the
// default shift, on a vehicle that holds so many containers.
func onRoute(in simulation.Input, interval time.Duration, containers int) simulation.Input {
	p := *in.Index.Plant
	p.Vehicles = []plant.Vehicle{{Vehicle: "V", Count: 1, Containers: containers, Speed: units.MetrePerSecond}}
	in.Index = plant.NewIndex(&p)
	shift := plant.DefaultShift()
	times := routing.ShiftTimes{Shift: shift.Shift}
	for n := time.Duration(0); n < shift.Net(); n += interval {
		at, _ := shift.Clock(n)
		times.Departures = append(times.Departures, at)
	}
	stop := routing.Stop{Rack: "R"}
	for _, l := range in.Loops {
		stop.Loops = append(stop.Loops, l.Key)
	}
	in.Routes = []routing.Route{{Route: "A", Vehicle: "V", Handler: "H1", Interval: interval, Round: time.Minute, Stops: []routing.Stop{stop}, Timetable: []routing.ShiftTimes{times}}}
	return in
}

// TestSignalsQueueAsSlottedMD1: single pieces in packs of one, used as Poisson
// pieces are, and a vehicle that holds one container: signals queue as before a
// server that takes one at the start of each slot. Their mean wait is
// R/2 + ρR/(2(1 − ρ)), that of M/D/1 (Pollaczek, Khinchine) and half a slot more
// (Bertsekas, Gallager, Data Networks, 2nd ed. 1992, § 3.5.2, vacations that last
// a slot; from memory).
func TestSignalsQueueAsSlottedMD1(t *testing.T) {
	t.Parallel()
	const interval = 10 * time.Minute
	for _, load := range []struct {
		rate string
		rho  float64
	}{{"3/100", 0.3}, {"6/100", 0.6}, {"8/100", 0.8}} {
		l := steady(load.rate, 1, interval, interval)
		l.Model, l.Fixed = plant.PoissonModel, 400
		in := onRoute(alone([]demand.Loop{l}), interval, 1)
		s := simulation.Settings{Weeks: 200, WarmUp: 4, Replications: 10}
		r, err := simulation.Play(context.Background(), in, s, 7, 2, nil)
		require.NoError(t, err)
		want := interval.Minutes() * (0.5 + load.rho/(2*(1-load.rho)))
		assert.InDelta(t, want, r.Loops[0].SignalWait.Minutes(), 0.02*want, "load %g", load.rho)
		assert.InDelta(t, load.rho, r.Routes[0].LoadMean, 0.01, "what is used is what is brought")
	}
}
