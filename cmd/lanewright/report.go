package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"lanewright/importers/export"
)

// reportOptions are the options of the report command.
type reportOptions struct {
	id         int64
	plant, out string
	at         place
}

func (p *program) reportCommand() *cobra.Command {
	var o reportOptions
	cmd := &cobra.Command{
		Use:   "report --plant NAME | --plan ID",
		Short: "Write the plant rack report of a stored plan",
		Long: `report writes a stored plan as a workbook: summary, racks, lanes, loops, routes and
stops, moves, findings. It takes the plan of that id, or the latest of the plant.
For a plan without a database see lanewright plan --report.`,
		Example: `  lanewright report --plant "North works" --out report.xlsx
  lanewright report --plan 17 --out plan-17.xlsx`,
		Args: noArguments,
		RunE: p.run(func(ctx context.Context, _ []string) error { return p.report(ctx, o) }),
	}
	flags := cmd.Flags()
	flags.Int64Var(&o.id, "plan", 0, "id of the plan")
	flags.StringVar(&o.plant, "plant", "", "name of the plant: its latest plan")
	flags.StringVar(&o.out, "out", "report.xlsx", "the workbook to write, - for standard output")
	fromEnvironment(flags, "plant")
	o.at.flags(flags)
	o.at.join = true
	return cmd
}

func (p *program) report(ctx context.Context, o reportOptions) error {
	if o.id < 0 || o.id == 0 && o.plant == "" {
		return usagef("report needs --plant NAME (its latest plan) or --plan ID")
	}
	s, err := p.openCurrent(ctx, o.at)
	if err != nil {
		return err
	}
	return closing(s, p.reportFrom(ctx, s, o))
}

func (p *program) reportFrom(ctx context.Context, s *store, o reportOptions) error {
	if o.id == 0 {
		found, err := s.Plant(ctx, o.plant)
		if err != nil {
			return missing(err, "plant %q in the database", o.plant)
		}
		if found.LatestPlan == 0 {
			return usagef("there is no plan of %q yet: lanewright import FILE --plant %q --plan makes one", o.plant, o.plant)
		}
		o.id = found.LatestPlan
	}
	if err := p.reportPlan(ctx, s, o.id, o.out); err != nil {
		return missing(err, "plan %d in the database", o.id)
	}
	if o.out != "-" {
		fmt.Fprintf(p.out, "wrote %s\n", o.out)
	}
	return nil
}

// reportPlan writes the report of a stored plan. It bears the time at which
// the plan was made, so that the same plan gives the same report.
func (p *program) reportPlan(ctx context.Context, s *store, id int64, out string) error {
	header, err := s.Plan(ctx, id)
	if err != nil {
		return err
	}
	made, err := s.LoadPlan(ctx, id)
	if err != nil {
		return err
	}
	facts, _, _, err := s.LoadPlant(ctx, header.Plant, header.Revision)
	if err != nil {
		return err
	}
	return p.writeFile(out, func(w io.Writer) error { return export.Report(w, facts, made, header.Created) })
}
