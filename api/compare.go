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

// comparePlans says what differs between two plans, of whatever revisions.
func (s *server) comparePlans(ctx context.Context, in *compareInput) (*output[wire.Comparison], error) {
	var views [2]*view
	var costs [2]*costing.Cost
	for i, id := range []int64{in.Plan, in.Other} {
		v, err := s.planOf(ctx, id)
		if err != nil {
			return nil, err
		}
		f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
		if err != nil {
			return nil, err
		}
		cost := planner.Cost(f.plant, v.plan)
		views[i], costs[i] = v, &cost
	}
	c := planner.Compare(views[0].plan, views[1].plan, costs)
	return tagged(hashed([]byte(views[0].tag+views[1].tag)), wire.NewComparison(views[0].plan, views[1].plan, [2]int64{in.Plan, in.Other}, c)), nil
}
