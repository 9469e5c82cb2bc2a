package api

import (
	"context"
	"fmt"
	"strconv"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/costing"
)

// listPlantDrafts lists the drafts of all plans of a plant.
func (s *server) listPlantDrafts(ctx context.Context, in *plantPage) (*output[wire.Page[wire.DraftSummary]], error) {
	before, err := in.fromNumber()
	if err != nil {
		return nil, err
	}
	list, err := s.store.PlantDrafts(ctx, in.Plant, before, in.Limit+1)
	if err != nil {
		return nil, err
	}
	return current(paged(list, in.Limit, wire.NewDraftSummary, func(d archive.Draft) string { return strconv.FormatInt(d.ID, 10) })), nil
}

// listDraftEdits tells what each edit of a draft did.
func (s *server) listDraftEdits(ctx context.Context, in *DraftInput) (*output[wire.DraftEdits], error) {
	d, err := s.store.Draft(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	v, err := s.planOf(ctx, d.Plan)
	if err != nil {
		return nil, err
	}
	desk, err := v.desk()
	if err != nil {
		return nil, err
	}
	return tagged(hashed(fmt.Append(nil, "edits", v.tag, d.ID, d.Version)), wire.NewDraftEdits(d, desk.Story(d.Edits()))), nil
}

// draftPlan is the plan that a draft makes as it stands, with what it costs.
type draftPlan struct {
	draft archive.Draft
	view  *view
	plan  *planner.Plan
	cost  *costing.Cost
}

// planOfDraft makes the plan of a draft; it is kept while the draft stays as it is.
func (s *server) planOfDraft(ctx context.Context, id int64) (*draftPlan, error) {
	d, v, laid, err := s.laidOf(ctx, id)
	if err != nil {
		return nil, err
	}
	return s.drafted.get(ctx, laidKey{d.ID, d.Version}, func(ctx context.Context, _ laidKey) (*draftPlan, error) {
		f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
		if err != nil {
			return nil, err
		}
		p := laid.Plan()
		cost := planner.Cost(f.plant, p)
		return &draftPlan{d, v, p, &cost}, nil
	})
}

// compareDraft says what differs between a stored plan and the one that a draft makes.
func (s *server) compareDraft(ctx context.Context, in *OntoInput) (*output[wire.Comparison], error) {
	made, err := s.planOfDraft(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	other, err := s.planOf(ctx, in.Other)
	if err != nil {
		return nil, err
	}
	cost, err := other.cost()
	if err != nil {
		return nil, err
	}
	c := planner.Compare(other.plan, made.plan, [2]*costing.Cost{cost, made.cost})
	tag := hashed(fmt.Append(nil, "compare", other.tag, made.view.tag, in.Draft, made.draft.Version))
	return tagged(tag, wire.NewComparison(other.plan, made.plan, [2]int64{in.Other, 0}, c)), nil
}

// MovesSince says what a move list begins with.
type MovesSince struct {
	Since int64 `query:"since" minimum:"0" doc:"id of the plan that the floor works to before; 0 or left out is today's layout as the facts have it"`
}

type draftMovesInput struct {
	DraftInput
	MovesSince
}

// draftMoves lists what must be carried to come to what a draft makes.
func (s *server) draftMoves(ctx context.Context, in *draftMovesInput) (*output[wire.MoveList], error) {
	made, err := s.planOfDraft(ctx, in.Draft)
	if err != nil {
		return nil, err
	}
	tag := fmt.Append(nil, "moves", made.view.tag, in.Draft, made.draft.Version)
	return s.movesFrom(ctx, in.Since, made.view, made.plan, tag)
}

type planMovesInput struct {
	PlanInput
	MovesSince
}

// planMoves lists what must be carried to come from one plan to another.
func (s *server) planMoves(ctx context.Context, in *planMovesInput) (*output[wire.MoveList], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	return s.movesFrom(ctx, in.Since, v, v.plan, fmt.Append(nil, "moves", v.tag))
}

// movesFrom lists the moves that come to a plan of the facts of a view.
func (s *server) movesFrom(ctx context.Context, since int64, v *view, p *planner.Plan, tag []byte) (*output[wire.MoveList], error) {
	var before *planner.Plan
	if since != 0 {
		was, err := s.planOf(ctx, since)
		if err != nil {
			return nil, err
		}
		before, tag = was.plan, fmt.Append(tag, was.tag)
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, err
	}
	return tagged(hashed(tag), wire.NewMoveList(since, planner.StepsFrom(f.plant, before, p))), nil
}
