package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/api/plot"
	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/plant"
	"lanewright/planner/units"
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
	flags.BoolVar(&o.json, "json", false, "print JSON instead of a table")
	flags.IntVar(&o.plan.threads, "threads", runtime.GOMAXPROCS(0), "threads that search; they change the time, never the result")
	flags.StringArrayVar(&o.plan.set, "set", nil, "change a setting, as key=value; settings are those the plan document shows")
	fromEnvironment(flags, "threads")
	cmd.RunE = p.run(func(ctx context.Context, args []string) error { return p.choices(ctx, args, o) })
	return cmd
}

func (p *program) choices(ctx context.Context, names []string, o choicesOptions) error {
	grid, err := o.grid()
	if err != nil {
		return err
	}
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
	progress, clear := p.progress()
	list, err := planner.Choices(ctx, input, settings, grid, planner.Options{Threads: o.plan.threads, Progress: progress})
	clear()
	if err != nil {
		return stopped(ctx, err)
	}
	if err := p.showChoices(input, settings, list, o); err != nil {
		return err
	}
	return p.leftOut(input)
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

func (p *program) showChoices(in planner.Input, s planner.Settings, list []planner.Choice, o choicesOptions) error {
	if o.plot != "" {
		if err := p.writeFile(o.plot, func(w io.Writer) error { return plot.Choices(w, list) }); err != nil {
			return err
		}
	}
	if o.json {
		return p.writeJSON(wire.NewChoices(in.Plant.Name, plant.Revision(in.Plant), s, list))
	}
	writeChoices(p.out, list)
	writeKept(p.out, list)
	if o.plot != "" {
		fmt.Fprintf(p.out, "wrote %s\n", o.plot)
	}
	return nil
}

// writeChoices shows a choice to a row. The service level is a column where there
// are several.
func writeChoices(w io.Writer, list []planner.Choice) {
	several := severalLevels(list)
	rows := [][]string{{"", "every", "service", "containers", "without lane", "lanes", "racks", "proposed", "frontage", "routes", "handlers", "rounds a day", "stock value", "cost a year"}}
	for _, c := range list {
		star := ""
		if c.Undominated {
			star = "*"
		}
		rows = append(rows, []string{
			star, units.Minutes(c.Interval).String() + " min", percent(c.ServiceLevel), strconv.Itoa(c.Containers), strconv.Itoa(c.Unplaced),
			strconv.Itoa(c.LanesUsed), strconv.Itoa(c.Racks), strconv.Itoa(c.RacksProposed), fmt.Sprintf("%.1f m", c.Frontage.Metres()),
			strconv.Itoa(c.Routes), strconv.Itoa(c.Handlers), fmt.Sprintf("%.0f", c.RoundsDay.Float64()), stockValue(c), yearly(c.Cost),
		})
	}
	if !several {
		for i := range rows {
			rows[i] = append(rows[i][:2:2], rows[i][3:]...)
		}
	}
	table(w, rows)
}

func severalLevels(list []planner.Choice) bool {
	for _, c := range list {
		if !c.ServiceLevel.Equal(list[0].ServiceLevel) {
			return true
		}
	}
	return false
}

func percent(share units.Ratio) string {
	return strconv.FormatFloat(share.Mul(units.Int(100)).Float64(), 'g', 6, 64) + " %"
}

func stockValue(c planner.Choice) string {
	if c.StockValue().IsZero() {
		return "unknown"
	}
	s := fmt.Sprintf("%.0f", c.StockValue().Float64())
	if c.Unvalued > 0 {
		s += " and more"
	}
	return s
}

// yearly says a total that is not all as such.
func yearly(c costing.Cost) string {
	switch {
	case !c.Partial():
		return fmt.Sprintf("%.0f", c.Total.Float64())
	case c.Total == 0:
		return "unknown"
	default:
		return fmt.Sprintf("%.0f and more", c.Total.Float64())
	}
}

// writeKept says what the choices do not touch and which prices are missing.
func writeKept(w io.Writer, list []planner.Choice) {
	fmt.Fprintln(w, "\n* no other choice is as good or better in everything that counts and better in something")
	if len(list) == 0 {
		return
	}
	first := list[0]
	if first.OwnIntervals > 0 {
		fmt.Fprintf(w, "%s the interval of the sheet's rows\n", keep(first.OwnIntervals))
	}
	if first.OwnServiceLevels > 0 && severalLevels(list) {
		fmt.Fprintf(w, "%s the service level of the sheet's rows\n", keep(first.OwnServiceLevels))
	}
	if first.Unvalued > 0 {
		fmt.Fprintf(w, "%s no unit cost for their part; the value of stock leaves them out\n", have(first.Unvalued))
	}
	for _, text := range unpriced(first.Cost) {
		fmt.Fprintln(w, text)
	}
}

func keep(n int) string {
	if n == 1 {
		return "1 loop keeps"
	}
	return fmt.Sprintf("%d loops keep", n)
}

func have(n int) string {
	if n == 1 {
		return "1 loop has"
	}
	return fmt.Sprintf("%d loops have", n)
}

// unpriced names the prices that a yearly cost lacks, a sentence to each.
func unpriced(c costing.Cost) []string {
	wanted := map[costing.Kind]string{
		costing.Handlers: "what a handler's hour costs (handler_cost_hour)",
		costing.Vehicles: "what a vehicle costs in a year (vehicle_cost_year)",
		costing.Racks:    "over how many years racks are written off (rack_life_years)",
		costing.Floor:    "what a square metre of floor costs in a year (floor_cost_m2_year)",
		costing.Stock:    "the interest on stock (stock_interest)",
	}
	var list []string
	for _, l := range c.Lines {
		switch {
		case l.Known():
		case l.Price.IsZero():
			list = append(list, fmt.Sprintf("no setting says %s; the cost leaves %s out", wanted[l.Kind], l.Kind))
		case l.Kind == costing.Racks:
			list = append(list, fmt.Sprintf("%d of %d racks are of a type without a cost; the cost leaves them out", l.Unpriced, l.Items))
		}
	}
	return list
}
