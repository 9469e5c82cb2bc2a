package api

import (
	"context"

	"lanewright/api/wire"
)

// listMoveSteps answers with the move list, in the order in which it is done.
func (s *server) listMoveSteps(ctx context.Context, in *loopsInput) (*output[wire.Page[wire.MoveStep]], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	return page(v, filter(v.doc.Steps, func(m wire.MoveStep) bool { return in.meets(m.Part, m.Cell, m.Station) }), in.PageInput)
}
