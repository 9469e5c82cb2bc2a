package simulation_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/simulation"
	"lanewright/planner/structure"
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
	var stops []routing.Stop
	for _, lane := range in.Lanes {
		i := slices.IndexFunc(stops, func(s routing.Stop) bool { return s.Rack == lane.Rack })
		if i < 0 {
			i = len(stops)
			stops = append(stops, routing.Stop{Rack: lane.Rack, Arrive: time.Duration(i) * 20 * time.Second})
		}
		stops[i].Loops = append(stops[i].Loops, lane.Loop)
	}
	in.Routes = []routing.Route{{Route: "A", Vehicle: "V", Handler: "H1", Interval: interval, Round: time.Minute, Stops: stops, Timetable: []routing.ShiftTimes{times}}}
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

// TestFullVehiclesLeaveTheRest: two steady loops empty two containers each between
// two rounds of a vehicle that holds three: every round takes the two of the first
// loop and one of the second, and what is left of the second grows by one.
func TestFullVehiclesLeaveTheRest(t *testing.T) {
	t.Parallel()
	l := steady("1", 15, 30*time.Minute, 30*time.Minute)
	l.Fixed = 7
	in := onRoute(alone([]demand.Loop{l, l}), 30*time.Minute, 3)
	r := play(t, in, simulation.Settings{Weeks: 1, Replications: 3}, 2)
	first, second := r.Loops[0], r.Loops[1]
	assert.Zero(t, first.ShortCycles)
	assert.Zero(t, first.LeftBehind)
	assert.Equal(t, simulation.Short, second.Verdict)
	assert.Equal(t, simulation.CauseCapacity, second.Cause)
	assert.Zero(t, second.Enough, "more containers do not help")
	assert.Equal(t, 3, r.Routes[0].LoadMost)
	assert.Equal(t, 3, r.Routes[0].Load95)
	assert.Equal(t, r.Routes[0].LeftBehind, second.LeftBehind)
	assert.Greater(t, r.Routes[0].FullRounds, r.Routes[0].Rounds*8/10)
	codes := map[string]int{}
	for _, f := range r.Findings {
		codes[f.Code]++
	}
	assert.Equal(t, map[string]int{simulation.CodeRunsShort: 1, simulation.CodeVehicleFull: 1}, codes)
}

// TestMassLimitsTheLoadToo: as above, with three containers of 10 kg as the limit.
func TestMassLimitsTheLoadToo(t *testing.T) {
	t.Parallel()
	l := steady("1", 15, 30*time.Minute, 30*time.Minute)
	l.Fixed = 7
	in := onRoute(alone([]demand.Loop{l, l}), 30*time.Minute, 100)
	for i := range in.Loops {
		in.Loops[i].Gross = 10 * units.Kilogram
	}
	in.Index.Vehicles["V"].MassLimit = 35 * units.Kilogram
	r := play(t, in, simulation.Settings{Weeks: 1, Replications: 1}, 2)
	assert.Equal(t, 3, r.Routes[0].LoadMost)
	assert.Equal(t, simulation.CauseCapacity, r.Loops[1].Cause)
}

// TestLateRounds: a handler whose rounds take 40 of 30 minutes leaves ten minutes
// later each time; of the 16 rounds of a shift of 480 minutes he drives 12, and
// every one but the first late.
func TestLateRounds(t *testing.T) {
	t.Parallel()
	l := steady("1", 15, 30*time.Minute, 30*time.Minute)
	in := onRoute(alone([]demand.Loop{l}), 30*time.Minute, 100)
	in.Routes[0].Round = 40 * time.Minute
	r := play(t, in, simulation.Settings{Weeks: 2, WarmUp: 1, Replications: 1}, 1)
	route := r.Routes[0]
	assert.Equal(t, int64(12*10), route.Rounds)
	assert.Equal(t, int64(11*10), route.Late)
	assert.Equal(t, int64(4*10), route.Dropped)
	assert.Equal(t, 110*time.Minute, route.LateMost)
	assert.Equal(t, 60*time.Minute, route.LateMean)
	assert.Equal(t, 40*time.Minute, route.RoundMean)
	assert.Equal(t, simulation.Short, r.Loops[0].Verdict)
	assert.Equal(t, simulation.CauseLate, r.Loops[0].Cause)
}

// TestNightsOnWhichTheClocksChange: a night shift of eight hours by the clock with
// a round every hour has nine rounds in the night on which the clocks go back and
// seven in that on which they go forward, and nobody runs short in either.
func TestNightsOnWhichTheClocksChange(t *testing.T) {
	t.Parallel()
	night := plant.Shift{Shift: "N", Start: 22 * time.Hour, End: 30 * time.Hour, Days: [7]bool{time.Saturday: true}}
	times := routing.ShiftTimes{Shift: "N"}
	for n := range time.Duration(8) {
		times.Departures = append(times.Departures, (22+n)*time.Hour)
	}
	l := steady("1", 10, time.Hour, time.Hour)
	for _, c := range []struct {
		from   time.Time
		rounds int64
	}{
		{time.Date(2026, 10, 17, 0, 0, 0, 0, time.UTC), 8 + 9},
		{time.Date(2026, 3, 21, 0, 0, 0, 0, time.UTC), 8 + 7},
		{time.Date(2026, 6, 6, 0, 0, 0, 0, time.UTC), 8 + 8},
	} {
		in := onRoute(alone([]demand.Loop{l}), time.Hour, 100)
		p := *in.Index.Plant
		p.Shifts = []plant.Shift{night}
		in.Index = plant.NewIndex(&p)
		in.Plant.TimeZone = "Europe/Berlin"
		in.Routes[0].Timetable = []routing.ShiftTimes{times}
		r := play(t, in, simulation.Settings{Weeks: 2, Replications: 1, From: c.from}, 1)
		assert.Equal(t, c.rounds, r.Routes[0].Rounds, c.from)
		assert.Zero(t, r.Loops[0].ShortCycles, c.from)
	}
	in := alone([]demand.Loop{l})
	in.Plant.TimeZone = "Nowhere/At all"
	_, err := simulation.Play(context.Background(), in, simulation.Settings{From: time.Date(2026, 3, 21, 0, 0, 0, 0, time.UTC)}, 1, 1, nil)
	assert.Error(t, err)
}

// TestResponseTimes: what is collected comes the response time later where that is
// not the route's interval. A loop that lives through R + L exactly never runs dry,
// with a container less it does.
func TestResponseTimes(t *testing.T) {
	t.Parallel()
	for _, response := range []time.Duration{10, 20, 45, 60, 90} {
		l := steady("1", 5, 30*time.Minute, response*time.Minute)
		in := onRoute(alone([]demand.Loop{l, l}), 30*time.Minute, 100)
		in.Lanes[1].Containers--
		r := play(t, in, simulation.Settings{Weeks: 1, WarmUp: 1, Replications: 40}, 2)
		assert.Zero(t, r.Loops[0].ShortCycles, "L = %d min", response)
		assert.Positive(t, r.Loops[1].ShortCycles, "L = %d min, a container less", response)
	}
}

// TestEmptiesOnReturnLanes: two containers of 300 mm that are emptied between two
// rounds take 600 mm of return lane, or 300 mm where the second nests on the first.
func TestEmptiesOnReturnLanes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		nests            units.Ratio
		room, most       float64
		overfull, always bool
	}{
		{units.Int(1), 600, 600, false, false},
		{units.Int(1), 599, 600, true, true},
		{units.R(1, 4), 300, 300, false, false},
		{units.R(3, 4), 300, 600, true, true},
	} {
		l := steady("1", 15, 30*time.Minute, 30*time.Minute)
		in := onRoute(alone([]demand.Loop{l}), 30*time.Minute, 100)
		box := in.Index.Containers["B"]
		box.Length, box.Height, box.Nests, box.Returnable = 300*units.Millimetre, 200*units.Millimetre, c.nests, true
		in.Lanes[0].Side = plant.LengthAlong
		in.Lanes = append(in.Lanes, placement.Lane{Rack: "R", Level: 2, Lane: 1, Kind: plant.Return})
		in.Racks = []structure.Rack{{Rack: "R", Type: &plant.RackType{}, Levels: []structure.Level{{Level: plant.Level{
			Level: 2, Kind: plant.Return, LaneLength: units.Length(c.room) * units.Millimetre, ClearHeight: 300 * units.Millimetre,
		}}}}}
		r := play(t, in, simulation.Settings{Weeks: 1, Replications: 1}, 1)
		assert.InDelta(t, c.most, r.Racks[0].MostMM, 1e-9, "%+v", c)
		assert.Equal(t, c.room, r.Racks[0].RoomMM)
		assert.Equal(t, c.overfull, r.Racks[0].Overfull > 0, "%+v", c)
		full := 0
		for _, f := range r.Findings {
			if f.Code == simulation.CodeReturnsFull {
				full++
			}
		}
		assert.Equal(t, c.always, full == 1, "%+v", c)
	}
}
