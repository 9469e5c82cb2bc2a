package api

import (
	"context"

	"lanewright/api/wire"
)

func (s *server) listRoutes(ctx context.Context, in *PlanPage) (*output[wire.Page[wire.Route]], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	return page(v, v.doc.Routes, in.PageInput)
}

// RouteInput names a route of a plan in an address.
type RouteInput struct {
	PlanInput
	Route string `path:"route" maxLength:"200" doc:"name of the route"`
}

func (s *server) getRoute(ctx context.Context, in *RouteInput) (*output[wire.Route], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	for _, r := range v.doc.Routes {
		if r.Route == in.Route {
			return tagged(v.tag, r), nil
		}
	}
	return nil, missing("route", in.Route)
}
