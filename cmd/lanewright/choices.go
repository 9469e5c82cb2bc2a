package main

import (
	"context"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/api/plot"
	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// choicesOptions are the options of the choices command.
type choicesOptions struct {
	intervals, levels, plot string
	json                    bool
	plan                    planOptions
}

func (p *program) choicesCommand() *cobra.Command {
	var o choicesOptions
	cmd := &cobra.Command{
		Use:   "choices FILE...",
		Short: "Compare refill intervals: containers and racks against rounds and cost",
		Long: `choices makes a whole plan for every refill interval, and for every service level if
several are given, and compares them. A shorter interval needs fewer containers and
shallower lanes, and more rounds. Rows of the sheet that give their own interval or
service level keep it.

A star marks the choices worth a look: no other one is as good or better in everything
that counts and better in something. What counts is containers without a lane,
frontage, value of stock (or containers, where parts have no unit cost), handlers,
yearly cost where every price is known, and the service level.

The yearly cost comes from the prices of the plant's sheet. What has no price there is
left out of the sum, and the table says so.`,
		Example: `  lanewright choices plant.xlsx
  lanewright choices plant.xlsx --intervals 15,20,30,60 --plot curve.svg
  lanewright choices plant.xlsx --service-levels 99,99.5,99.9 --json`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.intervals, "intervals", "", "refill intervals in minutes, such as 15,20,30,60 (default the plant's interval choices)")
	flags.StringVar(&o.levels, "service-levels", "", "service levels in percent, such as 99,99.5 (default the plant's own)")
	flags.StringVar(&o.plot, "plot", "", "draw the curve into this file (.svg)")
	answerFlag(flags, &o.json)
	o.plan.flags(flags)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error { return p.choices(ctx, args, o) })
	return cmd
}

func (p *program) choices(ctx context.Context, names []string, o choicesOptions) error {
	grid, err := o.grid()
	if err != nil {
		return err
	}
	if err := o.plan.draws(o.plot); err != nil {
		return err
	}
	return p.fromFacts(ctx, names, o.plan, func(input planner.Input) error {
		settings, err := o.plan.settings(input.Plant)
		if err != nil {
			return err
		}
		if len(grid.ServiceLevels) > 0 && settings.Plant.Measure == plant.ServicePerYear {
			return usagef("--service-levels changes nothing: the plant counts shortages in a year (service_measure)")
		}
		progress, clear := p.progress()
		list, err := planner.Choices(ctx, input, settings, grid, planner.Options{Threads: o.plan.threads, Progress: progress})
		clear()
		if err != nil {
			return err
		}
		return p.showDrawn(o.json, o.plot, func(w io.Writer) error { return plot.Choices(w, list) },
			func() any { return wire.NewChoices(input.Plant.Name, plant.Revision(input.Plant), settings, list) },
			func(w io.Writer) {
				writeChoices(w, list)
				writeKept(w, list)
			})
	})
}

// grid reads the lists of the command line, each value as the setting does.
func (o choicesOptions) grid() (planner.Grid, error) {
	var g planner.Grid
	if err := values("--intervals", o.intervals, "refill_interval_min", func(s planner.Settings) {
		g.Intervals = append(g.Intervals, s.Plant.Interval)
	}); err != nil {
		return g, err
	}
	err := values("--service-levels", o.levels, "service_level", func(s planner.Settings) {
		g.ServiceLevels = append(g.ServiceLevels, s.Plant.ServiceLevel)
	})
	return g, err
}

// values gives take each value of a list between commas.
func values(option, list, key string, take func(planner.Settings)) error {
	if list == "" {
		return nil
	}
	for text := range strings.SplitSeq(list, ",") {
		var s planner.Settings
		if err := s.Set(key, text); err != nil {
			return usagef("%s: %w", option, err)
		}
		take(s)
	}
	return nil
}
