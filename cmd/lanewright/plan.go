package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/importers/export"
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/search"
)

// planFiles are the options of the plan command.
type planFiles struct {
	out, report string
	plan        planOptions
}

func (p *program) planCommand() *cobra.Command {
	var o planFiles
	cmd := &cobra.Command{
		Use:   "plan FILE...",
		Short: "Plan a plant from its files, without a database",
		Long: `plan reads a plant's files and plans it: containers per loop, lanes on racks,
racks to add, refill routes. Rows with errors are left out: the plan is one for the
rest, the errors are listed, and the exit code is 1 (0 with --leave-out).

The same files, settings and seed give the same plan, byte for byte, with any number
of threads. A time limit cuts the search short: the best plan so far is written, and
says so. Ctrl-C stops with nothing written and exit code 3.`,
		Example: `  lanewright plan plant.xlsx                                   a summary to read
  lanewright plan plant.xlsx --out plan.json --report report.xlsx
  lanewright plan plant.xlsx --prove                           is it proved by play?
  lanewright plan parts.csv --set refill_interval_min=30 --set service_level=99
  lanewright plan plant.xlsx --out - | jq .summary`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.out, "out", "", "write the plan document (JSON) to this file, - for standard output")
	flags.StringVar(&o.report, "report", "", "write the plant rack report (.xlsx) to this file")
	flags.DurationVar(&o.plan.limit, "time-limit", 0, "stop searching after this time, such as 30s or 5m (default no limit)")
	flags.BoolVar(&o.plan.prove, "prove", false, "play the plan too: the summary and findings then say which loops would run short")
	o.plan.flags(flags)
	fromEnvironment(flags, "time-limit")
	cmd.RunE = p.run(func(ctx context.Context, args []string) error { return p.plan(ctx, args, o) })
	return cmd
}

func (p *program) plan(ctx context.Context, names []string, o planFiles) error {
	if o.report == "-" && o.out == "-" {
		return usagef("--out and --report can't both go to standard output")
	}
	o.plan.outputs = []string{o.out, o.report}
	input, err := p.facts(ctx, names, o.plan)
	if err != nil {
		return err
	}
	made, err := p.search(ctx, input, o.plan)
	if err != nil {
		return stopped(ctx, err)
	}
	if err := p.writePlan(ctx, input.Plant, made, o); err != nil {
		return err
	}
	return p.judge(input.Findings, made, o.plan)
}

func (p *program) writePlan(ctx context.Context, facts *plant.Plant, made *planner.Plan, o planFiles) error {
	if o.out != "" {
		b, err := planner.BuildProposed(ctx, facts, made, o.plan.threads)
		if err != nil {
			return stopped(ctx, err)
		}
		if err := p.writeFile(o.out, wire.NewPlan(made).Built(b).Write); err != nil {
			return err
		}
	}
	if o.report != "" {
		if err := p.writeFile(o.report, func(w io.Writer) error { return export.Report(w, facts, made, time.Now(), nil) }); err != nil {
			return err
		}
	}
	if o.out == "-" || o.report == "-" {
		return nil
	}
	writeSummary(p.out, made)
	for _, name := range []string{o.out, o.report} {
		if name != "" {
			fmt.Fprintf(p.out, "wrote %s\n", name)
		}
	}
	return nil
}

// judge lists the errors, those of planning too, and returns how the program
// ends: the code speaks of the input alone.
func (p *program) judge(found finding.List, made *planner.Plan, o planOptions) error {
	writeFindings(p.err, errorsOf(made.Findings))
	ends := p.leftOut(found, "plan", o)
	if made.Stopped == search.Cancelled {
		p.say("the time limit of %s cut the search short: the plan is the best so far", o.limit)
	}
	return ends
}

// stopped says that the work was cut short by hand where it was.
func stopped(ctx context.Context, err error) error {
	if ctx.Err() != nil && errors.Is(err, context.Canceled) {
		return &exit{exitWorld, errors.New("stopped by hand; nothing was written")}
	}
	return err
}
