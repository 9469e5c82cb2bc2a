package api

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/simulation"
)

// SimulationStore reads the stored plays of plans.
type SimulationStore interface {
	// Simulations lists the plays of a plan by id, its proof among them, those
	// after the given one.
	Simulations(ctx context.Context, plan, after int64, limit int) ([]archive.Simulation, error)
	Simulation(ctx context.Context, id int64) (archive.Simulation, error)
	LoadSimulation(ctx context.Context, id int64) (*simulation.Result, error)
}

// SimulationInput names a play in an address.
type SimulationInput struct {
	Simulation int64 `path:"simulation" minimum:"1" doc:"id of the simulation"`
}

// SimulationPage asks for a part of a list of a play.
type SimulationPage struct {
	SimulationInput
	PageInput
}

type playPlanInput struct {
	PlanInput
	Key  string `header:"Idempotency-Key" maxLength:"200" pattern:"^[ -~]*$" patternDescription:"printable ASCII" doc:"makes asking twice harmless: the first run is answered again"`
	Body *PlayRequest
}

// PlayRequest asks for a play of a plan; without one it is played as the plan's
// settings say.
type PlayRequest struct {
	Settings map[string]setting `json:"settings,omitempty" maxProperties:"100" doc:"settings of the simulation that differ from the plan's: simulation_weeks and its like"`
}

// playPlan queues a run that plays a plan.
func (s *server) playPlan(ctx context.Context, in *playPlanInput) (*acceptedRun, error) {
	asked := PlayRequest{}
	if in.Body != nil {
		asked = *in.Body
	}
	settings := texts(asked.Settings)
	p := simulation.DefaultSettings()
	if err := checkSettings(settings, func(key, value string) error { return planner.SetPlay(&p, key, value) }); err != nil {
		return nil, err
	}
	return s.queue(ctx, archive.NewRun{Kind: archive.SimulationRun, PlanID: in.Plan, Settings: settings, Key: in.Key})
}

// queue asks for a run and answers where it can be followed.
func (s *server) queue(ctx context.Context, n archive.NewRun) (*acceptedRun, error) {
	run, _, err := s.store.CreateRun(ctx, n)
	if errors.Is(err, archive.ErrConflict) {
		return nil, problem(http.StatusConflict, "This Idempotency-Key was used before, for something else or with other settings.")
	}
	if err != nil {
		return nil, err
	}
	return &acceptedRun{Location: "/api/v1/runs/" + run.ID, Body: wire.NewRun(run)}, nil
}

func (s *server) listSimulations(ctx context.Context, in *PlanPage) (*output[wire.Page[wire.Simulation]], error) {
	after, err := in.fromNumber()
	if err != nil {
		return nil, err
	}
	list, err := s.store.Simulations(ctx, in.Plan, after, in.Limit+1)
	if err != nil {
		return nil, err
	}
	return current(paged(list, in.Limit, wire.NewSimulation, func(x archive.Simulation) string { return strconv.FormatInt(x.ID, 10) })), nil
}

// played is a stored play in memory, as its readers need it.
type played struct {
	header   archive.Simulation
	loops    []wire.SimulatedLoop
	routes   []wire.SimulatedRoute
	racks    []wire.SimulatedRack
	findings finding.List
	// tag is the strong entity tag of everything that is told of the play.
	tag string
}

// playedOf returns a play, which never changes.
func (s *server) playedOf(ctx context.Context, id int64) (*played, error) {
	return s.plays.get(ctx, id, func(ctx context.Context, id int64) (*played, error) {
		header, err := s.store.Simulation(ctx, id)
		if err != nil {
			return nil, err
		}
		r, err := s.store.LoadSimulation(ctx, id)
		if err != nil {
			return nil, err
		}
		return &played{
			header: header, loops: wire.NewSimulatedLoops(r.Loops), routes: wire.NewSimulatedRoutes(r.Routes),
			racks: wire.NewSimulatedRacks(r.Racks), findings: r.Findings,
			tag: hashed(fmt.Append(nil, "simulation", header.ID, header.Plan, header.Seed, header.Created.UnixNano(), s.version)),
		}, nil
	})
}

func (s *server) getSimulation(ctx context.Context, in *SimulationInput) (*output[wire.Simulation], error) {
	p, err := s.playedOf(ctx, in.Simulation)
	if err != nil {
		return nil, err
	}
	return tagged(p.tag, wire.NewSimulation(p.header)), nil
}

type simulatedLoopsInput struct {
	SimulationPage
	LoopFilter
	Verdict string `query:"verdict" enum:"proved,short,not-played" doc:"only loops with this verdict"`
}

func (s *server) simulatedLoops(ctx context.Context, in *simulatedLoopsInput) (*output[wire.Page[wire.SimulatedLoop]], error) {
	p, err := s.playedOf(ctx, in.Simulation)
	if err != nil {
		return nil, err
	}
	return pageOf(p.tag, filter(p.loops, func(l wire.SimulatedLoop) bool {
		return in.meets(l.Part, l.Cell, l.Station) && is(in.Verdict, l.Verdict)
	}), in.PageInput)
}

func (s *server) simulatedRoutes(ctx context.Context, in *SimulationPage) (*output[wire.Page[wire.SimulatedRoute]], error) {
	p, err := s.playedOf(ctx, in.Simulation)
	if err != nil {
		return nil, err
	}
	return pageOf(p.tag, p.routes, in.PageInput)
}

func (s *server) simulatedRacks(ctx context.Context, in *SimulationPage) (*output[wire.Page[wire.SimulatedRack]], error) {
	p, err := s.playedOf(ctx, in.Simulation)
	if err != nil {
		return nil, err
	}
	return pageOf(p.tag, p.racks, in.PageInput)
}

type simulationFindingsInput struct {
	SimulationPage
	FindingFilter
}

func (s *server) simulationFindings(ctx context.Context, in *simulationFindingsInput) (*output[findingPage], error) {
	p, err := s.playedOf(ctx, in.Simulation)
	if err != nil {
		return nil, err
	}
	v, err := s.planOf(ctx, p.header.Plan)
	if err != nil {
		return nil, err
	}
	page, err := in.page(p.findings, v.home, in.PageInput)
	if err != nil {
		return nil, err
	}
	return tagged(p.tag, page), nil
}
