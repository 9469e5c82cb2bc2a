package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
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
	flags.BoolVar(&o.json, "json", false, "print JSON instead of a table")
	flags.IntVar(&o.plan.threads, "threads", runtime.GOMAXPROCS(0), "threads that search; they change the time, never the result")
	flags.StringArrayVar(&o.plan.set, "set", nil, "change a setting, as key=value; settings are those the plan document shows")
	fromEnvironment(flags, "threads")
	cmd.RunE = p.run(func(ctx context.Context, args []string) error { return p.trade(ctx, args, o) })
	return cmd
}

func (p *program) trade(ctx context.Context, names []string, o tradeOptions) error {
	o.plan.out = o.plot
	if err := o.plan.check(names); err != nil {
		return err
	}
	if o.plot == "-" {
		return usagef("--plot needs a file: standard output has the table")
	}
	input, err := p.facts(ctx, names)
	if err != nil {
		return err
	}
	settings := planner.DefaultSettings(input.Plant)
	if err := o.plan.apply(&settings); err != nil {
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
		return stopped(ctx, err)
	}
	if err := p.showTrade(input, settings, cell, list, o); err != nil {
		return err
	}
	return p.leftOut(input)
}

func (p *program) showTrade(in planner.Input, s planner.Settings, cell plant.CellCode, list []planner.TradeOff, o tradeOptions) error {
	if o.plot != "" {
		if err := p.writeFile(o.plot, func(w io.Writer) error { return plot.Trade(w, string(cell), list) }); err != nil {
			return err
		}
	}
	if o.json {
		return p.writeJSON(wire.NewTrade(in.Plant.Name, plant.Revision(in.Plant), string(cell), s, list))
	}
	writeTrade(p.out, list, s.Placement.FrontagePrice)
	if o.plot != "" {
		fmt.Fprintf(p.out, "wrote %s\n", o.plot)
	}
	return nil
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
