package api

import (
	"context"

	"lanewright/api/wire"
)

// getMap answers with a plan laid over the plant's floor.
func (s *server) getMap(ctx context.Context, in *PlanInput) (*output[wire.Map], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	m, err := v.floor()
	if err != nil {
		return nil, err
	}
	return tagged(v.tag, *m), nil
}
