package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/importers/export"
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/search"
)

// planOptions are the options of the plan command.
type planOptions struct {
	out, report string
	seed        uint64
	seeded      bool
	limit       time.Duration
	threads     int
	set         []string
	prove       bool
	mapping     string
}

func (p *program) planCommand() *cobra.Command {
	var o planOptions
	cmd := &cobra.Command{
		Use:   "plan FILE...",
		Short: "Plan a plant from its files, without a database",
		Long: `plan reads a plant's files and plans it: containers per loop, lanes on racks,
racks to add, refill routes. Rows with errors are left out: the plan is one for the
rest, the errors are listed, and the exit code is 1.

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
	flags.Uint64Var(&o.seed, "seed", 0, "seed of every random choice (default that of the plant's sheet)")
	flags.DurationVar(&o.limit, "time-limit", 0, "stop searching after this time, such as 30s or 5m (default no limit)")
	flags.IntVar(&o.threads, "threads", runtime.GOMAXPROCS(0), "threads that search; they change the time, never the plan")
	flags.StringArrayVar(&o.set, "set", nil, "change a setting, as key=value; settings are those the plan document shows")
	flags.BoolVar(&o.prove, "prove", false, "play the plan too: the summary and findings then say which loops would run short")
	mappingFlag(flags, &o.mapping)
	fromEnvironment(flags, "seed", "time-limit", "threads")
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
		o.seeded = flags.Changed("seed")
		return p.plan(ctx, args, o)
	})
	return cmd
}

func (o planOptions) check(inputs []string) error {
	switch {
	case o.threads < 1:
		return usagef("--threads is %d; it must be 1 or more", o.threads)
	case o.limit < 0:
		return usagef("--time-limit is %s; it must be more than 0", o.limit)
	case o.report == "-" && o.out == "-":
		return usagef("--out and --report can't both go to standard output")
	}
	if err := o.apply(&planner.Settings{}); err != nil {
		return err
	}
	return distinct(append(inputs[:len(inputs):len(inputs)], o.mapping), o.out, o.report)
}

// apply puts --set, --seed and --prove into settings; --seed wins.
func (o planOptions) apply(s *planner.Settings) error {
	for _, text := range o.set {
		key, value, ok := strings.Cut(text, "=")
		if !ok {
			return usagef("--set %q: expected key=value", text)
		}
		if err := s.Set(strings.TrimSpace(key), value); err != nil {
			return usagef("--set %s: %w", text, err)
		}
	}
	if o.seeded {
		s.Plant.Seed = o.seed
	}
	s.Prove = s.Prove || o.prove
	return nil
}

func (p *program) plan(ctx context.Context, names []string, o planOptions) error {
	if err := o.check(names); err != nil {
		return err
	}
	input, err := p.factsBy(ctx, names, o.mapping)
	if err != nil {
		return err
	}
	made, err := p.search(ctx, input, o)
	if err != nil {
		return stopped(ctx, err)
	}
	if err := p.writePlan(input.Plant, made, o); err != nil {
		return err
	}
	return p.judge(input.Findings, made, o)
}

// search runs the planner under the time limit, with a bar.
func (p *program) search(ctx context.Context, input planner.Input, o planOptions) (*planner.Plan, error) {
	settings := planner.DefaultSettings(input.Plant)
	if err := o.apply(&settings); err != nil {
		return nil, err
	}
	if o.limit > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, o.limit)
		defer cancel()
	}
	progress, clear := p.progress()
	defer clear()
	return planner.Run(ctx, input, settings, planner.Options{Threads: o.threads, Progress: progress})
}

func (p *program) writePlan(facts *plant.Plant, made *planner.Plan, o planOptions) error {
	if o.out != "" {
		if err := p.writeFile(o.out, func(w io.Writer) error { return wire.WritePlan(w, made) }); err != nil {
			return err
		}
	}
	if o.report != "" {
		if err := p.writeFile(o.report, func(w io.Writer) error { return export.Report(w, facts, made, time.Now()) }); err != nil {
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
	if found.HasErrors() {
		p.say("the input has %s; the plan is one for the rest", plural(found.Count(finding.Error), "error"))
	}
	if made.Stopped == search.Cancelled {
		p.say("the time limit of %s cut the search short: the plan is the best so far", o.limit)
	}
	if found.HasErrors() {
		return errInput
	}
	return nil
}

// stopped says that the work was cut short by hand where it was.
func stopped(ctx context.Context, err error) error {
	if ctx.Err() != nil && errors.Is(err, context.Canceled) {
		return &exit{exitWorld, errors.New("stopped by hand; nothing was written")}
	}
	return err
}
