package main

import (
	"context"
	"runtime"
	"time"

	"github.com/spf13/cobra"

	"lanewright/planner"
	"lanewright/planner/simulation"
)

// simulateOptions are the options of the simulate command.
type simulateOptions struct {
	play      simulation.Settings
	use, from string
	json      bool
	trace     traceOptions
	plan      planOptions
}

func (p *program) simulateCommand() *cobra.Command {
	o := simulateOptions{play: simulation.DefaultSettings()}
	o.use = string(o.play.Use)
	cmd := &cobra.Command{
		Use:   "simulate FILE...",
		Short: "Play a plan, shift by shift, and see which loops would run short",
		Long: `simulate plans the files and plays the plan, event by event: pieces are used,
containers emptied, rounds leave by the timetable, collect the signals and bring what
their vehicle holds. A loop is proved when it runs short no more often than its service
level allows. Of those that run short the cause is named.

Pieces are used by each loop's own demand model, or with --use random or levelled by
the products that are built, in random order or spread evenly over the day.

--trace follows one part through one replication: each event with what is on hand then,
for one day or for all; --plot draws it. The same files, settings and seed play the
same, with any number of threads.`,
		Example: `  lanewright simulate plant.xlsx
  lanewright simulate plant.xlsx --weeks 20 --use levelled
  lanewright simulate plant.xlsx --trace 4711 --cell MAST --plot day.svg`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.IntVar(&o.play.Weeks, "weeks", o.play.Weeks, "weeks that count in each replication")
	flags.IntVar(&o.play.WarmUp, "warm-up", o.play.WarmUp, "weeks played before them, which do not")
	flags.IntVar(&o.play.Replications, "replications", o.play.Replications, "independent plays")
	flags.StringVar(&o.use, "use", o.use, "how pieces are used: model, random or levelled")
	flags.StringVar(&o.from, "from", "", "day on which the play begins, such as 2027-03-22 (default an ordinary Monday)")
	flags.Uint64Var(&o.plan.seed, "seed", 0, "seed of every random choice (default that of the plant's sheet)")
	flags.IntVar(&o.plan.threads, "threads", runtime.GOMAXPROCS(0), "threads that plan and play; they change the time, never the result")
	flags.StringArrayVar(&o.plan.set, "set", nil, "change a setting, as key=value; settings are those the plan document shows")
	flags.BoolVar(&o.json, "json", false, "print JSON instead of tables")
	o.trace.flags(flags)
	fromEnvironment(flags, "seed", "threads")
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
		o.plan.seeded = flags.Changed("seed")
		return p.simulate(ctx, args, o)
	})
	return cmd
}

// settle checks the options and puts those given as text into the play's
// settings.
func (o *simulateOptions) settle(inputs []string) error {
	o.plan.out = o.trace.plot
	if err := o.plan.check(inputs); err != nil {
		return err
	}
	switch o.play.Use = simulation.Use(o.use); o.play.Use {
	case simulation.UseModel, simulation.UseRandom, simulation.UseLevelled:
	default:
		return usagef("--use is %q; it must be model, random or levelled", o.use)
	}
	switch {
	case o.play.Weeks < 1 || o.play.Weeks > 1000:
		return usagef("--weeks is %d; it must be 1 to 1000", o.play.Weeks)
	case o.play.WarmUp < 0 || o.play.WarmUp > 1000:
		return usagef("--warm-up is %d; it must be 0 to 1000", o.play.WarmUp)
	case o.play.Replications < 1 || o.play.Replications > 10_000:
		return usagef("--replications is %d; it must be 1 to 10000", o.play.Replications)
	}
	if o.from != "" {
		day, err := time.Parse(time.DateOnly, o.from)
		if err != nil {
			return usagef("--from is %q; a day is written 2027-03-22", o.from)
		}
		o.play.From = day
	}
	return o.trace.settle(o.play.Replications, o.json)
}

func (p *program) simulate(ctx context.Context, names []string, o simulateOptions) error {
	if err := o.settle(names); err != nil {
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
	if o.trace.part != "" {
		err = p.traceLoop(ctx, input.Plant, made, o)
	} else {
		err = p.playAll(ctx, input, made, o)
	}
	if err != nil {
		return stopped(ctx, err)
	}
	return p.leftOut(input)
}

func (p *program) playAll(ctx context.Context, in planner.Input, made *planner.Plan, o simulateOptions) error {
	progress, clear := p.progress()
	result, err := planner.Play(ctx, in.Plant, made, o.play, planner.Options{Threads: o.plan.threads, Progress: progress})
	clear()
	if err != nil {
		return err
	}
	if o.json {
		return p.writeJSON(simulationDocument(result))
	}
	writeResult(p.out, made, result)
	return nil
}

// simulationDocument is the JSON shape of a result.
func simulationDocument(r simulation.Result) any { return r }
