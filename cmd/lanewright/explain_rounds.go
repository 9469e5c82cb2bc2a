package main

import (
	"context"
	"fmt"
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
	if err := o.plan.check(names); err != nil {
		return err
	}
	input, err := p.facts(ctx, names)
	if err != nil {
		return err
	}
	made, err := p.search(ctx, input, o.plan)
	if err != nil {
		return stopped(ctx, err)
	}
	told, ok := planner.ExplainRoute(input.Plant, made, strings.ToUpper(o.route))
	if o.rack != "" {
		told, ok = planner.ExplainRack(input.Plant, made, plant.RackCode(o.rack))
	}
	switch {
	case !ok && o.rack != "":
		return usagef("the plan has no rack %q", o.rack)
	case !ok:
		return usagef("the plan has no route %q; it has %s", o.route, routesText(made))
	case o.json:
		err = p.writeJSON(wire.NewTold(told))
	default:
		fmt.Fprintln(p.out, told.Title)
		writeSections(p.out, told.Sections)
	}
	if err != nil {
		return err
	}
	return p.leftOut(input)
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
