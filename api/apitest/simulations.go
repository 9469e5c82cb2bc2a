package apitest

import (
	"context"
	"strconv"
	"time"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
)

type played struct {
	archive.Simulation
	result *simulation.Result
}

// SaveSimulation stores a play of a plan.
func (s *Store) SaveSimulation(_ context.Context, plan int64, r simulation.Result) (archive.Simulation, error) {
	unlock, err := s.lock()
	defer unlock()
	if _, err := s.plan(plan, err); err != nil {
		return archive.Simulation{}, err
	}
	return s.saveSimulation(plan, false, &r), nil
}

func (s *Store) saveSimulation(plan int64, proof bool, r *simulation.Result) archive.Simulation {
	x := archive.NewSimulation(plan, proof, r)
	x.ID, x.Created = int64(len(s.played)+1), s.now
	s.played = append(s.played, played{x, r})
	return x
}

// Simulations lists the plays of a plan by id.
func (s *Store) Simulations(_ context.Context, plan, after int64, limit int) ([]archive.Simulation, error) {
	unlock, err := s.lock()
	defer unlock()
	if _, err := s.plan(plan, err); err != nil {
		return nil, err
	}
	var list []archive.Simulation
	for _, x := range s.played {
		if x.Plan == plan && x.ID > after && len(list) < limit {
			list = append(list, x.Simulation)
		}
	}
	return list, nil
}

// Simulation returns the header of a play.
func (s *Store) Simulation(_ context.Context, id int64) (archive.Simulation, error) {
	unlock, err := s.lock()
	defer unlock()
	x, err := s.simulation(id, err)
	return x.Simulation, err
}

// LoadSimulation returns a play.
func (s *Store) LoadSimulation(_ context.Context, id int64) (*simulation.Result, error) {
	unlock, err := s.lock()
	defer unlock()
	x, err := s.simulation(id, err)
	return x.result, err
}

func (s *Store) simulation(id int64, err error) (played, error) {
	return one(s.played, err, "simulation "+strconv.FormatInt(id, 10), func(x played) bool { return x.ID == id })
}

// Played returns what a play of p measured: its first loop ran short because
// rounds were full, those without a lane were not played, all others are proved.
func Played(p *planner.Plan) *simulation.Result {
	r := &simulation.Result{
		Settings: p.Settings.Simulation, Seed: p.Settings.Plant.Seed,
		Played: 1600 * time.Hour, Events: 123_456, Pieces: 9_876_543,
	}
	for i, l := range p.Loops {
		x := simulation.LoopResult{
			Loop: l.Key, Verdict: simulation.Proved, Containers: l.Containers, Cycles: 3200, ShortCycles: 8,
			Rate: 0.0025, Low: 0.00125, High: 0.005, Allowed: 0.005, Shortages: 8, Cause: simulation.CauseUse,
			ShortMean: 90 * time.Second, ShortLongest: 4 * time.Minute, FillRate: 0.9975,
			OnHandMean: 60.5, OnHandMost: l.Containers, Room: l.Capacity * l.Lanes, SignalWait: 15 * time.Minute,
		}
		switch {
		case l.Lanes == 0:
			x = simulation.LoopResult{Loop: l.Key, Verdict: simulation.NotPlayed}
		case i == 0:
			x.Verdict, x.Cause, x.LeftBehind = simulation.Short, simulation.CauseCapacity, 12
			x.ShortCycles, x.Rate, x.Low, x.High = 32, 0.01, 0.0075, 0.0125
		}
		r.Loops = append(r.Loops, x)
	}
	for _, route := range p.Routes {
		r.Routes = append(r.Routes, simulation.RouteResult{
			Route: route.Route, Rounds: 3200, Late: 40, Dropped: 1, LateMean: 2 * time.Minute, LateMost: 6 * time.Minute,
			RoundMean: 11 * time.Minute, Round95: 14 * time.Minute, RoundMost: 16*time.Minute + 30*time.Second,
			LoadMean: 9.25, Load95: 13, LoadMost: 16, Capacity: 16, LeftBehind: 12, FullRounds: 3,
		})
	}
	for _, rack := range p.Racks {
		r.Racks = append(r.Racks, simulation.RackResult{Rack: rack.Rack, Visits: 3200, Overfull: 2, MostMM: 1500, RoomMM: 1400})
	}
	r.Findings = finding.List{{
		Severity: finding.Warning, Code: "simulation.short", Summary: "A loop ran short in more cycles than its service level allows",
		Detail: "Rounds were full.", Remedy: "Give the route a larger vehicle.", Subject: finding.Subject{Rack: "R1"},
	}}
	return r
}

// Trace stands in for a trace of one loop; it fits every loop.
func Trace(_ context.Context, facts *plant.Plant, p *planner.Plan, s simulation.Settings, loop demand.Key, replication int) (simulation.Trace, error) {
	monday := time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC)
	t := simulation.Trace{
		Loop: loop, Replication: replication, Pack: 24, Containers: 4, Zone: facts.Settings.TimeZone,
		Shifts: demand.Occurrences(facts.Shifts, monday, time.UTC, 7*s.Weeks),
	}
	for i, e := range []simulation.Event{simulation.EventStart, simulation.EventOpen, simulation.EventShort, simulation.EventVisit, simulation.EventDeliver, simulation.EventEnd} {
		t.Points = append(t.Points, simulation.Point{At: monday.Add(time.Duration(i) * 90 * time.Second), Event: e, Full: 3 - i%3, OnHand: 72.5, Signals: i % 2})
	}
	t.Points[3].Round, t.Points[3].Taken = p.Routes[0].Route+" 06:00", 1
	return t, nil
}
