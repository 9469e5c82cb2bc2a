package main

import (
	"context"
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// rackOptions are the options of the rack command.
type rackOptions struct {
	cell, kit    string
	depth, width float64
	// rack is the rack to show, json how.
	rack string
	json bool
	plan planOptions
}

func (p *program) rackCommand() *cobra.Command {
	var o rackOptions
	cmd := &cobra.Command{
		Use:   "rack FILE... --rack RACK",
		Short: "Show a rack as it is built, draw it, or design racks",
		Long: `rack plans a plant and shows one of its racks, standing or proposed, as it is built from
its parts kit: levels and free heights, what the screening found, every piece with its
length, holes and place, the cut list, and the steps of assembly.`,
		Example: `  lanewright rack plant.xlsx --rack R12
  lanewright rack plant.xlsx --rack R12 --json
  lanewright rack design plant.xlsx --cell LENS`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.rack, "rack", "", "the rack")
	answerFlag(flags, &o.json)
	o.plan.flags(flags)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error { return p.rackShow(ctx, args, o) })
	cmd.AddCommand(p.rackDesignCommand(), p.rackDrawCommand())
	return cmd
}

func (p *program) rackDesignCommand() *cobra.Command {
	var o rackOptions
	cmd := &cobra.Command{
		Use:   "design FILE... --cell CELL",
		Short: "Propose rack types for the loops of a cell",
		Long: `design sizes the loops of a cell and makes rack types that hold them, in the order of
their stations: as many levels as fit between the lowest and the highest pick height, with
least frontage and then least effort, out of the tubes, rollers and guides of a parts kit.
Every rack is built piece by piece and screened: containers pass along the whole slope, a
hand has room, tubes neither bend nor buckle too far. What is left to decide is listed.`,
		Example: `  lanewright rack design plant.xlsx --cell LENS
  lanewright rack design plant.xlsx --cell LENS --depth-mm 1800 --width-mm 2000
  lanewright rack design plant.xlsx --cell LENS --json`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.cell, "cell", "", "the cell")
	flags.StringVar(&o.kit, "kit", "", "the parts kit (default the plant's first, else the program's own)")
	flags.Float64Var(&o.depth, "depth-mm", 1500, "depth of the racks in mm")
	flags.Float64Var(&o.width, "width-mm", 2500, "largest width of a rack in mm")
	flags.BoolVar(&o.json, "json", false, "print JSON instead of tables")
	o.plan.factsFlags(flags)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error { return p.rackDesign(ctx, args, o) })
	return cmd
}

func (p *program) rackDesign(ctx context.Context, names []string, o rackOptions) error {
	if o.cell == "" {
		return usagef("--cell is missing: the cell whose loops the racks are to hold")
	}
	if o.depth < 300 || o.depth > 10_000 || o.width < 300 || o.width > 10_000 {
		return usagef("--depth-mm and --width-mm are from 300 to 10000")
	}
	return p.fromFacts(ctx, names, o.plan, func(input planner.Input) error {
		settings, err := o.plan.settings(input.Plant)
		if err != nil {
			return err
		}
		cell, err := cellNamed(input.Plant, o.cell)
		if err != nil {
			return err
		}
		wishes := structure.DefaultWishes(settings.Plant)
		wishes.Depth, wishes.MostWidth = units.Length(o.depth*float64(units.Millimetre)), units.Length(o.width*float64(units.Millimetre))
		d := planner.DesignRacks(input, settings, cell, plant.KitCode(o.kit), wishes)
		if o.kit != "" && string(d.Kit.Kit) != o.kit {
			return usagef("there is no kit %q", o.kit)
		}
		return p.show(o.json, func() any { return wire.NewDesign(input.Plant.Name, string(cell), d) }, func(w io.Writer) { writeDesigns(w, d) })
	})
}

func writeDesigns(w io.Writer, d planner.RackDesigns) {
	fmt.Fprintf(w, "kit: %s\n", d.Kit.Kit)
	for n, r := range d.Racks {
		fmt.Fprintf(w, "\nrack %d: %s wide, %s deep, %s high, effort %.1f kg/h\n\n", n+1, r.Type.Width, r.Type.Depth, r.Type.Height, r.Effort)
		table(w, levelRows(r))
		fmt.Fprintln(w)
		table(w, laneRows(d, r))
	}
	fmt.Fprintln(w)
	writeFindings(w, d.Findings)
	for _, c := range structure.Cautions() {
		fmt.Fprintln(w, wrap(c, ""))
	}
}

// levelRows are the levels of a designed rack from the lowest.
func levelRows(r structure.Proposal) [][]string {
	rows := [][]string{{"level", "kind", "pick height", "drop", "lane", "usable width", "clear", "lanes"}}
	for _, l := range r.Type.Levels {
		rows = append(rows, []string{
			strconv.Itoa(l.Level), string(l.Kind), l.PickHeight.String(), l.Drop.String(), l.LaneLength.String(), l.UsableWidth.String(), l.ClearHeight.String(),
			strconv.Itoa(lanesOn(r, l.Level)),
		})
	}
	return rows
}

// laneRows are its lanes with what lies in them.
func laneRows(d planner.RackDesigns, r structure.Proposal) [][]string {
	rows := [][]string{{"level", "lane", "part", "station", "container", "width", "containers"}}
	for i, l := range r.Lanes {
		loop := d.Loops[r.Holds[i]]
		rows = append(rows, []string{
			strconv.Itoa(l.Level), strconv.Itoa(r.Number(i)), string(loop.Part), string(loop.Station), string(loop.Container),
			l.Width.String(), fmt.Sprintf("%d of %d", l.Containers, l.Capacity),
		})
	}
	return rows
}

// lanesOn counts the lanes of a level.
func lanesOn(r structure.Proposal, level int) (n int) {
	for _, l := range r.Lanes {
		if l.Level == level {
			n++
		}
	}
	return n
}
