package api

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"time"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
)

// What a trace may cost: it is computed while somebody waits.
const (
	tracesAtOnce = 2
	traceTime    = 20 * time.Second
	// warmUpMost is how many weeks of warm-up are played before a trace.
	warmUpMost = 4
)

// Tracer plays one replication of a plan and returns what one loop lived
// through; replication counts from 0.
type Tracer func(ctx context.Context, facts *plant.Plant, p *planner.Plan, s simulation.Settings, loop demand.Key, replication int) (simulation.Trace, error)

// trace is the tracer that plays the plan itself.
func trace(ctx context.Context, facts *plant.Plant, p *planner.Plan, s simulation.Settings, loop demand.Key, replication int) (simulation.Trace, error) {
	return simulation.TraceLoop(ctx, planner.SimulationInput(facts, p), s, p.Settings.Plant.Seed, loop, replication)
}

type traceInput struct {
	PlanInput
	Part        string `query:"part" required:"true" minLength:"1" maxLength:"200" doc:"part of the loop"`
	Cell        string `query:"cell" required:"true" minLength:"1" maxLength:"200" doc:"cell of the loop"`
	Station     string `query:"station" required:"true" minLength:"1" maxLength:"200" doc:"station of the loop"`
	Replication int    `query:"replication" minimum:"1" maximum:"1000" default:"1" doc:"which of the independent plays, from 1"`
	Weeks       int    `query:"weeks" minimum:"1" maximum:"4" default:"1" doc:"weeks after the warm-up"`
}

// loop names the loop that is asked for.
func (in *traceInput) loop() demand.Key {
	return demand.Key{Part: plant.PartCode(in.Part), Cell: plant.CellCode(in.Cell), Station: plant.StationCode(in.Station)}
}

// traceLoop plays one replication and answers with what one loop lived through.
func (s *server) traceLoop(ctx context.Context, in *traceInput) (*output[wire.Trace], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	if !v.hasLoop(in.loop()) {
		return nil, missing("loop", fmt.Sprintf("%s, %s, %s", in.Part, in.Cell, in.Station))
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, err
	}
	settings := v.plan.Settings.Simulation
	settings.Weeks, settings.WarmUp = in.Weeks, min(settings.WarmUp, warmUpMost)
	t, err := s.traced(ctx, f.plant, v.plan, settings, in)
	if err != nil {
		return nil, err
	}
	return tagged(v.tag, wire.NewTrace(t, in.Replication, in.Weeks)), nil
}

// traced plays within the time that a caller can be kept waiting; only few
// traces are computed at once.
func (s *server) traced(ctx context.Context, facts *plant.Plant, p *planner.Plan, settings simulation.Settings, in *traceInput) (simulation.Trace, error) {
	select {
	case s.tracing <- struct{}{}:
		defer func() { <-s.tracing }()
	case <-ctx.Done():
		return simulation.Trace{}, context.Cause(ctx)
	}
	limited, cancel := context.WithTimeout(ctx, traceTime)
	defer cancel()
	t, err := s.trace(limited, facts, p, settings, in.loop(), in.Replication-1)
	if errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil {
		return t, problem(http.StatusServiceUnavailable, fmt.Sprintf("Playing this plan takes longer than %s; ask for fewer weeks.", traceTime))
	}
	return t, err
}

func (v *view) hasLoop(k demand.Key) bool {
	for i := range v.plan.Loops {
		if v.plan.Loops[i].Key == k {
			return true
		}
	}
	return false
}
