package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// explainRounds plans the files and tells about one route or one rack.
func (p *program) explainRounds(ctx context.Context, names []string, o explainOptions) error {
	switch {
	case o.route != "" && o.rack != "" || o.part != "":
		return usagef("--part, --route and --rack exclude each other")
	case len(names) == 0:
		return usagef("--route and --rack need the FILE that the plan is made from")
	}
	if err := files(nil, names); err != nil {
		return err
	}
	return p.fromPlan(ctx, names, o.plan, func(input planner.Input, made *planner.Plan) error {
		told, err := o.told(input.Plant, made)
		if err != nil {
			return err
		}
		return p.show(o.json, func() any { return wire.NewTold(told) }, func(w io.Writer) {
			fmt.Fprintln(w, told.Title)
			writeSections(w, told.Sections)
		})
	})
}

// told is what the plan tells about the rack or the route that is meant.
func (o explainOptions) told(facts *plant.Plant, made *planner.Plan) (planner.Told, error) {
	if o.rack != "" {
		rack, err := rackNamed(made, o.rack)
		if err != nil {
			return planner.Told{}, err
		}
		told, _ := planner.NewReasons(facts, made).Rack(rack)
		return told, nil
	}
	told, ok := planner.NewReasons(facts, made).Route(strings.ToUpper(o.route))
	if !ok {
		return told, usagef("the plan has no route %q; it has %s", o.route, routesText(made))
	}
	return told, nil
}

// routesText names the routes of a plan.
func routesText(made *planner.Plan) string {
	var names []string
	for _, r := range made.Routes {
		names = append(names, r.Route)
	}
	if len(names) == 0 {
		return "none"
	}
	return some(names, 8)
}
