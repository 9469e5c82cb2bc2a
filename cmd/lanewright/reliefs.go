package main

import (
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// reliefsOptions are the options of the reliefs command.
type reliefsOptions struct {
	cell string
	json bool
	plan planOptions
}

func (p *program) reliefsCommand() *cobra.Command {
	var o reliefsOptions
	cmd := &cobra.Command{
		Use:   "reliefs FILE...",
		Short: "Find what would make room in a cell",
		Long: `reliefs plans the plant and tries, for one cell or for every cell that leaves
containers without a lane, what would make room: a shorter interval for the parts that
save most lanes, another container, another type of rack or one level more, the lanes
of a neighbouring rack, one rack more, a pin taken out; where none of these is enough,
two of the best together. Each is computed by sizing and placing the cell anew; the ten
best are shown, those first that place most.

Visits are rack visits an hour more, estimated from the intervals. The price is that of
the racks to buy; a year is what racks, floor and stock cost more by the plant's prices.`,
		Example: `  lanewright reliefs plant.xlsx
  lanewright reliefs plant.xlsx --cell LENS --json`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.cell, "cell", "", "the cell (default every cell with containers without a lane)")
	answerFlag(flags, &o.json)
	o.plan.flags(flags)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error { return p.reliefs(ctx, args, o) })
	return cmd
}

func (p *program) reliefs(ctx context.Context, names []string, o reliefsOptions) error {
	return p.fromPlan(ctx, names, o.plan, func(input planner.Input, made *planner.Plan) error {
		cells, err := o.cells(input.Plant, made)
		if err != nil {
			return err
		}
		var found []wire.CellReliefs
		for _, c := range cells {
			list, err := planner.Reliefs(ctx, input, made, c, planner.Options{Threads: o.plan.threads})
			if err != nil {
				return err
			}
			found = append(found, wire.NewCellReliefs(made, c, list))
		}
		return p.show(o.json, func() any { return wire.NewReliefs(made, found) }, func(w io.Writer) { writeReliefs(w, found) })
	})
}

// cells are those that are meant: one, or all that leave containers without a
// lane.
func (o reliefsOptions) cells(facts *plant.Plant, made *planner.Plan) ([]plant.CellCode, error) {
	if o.cell != "" {
		c, err := cellNamed(facts, o.cell)
		return []plant.CellCode{c}, err
	}
	var list []plant.CellCode
	for _, b := range made.Cells {
		if b.Unplaced > 0 {
			list = append(list, b.Cell)
		}
	}
	return list, nil
}

func writeReliefs(w io.Writer, list []wire.CellReliefs) {
	if len(list) == 0 {
		fmt.Fprintln(w, "every container has a lane; --cell tells what would free lanes in a cell")
	}
	for i, c := range list {
		if i > 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintf(w, "cell %s: %s\n", c.Cell, withoutLane(c.Unplaced))
		if len(c.Reliefs) == 0 {
			fmt.Fprintln(w, "nothing that was tried makes room")
			continue
		}
		writeCellReliefs(w, c.Reliefs)
	}
}

func withoutLane(n int) string {
	if n == 0 {
		return "every container has a lane"
	}
	return plural(n, "container") + " without a lane"
}

func writeCellReliefs(w io.Writer, list []wire.Relief) {
	rows := [][]string{{"", "without lane", "lanes freed", "price", "a year", "effort", "visits an hour", "refills an hour", "what to do"}}
	for i, r := range list {
		rows = append(rows, []string{
			strconv.Itoa(i + 1), strconv.Itoa(r.Unplaced), strconv.Itoa(r.LanesFreed), relievedPrice(r), relievedYear(r),
			fmt.Sprintf("%+.1f kg/h", r.Effort), fmt.Sprintf("%+.1f", r.VisitsPerHour), fmt.Sprintf("%+.1f", r.RefillsPerHour), r.Text,
		})
	}
	table(w, rows)
	writeNotes(w, list)
}

// writeNotes writes each note once, with the numbers of the reliefs it is about.
func writeNotes(w io.Writer, list []wire.Relief) {
	numbers := map[string][]string{}
	for i, r := range list {
		numbers[r.Note] = append(numbers[r.Note], strconv.Itoa(i+1))
	}
	for _, r := range list {
		if about := numbers[r.Note]; r.Note != "" && about != nil {
			fmt.Fprintf(w, "%s: %s\n", strings.Join(about, ", "), r.Note)
			numbers[r.Note] = nil
		}
	}
}

// relievedPrice is the price of what is bought, where it is known.
func relievedPrice(r wire.Relief) string {
	if r.Price == nil {
		return "unknown"
	}
	return fmt.Sprintf("%.0f", *r.Price)
}

func relievedYear(r wire.Relief) string {
	if r.YearlyPartial && r.Yearly == 0 {
		return "unknown"
	}
	if r.YearlyPartial {
		return fmt.Sprintf("%+.0f and more", r.Yearly)
	}
	return fmt.Sprintf("%+.0f", r.Yearly)
}
