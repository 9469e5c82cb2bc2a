package api

import (
	"context"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/costing"
)

type compareInput struct {
	PlanInput
	Other int64 `path:"other" minimum:"1" doc:"id of the plan that it is compared with: the one after"`
}

// compared is what differs between two plans, and its entity tag.
type compared struct {
	tag  string
	body wire.Comparison
}

// comparePlans says what differs between two plans, of whatever revisions.
func (s *server) comparePlans(ctx context.Context, in *compareInput) (*output[wire.Comparison], error) {
	c, err := s.compared.get(ctx, [2]int64{in.Plan, in.Other}, s.compare)
	if err != nil {
		return nil, err
	}
	return tagged(c.tag, c.body), nil
}

func (s *server) compare(ctx context.Context, plans [2]int64) (*compared, error) {
	var views [2]*view
	var costs [2]*costing.Cost
	for i, id := range plans {
		v, err := s.planOf(ctx, id)
		if err != nil {
			return nil, err
		}
		if costs[i], err = v.cost(); err != nil {
			return nil, err
		}
		views[i] = v
	}
	c := planner.Compare(views[0].plan, views[1].plan, costs)
	return &compared{hashed([]byte(views[0].tag + views[1].tag)), wire.NewComparison(views[0].plan, views[1].plan, plans, c)}, nil
}
