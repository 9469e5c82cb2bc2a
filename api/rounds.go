package api

import (
	"context"
	"time"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// explainRoute tells where the time of a route goes and why its stops are on it.
func (s *server) explainRoute(ctx context.Context, in *RouteInput) (*output[wire.Told], error) {
	v, why, err := s.reasonsOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	told, ok := why.Route(in.Route)
	if !ok {
		return nil, missing("route", in.Route)
	}
	return tagged(v.tag, *wire.NewTold(told)), nil
}

type rackOfPlan struct {
	PlanInput
	Rack string `path:"rack" maxLength:"200" doc:"code of the rack"`
}

// explainRack tells why a rack is on its route, and why its loops are on none.
func (s *server) explainRack(ctx context.Context, in *rackOfPlan) (*output[wire.Told], error) {
	v, why, err := s.reasonsOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	told, ok := why.Rack(plant.RackCode(in.Rack))
	if !ok {
		return nil, missing("rack", in.Rack)
	}
	return tagged(v.tag, *wire.NewTold(told)), nil
}

// getTake answers with what a round takes from the market.
func (s *server) getTake(ctx context.Context, in *RouteInput) (*output[wire.Take], error) {
	v, why, err := s.reasonsOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	picks, ok := why.Take(in.Route)
	if !ok {
		return nil, missing("route", in.Route)
	}
	return tagged(v.tag, *wire.NewTake(in.Route, picks)), nil
}

type roundsInput struct {
	RouteInput
	Day  string `query:"day" format:"date" required:"true" doc:"first day, such as 2026-10-19; rounds of shifts that start on it"`
	Days int    `query:"days" minimum:"1" maximum:"31" default:"1"`
}

// listRounds answers with the rounds of some days.
func (s *server) listRounds(ctx context.Context, in *roundsInput) (*output[wire.Rounds], error) {
	from, err := time.Parse(time.DateOnly, in.Day)
	if err != nil {
		return nil, missing("day", in.Day)
	}
	v, f, err := s.planAndFacts(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	rounds, ok := planner.Rounds(f.plant, v.plan, in.Route, from, in.Days)
	if !ok {
		return nil, missing("route", in.Route)
	}
	return tagged(v.tag, *wire.NewRounds(in.Route, rounds)), nil
}

// reasonsOf returns a plan and what tells of it.
func (s *server) reasonsOf(ctx context.Context, plan int64) (*view, *planner.Reasons, error) {
	v, err := s.planOf(ctx, plan)
	if err != nil {
		return nil, nil, err
	}
	why, err := v.reasons()
	return v, why, err
}

func (s *server) planAndFacts(ctx context.Context, plan int64) (*view, *facts, error) {
	v, err := s.planOf(ctx, plan)
	if err != nil {
		return nil, nil, err
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	return v, f, err
}
