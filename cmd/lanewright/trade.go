package main

import (
	"context"
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"lanewright/api/plot"
	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// tradeOptions are the options of the trade command.
type tradeOptions struct {
	cell, plot string
	json       bool
	plan       planOptions
}

func (p *program) tradeCommand() *cobra.Command {
	var o tradeOptions
	cmd := &cobra.Command{
		Use:   "trade FILE...",
		Short: "Compare fill limits: frontage and cost of racks against effort",
		Long: `trade places a plant, or one of its cells, at fill limits of 100, 95, 90, 85 and 80 %.
Racks filled to the last millimetre are few and cost the people who work on them more
lifting and walking; with room left there are more racks and less effort. A plan asks
for the cheapest racks first; to pay for less effort, set the fill limit that suits, or
a price.

A star marks what no other limit beats in everything that counts: containers without a
lane, frontage, cost of the racks to add where all are known, and effort. With a price
per metre of frontage, in kg an hour of effort (frontage_price), the best fill limit is
marked and the last row is the plan at that price, in which each cell chooses for itself.`,
		Example: `  lanewright trade plant.xlsx
  lanewright trade plant.xlsx --cell LENS --set frontage_price=8 --plot curve.svg`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.cell, "cell", "", "the cell (default the whole plant)")
	flags.StringVar(&o.plot, "plot", "", "draw frontage against effort into this file (.svg)")
	answerFlag(flags, &o.json)
	o.plan.flags(flags)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error { return p.trade(ctx, args, o) })
	return cmd
}

func (p *program) trade(ctx context.Context, names []string, o tradeOptions) error {
	if err := o.plan.draws(o.plot); err != nil {
		return err
	}
	return p.fromFacts(ctx, names, o.plan, func(input planner.Input) error {
		settings, err := o.plan.settings(input.Plant)
		if err != nil {
			return err
		}
		var cell plant.CellCode
		if o.cell != "" {
			if cell, err = cellNamed(input.Plant, o.cell); err != nil {
				return err
			}
		}
		progress, clear := p.progress()
		list, err := planner.Trade(ctx, input, settings, cell, planner.Options{Threads: o.plan.threads, Progress: progress})
		clear()
		if err != nil {
			return err
		}
		return p.showDrawn(o.json, o.plot, func(w io.Writer) error { return plot.Trade(w, string(cell), list) },
			func() any {
				return wire.NewTrade(input.Plant.Name, plant.Revision(input.Plant), string(cell), settings, list)
			},
			func(w io.Writer) { writeTrade(w, list, settings.Placement.FrontagePrice) })
	})
}

func writeTrade(w io.Writer, list []planner.TradeOff, price float64) {
	rows := [][]string{{"", "filled to", "without lane", "racks", "proposed", "frontage", "cost of these", "effort", ""}}
	for _, t := range list {
		star, best, cost, limit := "", "", "unknown", percent(t.FillLimit)
		if t.Undominated {
			star = "*"
		}
		if t.Priced {
			limit, best = "plan", fmt.Sprintf("the plan at %g kg/h a metre", price)
		}
		if t.Best {
			best = fmt.Sprintf("best limit at %g kg/h a metre", price)
		}
		if t.AddedKnown {
			cost = fmt.Sprintf("%.0f", t.Added.Float64())
		}
		rows = append(rows, []string{
			star, limit, strconv.Itoa(t.Unplaced), strconv.Itoa(t.Racks), strconv.Itoa(t.RacksProposed),
			fmt.Sprintf("%.1f m", t.Frontage.Metres()), cost, fmt.Sprintf("%.1f kg/h", t.Effort), best,
		})
	}
	table(w, rows)
	fmt.Fprintln(w, "\n* no other row is as good or better in everything that counts and better in something")
}
