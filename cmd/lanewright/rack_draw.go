package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"lanewright/api/drawing"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// rackDrawOptions are the options of the rack draw command.
type rackDrawOptions struct {
	rack, view, svg, pdf string
	plan                 planOptions
}

func (p *program) rackDrawCommand() *cobra.Command {
	var o rackDrawOptions
	cmd := &cobra.Command{
		Use:   "draw FILE... --rack RACK",
		Short: "Draw a rack of the plan, or write what it is built by",
		Long: `draw plans the files and draws a rack as it is built from its parts kit, with the lanes
planned on it: from the pick side, cut along the lanes, or each level from above, to scale
on A4, or on Letter where the plant measures in inches. --pdf writes the build sheet: all
drawings, parts, cut list, lanes, what the screening found, cautions; without --rack those
of all racks in one document. Standing and proposed racks are drawn alike.`,
		Example: `  lanewright rack draw plant.xlsx --rack R12 --svg front.svg
  lanewright rack draw plant.xlsx --rack R12 --svg side.svg --view side
  lanewright rack draw plant.xlsx --rack R12 --pdf sheet.pdf
  lanewright rack draw plant.xlsx --pdf sheets.pdf`,
		Args: files,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.rack, "rack", "", "the rack (default, with --pdf, all)")
	flags.StringVar(&o.view, "view", string(drawing.FrontView), "what --svg shows: front, side or plan")
	flags.StringVar(&o.svg, "svg", "", "draw the rack into this file (.svg), - for standard output")
	flags.StringVar(&o.pdf, "pdf", "", "write the build sheet into this file (.pdf), - for standard output")
	o.plan.flags(flags)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error { return p.rackDraw(ctx, args, o) })
	return cmd
}

func (o rackDrawOptions) check() error {
	switch {
	case o.svg == "" && o.pdf == "":
		return usagef("--svg or --pdf is missing: the file to draw into")
	case o.svg != "" && o.rack == "":
		return usagef("--rack is missing: the rack to draw")
	case o.svg == "-" && o.pdf == "-":
		return usagef("--svg and --pdf can't both go to standard output")
	case !slices.Contains(drawing.Views(), drawing.View(o.view)):
		return usagef("--view is %q; it is front, side or plan", o.view)
	}
	return nil
}

func (p *program) rackDraw(ctx context.Context, names []string, o rackDrawOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	o.plan.outputs = []string{o.svg, o.pdf}
	return p.fromPlan(ctx, names, o.plan, func(input planner.Input, made *planner.Plan) error {
		racks, err := drawable(ctx, input.Plant, made, o)
		if err != nil {
			return err
		}
		return p.writeDrawings(racks, o)
	})
}

// drawable are the racks that are meant, as they are drawn: the one named, else
// all of them.
func drawable(ctx context.Context, facts *plant.Plant, made *planner.Plan, o rackDrawOptions) ([]drawing.Rack, error) {
	called := fmt.Sprintf("facts %.12s, seed %d", made.Revision, made.Settings.Plant.Seed)
	if o.rack == "" {
		return drawing.All(ctx, facts, made, called, o.plan.threads)
	}
	code, err := rackNamed(made, o.rack)
	if err != nil {
		return nil, err
	}
	r, err := drawing.Find(ctx, facts, made, code, called)
	if errors.Is(err, drawing.ErrNotBuilt) {
		return nil, usagef("rack %s can not be drawn: %w", code, err)
	}
	return []drawing.Rack{r}, err
}

func (p *program) writeDrawings(racks []drawing.Rack, o rackDrawOptions) error {
	outputs := []struct {
		name  string
		write func(io.Writer) error
	}{
		{o.svg, func(w io.Writer) error { return drawing.SVG(w, racks[0], drawing.View(o.view)) }},
		{o.pdf, func(w io.Writer) error { return drawing.BuildSheets(w, racks...) }},
	}
	for _, one := range outputs {
		if one.name == "" {
			continue
		}
		if err := p.writeFile(one.name, one.write); err != nil {
			return err
		}
		if o.svg != "-" && o.pdf != "-" {
			fmt.Fprintf(p.out, "wrote %s\n", one.name)
		}
	}
	return nil
}
