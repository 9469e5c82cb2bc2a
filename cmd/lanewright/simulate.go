package main

import (
	"context"
	"errors"
	"io"

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
	answerFlag(flags, &o.json)
	o.trace.flags(flags)
	o.plan.flags(flags)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
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
	if err := o.trace.check(); err != nil {
		return err
	}
	if err := o.plan.draws(o.trace.plot); err != nil {
		return err
	}
	return p.fromPlan(ctx, names, o.plan, func(input planner.Input, made *planner.Plan) error {
		if o.trace.part != "" {
			return p.traceLoop(ctx, input.Plant, made, o)
		}
		return p.playAll(ctx, input, made, o)
	})
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
	return p.show(o.json, func() any { return wire.NewPlayed(made, result) }, func(w io.Writer) { writeResult(w, made, result) })
}
