package main

import (
	"context"
	"errors"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/api/drawing"
)

func (p *program) routeSheetsCommand() *cobra.Command {
	var o sourceOptions
	var out string
	var routes []string
	cmd := &cobra.Command{
		Use:   "route-sheets FILE... | --plant NAME | --plan ID",
		Short: "Print rounds on paper, for handlers without a phone",
		Long: `route-sheets writes the rounds of routes on paper, a sheet for each shift and eight of
its departures: what to take from the market in picking order, then stop by stop which
lane gets what, how many are usual, empties, a box for each round and a column for what
came short or was skipped.`,
		Example: `  lanewright route-sheets plant.xlsx --out routes.pdf
  lanewright route-sheets --plant "North works" --route A --route C`,
	}
	flags := cmd.Flags()
	flags.StringArrayVar(&routes, "route", nil, "only this route; may be given several times")
	flags.StringVar(&out, "out", "routes.pdf", "the document to write, - for standard output")
	o.options(cmd)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
		if err := o.check(cmd, p, args, out); err != nil {
			return err
		}
		m, err := p.find(ctx, args, o)
		if err != nil {
			return err
		}
		err = p.print(m, out, func(w io.Writer) ([]string, error) { return nil, m.RouteSheets(w, routes...) })
		if errors.Is(err, drawing.ErrNoRoute) {
			return usagef("%w: it has %s", drawing.ErrNoRoute, routeNames(m))
		}
		return err
	})
	return cmd
}

func routeNames(m source) string {
	var names []string
	for _, r := range m.Plan.Routes {
		names = append(names, r.Route)
	}
	if len(names) == 0 {
		return "no route at all"
	}
	return strings.Join(names, ", ")
}
