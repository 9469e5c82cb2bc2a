package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/plot"
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

// OneLoopInput names a loop in a query.
type OneLoopInput struct {
	PlanInput
	LoopInput
}

// LoopInput names a loop.
type LoopInput struct {
	Part    string `query:"part" required:"true" minLength:"1" maxLength:"200" doc:"part of the loop"`
	Cell    string `query:"cell" required:"true" minLength:"1" maxLength:"200" doc:"cell of the loop"`
	Station string `query:"station" required:"true" minLength:"1" maxLength:"200" doc:"station of the loop"`
}

func (in *LoopInput) loop() demand.Key {
	return demand.Key{Part: plant.PartCode(in.Part), Cell: plant.CellCode(in.Cell), Station: plant.StationCode(in.Station)}
}

// viewOf returns the plan and its facts, or says that it has no such loop.
func (s *server) viewOf(ctx context.Context, in *OneLoopInput) (*view, *facts, error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, nil, err
	}
	if !v.hasLoop(in.loop()) {
		return nil, nil, missing("loop", fmt.Sprintf("%s, %s, %s", in.Part, in.Cell, in.Station))
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	return v, f, err
}

// explainLoop answers with how a loop came to be what it is.
func (s *server) explainLoop(ctx context.Context, in *OneLoopInput) (*output[wire.Explanation], error) {
	v, why, err := s.reasonsOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	e, ok := why.Loop(in.loop())
	if !ok {
		return nil, missing("loop", fmt.Sprintf("%s, %s, %s", in.Part, in.Cell, in.Station))
	}
	return tagged(v.tag, *wire.NewExplanation(e)), nil
}

// TraceInput asks for the trace of a loop.
type TraceInput struct {
	OneLoopInput
	Replication int `query:"replication" minimum:"1" maximum:"1000" default:"1" doc:"which of the independent plays, from 1"`
	Weeks       int `query:"weeks" minimum:"1" maximum:"4" default:"1" doc:"weeks after the warm-up"`
}

// traceLoop plays one replication and answers with what one loop lived through.
func (s *server) traceLoop(ctx context.Context, in *TraceInput) (*output[wire.Trace], error) {
	v, t, err := s.traceOf(ctx, in)
	if err != nil {
		return nil, err
	}
	return tagged(v.tag, wire.NewTrace(t, in.Replication, in.Weeks)), nil
}

type drawInput struct {
	TraceInput
	Day string `query:"day" maxLength:"10" doc:"day to show, such as 2026-10-19; empty is the first on which pieces are missing, else the first that is worked"`
}

const svg = "image/svg+xml"

// drawTrace draws one day of a trace.
func (s *server) drawTrace(ctx context.Context, in *drawInput) (*huma.StreamResponse, error) {
	v, t, err := s.traceOf(ctx, &in.TraceInput)
	if err != nil {
		return nil, err
	}
	day := in.Day
	if day == "" {
		day = plot.FirstDay(t)
	}
	window, ok := plot.Day(t, day)
	if !ok {
		p := problem(http.StatusUnprocessableEntity, sentences[http.StatusUnprocessableEntity])
		p.Errors = []wire.BadField{{Message: fmt.Sprintf("no shift of its cell starts on %q in the traced time", day), Location: "query.day"}}
		return nil, p
	}
	var drawn bytes.Buffer
	if err := plot.Trace(&drawn, t, window); err != nil {
		return nil, fmt.Errorf("draw a trace of plan %d: %w", v.header.ID, err)
	}
	return s.send(v.tag, "", svg, "", func(w io.Writer) error {
		_, err := drawn.WriteTo(w)
		return err
	}), nil
}

func (s *server) traceOf(ctx context.Context, in *TraceInput) (*view, simulation.Trace, error) {
	v, f, err := s.viewOf(ctx, &in.OneLoopInput)
	if err != nil {
		return nil, simulation.Trace{}, err
	}
	settings := v.plan.Settings.Simulation
	settings.Weeks, settings.WarmUp = in.Weeks, min(settings.WarmUp, warmUpMost)
	t, err := s.traced(ctx, f.plant, v.plan, settings, in)
	return v, t, err
}

// traced plays within the time that a caller can be kept waiting; only few
// traces are computed at once.
func (s *server) traced(ctx context.Context, facts *plant.Plant, p *planner.Plan, settings simulation.Settings, in *TraceInput) (simulation.Trace, error) {
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
