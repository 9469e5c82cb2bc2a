package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/plant"
)

// buildOptions are the options of the build command.
type buildOptions struct {
	cell, rack     string
	proposed, json bool
	onHand         []string
	plan           planOptions
}

func (p *program) buildCommand() *cobra.Command {
	var o buildOptions
	cmd := &cobra.Command{
		Use:   "build FILE...",
		Short: "List what racks are built from, and how to cut it",
		Long: `build plans a plant and lists what its racks are built from: one rack, those of a cell,
the proposed ones, or all. Every tube has its length, its holes and its place; roller
tracks, guides, stops, connectors, fasteners and feet are counted, weighed and priced as
far as the parts kit knows. All pieces are cut together from the kit's stock lengths, with
the kerf, and from what lies in the store; the length that no cutting can do without
stands beside it.`,
		Example: `  lanewright build plant.xlsx --proposed
  lanewright build plant.xlsx --cell LENS --on-hand 'tube 30 x 30 x 2.5=1850,1850,2400'
  lanewright build plant.xlsx --rack R12 --json`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.cell, "cell", "", "only the racks of this cell")
	flags.StringVar(&o.rack, "rack", "", "only this rack")
	flags.BoolVar(&o.proposed, "proposed", false, "only racks that the plan proposes")
	flags.StringArrayVar(&o.onHand, "on-hand", nil, "bars and offcuts in the store, as PART=LENGTH,LENGTH in mm; they are cut first")
	answerFlag(flags, &o.json)
	o.plan.flags(flags)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
		return p.built(ctx, args, o, func(w io.Writer, b planner.Build) {
			fmt.Fprintf(w, "%s\n\n", plural(len(b.Racks), "rack"))
			writeBuild(w, b)
			writeGroups(w, b)
			writeFindings(w, b.Findings)
			writeCautions(w)
		})
	})
	return cmd
}

// built plans the plant, builds the racks that are meant and shows them.
func (p *program) built(ctx context.Context, names []string, o buildOptions, write func(io.Writer, planner.Build)) error {
	store, err := inStore(o.onHand)
	if err != nil {
		return err
	}
	return p.fromPlan(ctx, names, o.plan, func(input planner.Input, made *planner.Plan) error {
		scope, err := o.scope(input.Plant, made)
		if err != nil {
			return err
		}
		b, err := planner.BuildRacks(ctx, input.Plant, made, scope, planner.BuildOptions{Threads: o.plan.threads, CutOptions: buildlist.CutOptions{OnHand: store}})
		if errors.Is(err, planner.ErrUnknownRack) {
			return usagef("rack %s is not among those", scope.Rack)
		}
		if err != nil {
			return err
		}
		return p.show(o.json, func() any { return wire.NewBuild(made, b) }, func(w io.Writer) { write(w, b) })
	})
}

// scope says which racks are meant.
func (o buildOptions) scope(facts *plant.Plant, made *planner.Plan) (scope planner.BuildScope, err error) {
	scope.Proposed = o.proposed
	if o.cell != "" {
		if scope.Cell, err = cellNamed(facts, o.cell); err != nil {
			return scope, err
		}
	}
	if o.rack != "" {
		scope.Rack, err = rackNamed(made, o.rack)
	}
	return scope, err
}

// inStore reads what lies in the store.
func inStore(texts []string) (list []buildlist.Stock, err error) {
	for _, text := range texts {
		some, err := buildlist.ParseStock(text)
		if err != nil {
			return nil, usagef("--on-hand %w", err)
		}
		list = append(list, some...)
	}
	return list, nil
}

// writeBuild shows what is bought and how it is cut.
func writeBuild(w io.Writer, b planner.Build) {
	rows := [][]string{{"to buy", "kind", "pieces", "length", "mass", "cost"}}
	for _, one := range b.Buys {
		length := ""
		if one.InLengths() {
			length = fmt.Sprintf("%.2f m", one.Length.Metres())
		}
		rows = append(rows, []string{
			string(one.Part.Part), string(one.Part.Kind), strconv.Itoa(one.Count), length,
			amount(one.Mass.KG(), one.Weighed(), "kg"), amount(one.Cost.Float64(), one.Priced(), ""),
		})
	}
	rows = append(rows, []string{
		"together", "", "", "", partly(amount(b.Total.Mass.KG(), b.Total.Weighed > 0, "kg"), len(b.Total.Unweighed)),
		partly(amount(b.Total.Cost.Float64(), b.Total.Priced > 0, ""), len(b.Total.Unpriced)),
	})
	table(w, rows)
	for _, c := range b.Cuts {
		writeCuts(w, c, b.Unit)
	}
	fmt.Fprintln(w)
}

// amount writes a number that may not be known.
func amount(v float64, known bool, unit string) string {
	if !known {
		return "unknown"
	}
	return strings.TrimSpace(fmt.Sprintf("%.2f %s", v, unit))
}

// partly says a sum that leaves something out as such.
func partly(sum string, missing int) string {
	if missing == 0 || sum == "unknown" {
		return sum
	}
	return sum + " and more"
}

// writeCuts shows the bars of one part by how they are cut.
func writeCuts(w io.Writer, c buildlist.CutList, u buildlist.Unit) {
	fmt.Fprintf(w, "\ncut list of %s: %s from %s, %.2f m bought (least possible %.2f m%s), %.1f %% left over\n\n", c.Part.Part,
		plural(c.Pieces, "piece"), plural(len(c.Bars), "bar"), c.Bought.Metres(), c.Least.Metres(), proved(c.Proved), 100*c.Waste())
	rows := [][]string{{"bars", "of", "cut into", "rest", "pieces"}}
	bar := 0
	for _, p := range c.Patterns {
		rows = append(rows, []string{strconv.Itoa(p.Times), stockText(p, u), cutsText(p, u), u.Text(p.Rest), barText(c.Bars[bar : bar+p.Times])})
		bar += p.Times
	}
	table(w, rows)
}

func proved(yes bool) string {
	if yes {
		return ", proved"
	}
	return ""
}

func stockText(p buildlist.Pattern, u buildlist.Unit) string {
	if p.OnHand {
		return u.Text(p.Length) + " in store"
	}
	return u.Text(p.Length)
}

func cutsText(p buildlist.Pattern, u buildlist.Unit) string {
	var parts []string
	for _, c := range p.Cuts {
		parts = append(parts, fmt.Sprintf("%d x %s", c.Count, u.Text(c.Length)))
	}
	return strings.Join(parts, " + ")
}

// barText names the pieces of the first bars of a pattern.
func barText(bars []buildlist.Bar) string {
	var parts []string
	for _, b := range bars {
		var marks []string
		for _, c := range b.Cuts {
			marks = append(marks, string(c.Rack)+"/"+c.Mark)
		}
		parts = append(parts, some(marks, 8))
	}
	return strings.Join(parts[:min(len(parts), 3)], "; ") + more(len(parts)-3)
}

func more(bars int) string {
	if bars <= 0 {
		return ""
	}
	return fmt.Sprintf("; and %s more, all in --json", plural(bars, "bar"))
}

// writeGroups lists, rack by rack, pieces that are made alike.
func writeGroups(w io.Writer, b planner.Build) {
	rows := [][]string{{"rack", "pieces", "what", "part", "length", "holes", "marks"}}
	for _, r := range b.Racks {
		for _, g := range r.List.Groups {
			rows = append(rows, []string{
				string(r.Rack.Rack), strconv.Itoa(len(g.Pieces)), string(g.Role), string(g.Part.Part), b.Unit.Text(g.Length), holesText(g.Holes), some(r.List.Marks(g), 8),
			})
		}
	}
	list(w, rows)
	fmt.Fprintln(w)
}

// holesText counts the holes of a piece by the way they go.
func holesText(holes []buildlist.Hole) string {
	if len(holes) == 0 {
		return "none"
	}
	across := 0
	for _, h := range holes {
		if h.Way == buildlist.AcrossRack {
			across++
		}
	}
	return fmt.Sprintf("%d across, %d along", across, len(holes)-across)
}
