package api

import (
	"context"
	"net/http"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/plant"
)

// cutSteps bound the search for the cut list of a part while a caller waits.
const cutSteps = 50_000_000

type buildInput struct {
	PlanInput
	Cell     string   `query:"cell" maxLength:"200" doc:"only racks of this cell"`
	Rack     string   `query:"rack" maxLength:"200" doc:"only this rack"`
	Proposed bool     `query:"proposed" doc:"only racks that the plan proposes"`
	OnHand   []string `query:"on_hand,explode" maxItems:"200" doc:"bars and offcuts in the store, as PART=LENGTH,LENGTH in mm; they are cut first"`
}

// getBuild answers with what racks are built from, all together. It is computed
// while the caller waits; no more than a few are at work at once.
func (s *server) getBuild(ctx context.Context, in *buildInput) (*output[wire.Build], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	if err := v.knows(in); err != nil {
		return nil, err
	}
	var store []buildlist.Stock
	for _, text := range in.OnHand {
		bars, err := buildlist.ParseStock(text)
		if err != nil {
			return nil, problem(http.StatusUnprocessableEntity, "on_hand "+err.Error()+".")
		}
		store = append(store, bars...)
	}
	select {
	case s.tracing <- struct{}{}:
		defer func() { <-s.tracing }()
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
	b, err := s.build(ctx, v, planner.BuildScope{Rack: plant.RackCode(in.Rack), Cell: plant.CellCode(in.Cell), Proposed: in.Proposed}, store)
	if err != nil {
		return nil, err
	}
	return tagged(v.tag, b), nil
}

// knows refuses a cell or rack that the plan does not have, and a rack that is not
// among those that are asked for.
func (v *view) knows(in *buildInput) error {
	if in.Cell != "" {
		if _, err := v.cell(in.Cell); err != nil {
			return err
		}
	}
	for _, r := range v.doc.Racks {
		if in.Rack == "" || r.Rack == in.Rack && is(in.Cell, r.Cell) && (r.Proposed || !in.Proposed) {
			return nil
		}
	}
	if in.Rack == "" {
		return nil
	}
	return missing("rack", in.Rack)
}

// build lists what racks of a plan are built from.
func (s *server) build(ctx context.Context, v *view, scope planner.BuildScope, store []buildlist.Stock) (wire.Build, error) {
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return wire.Build{}, err
	}
	b, err := planner.BuildRacks(ctx, f.plant, v.plan, scope, planner.BuildOptions{Threads: 1, CutOptions: buildlist.CutOptions{OnHand: store, Steps: cutSteps}})
	if err != nil {
		return wire.Build{}, err
	}
	return wire.NewBuild(v.plan, b), nil
}
