package api

import (
	"context"
	"fmt"

	"lanewright/api/wire"
)

type editsInput struct {
	PlanInput
	Body EditsRequest
}

// EditsRequest asks what edits made by hand make of a plan. They are made one
// after the other; to undo one, ask without it.
type EditsRequest struct {
	Edits []wire.EditRequest `json:"edits" minItems:"1" maxItems:"1000"`
}

// tryEdits answers with what edits make of a plan; nothing is stored.
func (s *server) tryEdits(ctx context.Context, in *editsInput) (*output[wire.EditedPlan], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	edits, err := editsOf(in.Body.Edits)
	if err != nil {
		return nil, err
	}
	desk, err := v.desk()
	if err != nil {
		return nil, err
	}
	return current(*wire.NewEditedPlan(desk.After(edits).EditedPlan)), nil
}

// whyLoop answers with why a loop lies where it lies, or has no lane.
func (s *server) whyLoop(ctx context.Context, in *OneLoopInput) (*output[wire.Why], error) {
	v, why, err := s.reasonsOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	w, ok := why.Places(in.loop())
	if !ok {
		return nil, missing("loop", fmt.Sprintf("%s, %s, %s", in.Part, in.Cell, in.Station))
	}
	return tagged(v.tag, *wire.NewWhy(w, why.Speech())), nil
}
