package main

import (
	"context"
	"errors"
	"runtime"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/simulation"
)

// simulateOptions are the options of the simulate command.
type simulateOptions struct {
	json  bool
	trace traceOptions
	plan  planOptions
}

// playKeys are the options that say what is played, with the setting that each
// stands for.
var playKeys = [][2]string{
	{"weeks", "simulation_weeks"}, {"warm-up", "simulation_warm_up_weeks"}, {"replications", "simulation_replications"},
	{"use", "simulation_use"}, {"from", "simulation_from"},
}

func (p *program) simulateCommand() *cobra.Command {
	var o simulateOptions
	usual := simulation.DefaultSettings()
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
	flags.Int("weeks", usual.Weeks, "weeks that count in each replication")
	flags.Int("warm-up", usual.WarmUp, "weeks played before them, which do not")
	flags.Int("replications", usual.Replications, "independent plays")
	flags.String("use", string(usual.Use), "how pieces are used: model, random or levelled")
	flags.String("from", "", "day on which the play begins, such as 2027-03-22 (default an ordinary Monday)")
	flags.Uint64Var(&o.plan.seed, "seed", 0, "seed of every random choice (default that of the plant's sheet)")
	flags.IntVar(&o.plan.threads, "threads", runtime.GOMAXPROCS(0), "threads that plan and play; they change the time, never the result")
	flags.StringArrayVar(&o.plan.set, "set", nil, "change a setting, as key=value; settings are those the plan document shows")
	flags.BoolVar(&o.json, "json", false, "print JSON instead of tables")
	o.trace.flags(flags)
	fromEnvironment(flags, "seed", "threads")
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
		o.plan.seeded = flags.Changed("seed")
		for _, k := range playKeys {
			if f := flags.Lookup(k[0]); f.Changed {
				if err := planner.SetPlay(&simulation.Settings{}, k[1], f.Value.String()); err != nil {
					return usagef("--%s: %w", k[0], err)
				}
				o.plan.set = append(o.plan.set, k[1]+"="+f.Value.String())
			}
		}
		return p.simulate(ctx, args, o)
	})
	return cmd
}

func (p *program) simulate(ctx context.Context, names []string, o simulateOptions) error {
	o.plan.out = o.trace.plot
	if err := o.plan.check(names); err != nil {
		return err
	}
	if err := o.trace.check(); err != nil {
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
	result, err := planner.Play(ctx, in.Plant, made, made.Settings.Simulation, planner.Options{Threads: o.plan.threads, Progress: progress})
	clear()
	if errors.Is(err, simulation.ErrTooMuch) {
		return usagef("%w", err)
	}
	if err != nil {
		return err
	}
	if o.json {
		return p.writeJSON(wire.NewPlayed(made, result))
	}
	writeResult(p.out, made, result)
	return nil
}
