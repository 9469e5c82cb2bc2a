package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/costing"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
)

// compareOptions are the options of the compare command.
type compareOptions struct {
	at   place
	json bool
	all  bool
}

func (p *program) compareCommand() *cobra.Command {
	var o compareOptions
	cmd := &cobra.Command{
		Use:   "compare A B",
		Short: "Say what differs between two plans",
		Long: `compare puts two plans side by side: what they come to first, then what differs cell by
cell, rack by rack, loop by loop and route by route. A and B are plan documents as
plan --out writes them, or ids of plans in the database. They may be of different
revisions of the plant. Routes are paired by the racks that both stop at, for their
names mean nothing from plan to plan. What a plan costs is known of stored plans only.`,
		Example: `  lanewright compare before.json after.json
  lanewright compare 17 18 --json
  lanewright compare before.json 18 --all`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return usagef("compare needs two plans, A and B: plan documents or ids of stored plans")
			}
			return nil
		},
		RunE: p.run(func(ctx context.Context, args []string) error { return p.compare(ctx, args, o) }),
	}
	flags := cmd.Flags()
	flags.BoolVar(&o.json, "json", false, "print JSON instead of tables")
	flags.BoolVar(&o.all, "all", false, "list everything that differs instead of the first few")
	o.at.flags(flags)
	o.at.join = true
	return cmd
}

// compared is one of the plans that are compared.
type compared struct {
	name string
	id   int64
	plan *planner.Plan
	cost *costing.Cost
}

func (p *program) compare(ctx context.Context, names []string, o compareOptions) error {
	two, err := p.plansNamed(ctx, names, o.at)
	if err != nil {
		return err
	}
	c := planner.Compare(two[0].plan, two[1].plan, [2]*costing.Cost{two[0].cost, two[1].cost})
	if o.json {
		return p.writeJSON(wire.NewComparison(two[0].plan, two[1].plan, [2]int64{two[0].id, two[1].id}, c))
	}
	writeComparison(p.out, [2]compared(two), c, o.all)
	return nil
}

// plansNamed reads plans: each name is that of a plan document or the id of a stored plan.
func (p *program) plansNamed(ctx context.Context, names []string, at place) (list []compared, err error) {
	var s *store
	defer func() {
		if s != nil {
			err = closing(s, err)
		}
	}()
	for _, name := range names {
		c := compared{name: name}
		id, notANumber := strconv.ParseInt(name, 10, 64)
		if _, noFile := os.Stat(name); notANumber != nil || noFile == nil {
			if err := p.readPlan(&c); err != nil {
				return nil, err
			}
			list = append(list, c)
			continue
		}
		if s == nil {
			if s, err = p.openCurrent(ctx, at); err != nil {
				return nil, err
			}
		}
		c.id = id
		if err := c.load(ctx, s); err != nil {
			return nil, missing(err, "plan %d in the database", id)
		}
		list = append(list, c)
	}
	return list, nil
}

// readPlan reads a plan document.
func (p *program) readPlan(c *compared) error {
	f, err := os.Open(c.name)
	if err != nil {
		return fmt.Errorf("read a plan: %w", err)
	}
	defer f.Close()
	if c.plan, err = wire.ReadPlan(f); err != nil {
		return usagef("%s: %w", c.name, err)
	}
	return nil
}

// load loads a stored plan and prices it.
func (c *compared) load(ctx context.Context, s *store) error {
	header, err := s.Plan(ctx, c.id)
	if err != nil {
		return err
	}
	if c.plan, err = s.LoadPlan(ctx, c.id); err != nil {
		return err
	}
	facts, _, _, err := s.LoadPlant(ctx, header.Plant, header.Revision)
	if err != nil {
		return err
	}
	cost := planner.Cost(facts, c.plan)
	c.cost = &cost
	return nil
}

// mostDifferences is how many rows of a table are shown unless all are asked for.
const mostDifferences = 20

func writeComparison(w io.Writer, two [2]compared, c planner.Comparison, all bool) {
	for i, title := range []string{"A", "B"} {
		t := two[i]
		fmt.Fprintf(w, "%s  %s: %s, facts %.12s, seed %d\n", title, t.name, t.plan.Plant, t.plan.Revision, t.plan.Settings.Plant.Seed)
	}
	fmt.Fprintln(w)
	rows := [][]string{{"", "A", "B", "difference"}}
	for _, t := range c.Totals {
		if t.Name == "cost" && !t.Known && t.Before == 0 && t.After == 0 {
			rows = append(rows, []string{"cost a year", "unknown", "unknown", ""})
			continue
		}
		name := strings.TrimSpace(t.Name + " " + map[bool]string{true: t.Unit}[t.Name == "cost"])
		if !t.Known {
			name += " (prices are missing)"
		}
		rows = append(rows, []string{name, totalText(t, t.Before), totalText(t, t.After), difference(t)})
	}
	table(w, rows)
	if len(c.Loops)+len(c.Racks)+len(c.Cells)+len(c.Routes) == 0 {
		fmt.Fprintln(w, "\nNothing differs: the same loops lie in the same lanes and the rounds are the same.")
		return
	}
	fmt.Fprintf(w, "\nTo go from A to B on the floor: %s changed, %s, %s, %s to be carried.\n",
		plural(c.Floor.Racks, "rack"), plural(c.Floor.Lanes, "lane"), plural(c.Floor.Loops, "loop"), plural(c.Floor.Containers, "container"))
	section(w, "Cells that differ", cellRows(c.Cells), all)
	section(w, "Racks that differ", rackRows(c.Racks), all)
	section(w, "Loops that differ", loopRows(c.Loops), all)
	section(w, "Routes that differ", routeRows(c.Routes), all)
}

// section shows a table under its title, where it has any rows.
func section(w io.Writer, title string, rows [][]string, all bool) {
	n := len(rows) - 1
	if n == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s: %d\n", title, n)
	if n > mostDifferences && !all {
		rows = rows[:mostDifferences+1]
	}
	table(w, rows)
	if more := n - (len(rows) - 1); more > 0 {
		fmt.Fprintf(w, "and %d more; --all shows them\n", more)
	}
}

func totalText(t planner.Total, v float64) string {
	switch t.Unit {
	case "":
		return strconv.FormatFloat(v, 'f', 0, 64)
	case "a year":
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'f', 1, 64) + " " + t.Unit
}

func difference(t planner.Total) string {
	d := t.After - t.Before
	if text := totalText(t, d); d > 0 {
		return "+" + text
	} else if d < 0 {
		return text
	}
	return ""
}

// beside shows a value of both plans, once where they are the same.
func beside(a, b string) string {
	if a == b {
		return a
	}
	return a + " -> " + b
}

func counts(a, b int) string { return beside(strconv.Itoa(a), strconv.Itoa(b)) }

func cellRows(list []planner.CellDifference) [][]string {
	rows := [][]string{{"cell", "containers", "without lane", "lanes used", "lanes free", "racks", "proposed", "effort kg/h"}}
	for _, d := range list {
		a, b := d.Before, d.After
		rows = append(rows, []string{
			string(d.Cell), counts(a.Containers, b.Containers), counts(a.Unplaced, b.Unplaced), counts(a.LanesUsed, b.LanesUsed), counts(a.LanesFree, b.LanesFree),
			counts(a.Racks, b.Racks), counts(a.Proposed, b.Proposed), beside(fmt.Sprintf("%.1f", a.Effort), fmt.Sprintf("%.1f", b.Effort)),
		})
	}
	return rows
}

func rackRows(list []planner.RackDifference) [][]string {
	rows := [][]string{{"rack", "cell", "", "lanes used", "lanes changed"}}
	for _, d := range list {
		what := ""
		switch {
		case d.Before == nil:
			what = "new"
		case d.After == nil:
			what = "gone"
		case d.Before.Type.RackType != d.After.Type.RackType:
			what = "type " + beside(string(d.Before.Type.RackType), string(d.After.Type.RackType))
		}
		rows = append(rows, []string{string(d.Rack), string(d.Cell), what, counts(d.Used[0], d.Used[1]), strconv.Itoa(d.Changed)})
	}
	return rows
}

func loopRows(list []planner.LoopDifference) [][]string {
	rows := [][]string{{"part", "cell", "station", "container", "containers", "every", "lies on", "carried"}}
	for _, d := range list {
		row := []string{string(d.Loop.Part), string(d.Loop.Cell), string(d.Loop.Station)}
		one := func(l *planner.Loop) [3]string {
			if l == nil {
				return [3]string{"-", "-", "-"}
			}
			return [3]string{string(l.Container), strconv.Itoa(l.Containers), fmt.Sprintf("%g min", l.Interval.Minutes())}
		}
		a, b := one(d.Before), one(d.After)
		for i := range a {
			row = append(row, beside(a[i], b[i]))
		}
		rows = append(rows, append(row, beside(lies(d, 0), lies(d, 1)), strconv.Itoa(d.Carried)))
	}
	return rows
}

// lies names the levels of a loop and its lanes there.
func lies(d planner.LoopDifference, side int) string {
	var at []string
	lanes := d.Lanes[side]
	for i := 0; i < len(lanes); {
		first, last := i, i
		for i++; i < len(lanes) && lanes[i].Rack == lanes[first].Rack && lanes[i].Level == lanes[first].Level; i++ {
			last = i
		}
		text := fmt.Sprintf("%s/%d/%d", lanes[first].Rack, lanes[first].Level, lanes[first].Lane)
		if last > first {
			text += fmt.Sprintf("-%d", lanes[last].Lane)
		}
		at = append(at, text)
	}
	if len(at) == 0 {
		return "-"
	}
	return strings.Join(at, ", ")
}

func routeRows(list []planner.RouteDifference) [][]string {
	rows := [][]string{{"route", "handler", "every", "round", "way", "planned load", "racks that came", "racks that went"}}
	for _, d := range list {
		one := func(r *routing.Route) [6]string {
			if r == nil {
				return [6]string{"-", "-", "-", "-", "-", "-"}
			}
			return [6]string{
				r.Route, r.Handler, fmt.Sprintf("%g min", r.Interval.Minutes()), fmt.Sprintf("%.1f min", r.Round.Minutes()),
				fmt.Sprintf("%.0f m", r.Travel.Metres()), fmt.Sprintf("%.1f", r.LoadPlanned),
			}
		}
		a, b := one(d.Before), one(d.After)
		var row []string
		for i := range a {
			row = append(row, beside(a[i], b[i]))
		}
		rows = append(rows, append(row, codesText(d.Came), codesText(d.Gone)))
	}
	return rows
}

func codesText(list []plant.RackCode) string {
	names := make([]string, len(list))
	for i, r := range list {
		names[i] = string(r)
	}
	return some(names, 4)
}
