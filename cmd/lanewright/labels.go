package main

import (
	"context"
	"errors"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"lanewright/api/drawing"
)

// labelsOptions are the options of the labels command.
type labelsOptions struct {
	sourceOptions
	kind, size, out string
	racks           []string
	skip            int
}

func (p *program) labelsCommand() *cobra.Command {
	var o labelsOptions
	cmd := &cobra.Command{
		Use:   "labels FILE... | --plant NAME | --plan ID",
		Short: "Print labels for lanes or racks",
		Long: `labels writes sheets of labels: for each lane its address in signs that can be read from
2 m where the label has room, part, container, pack and how many the lane holds; or for
each rack its code, cell and stations. Each bears its address as QR code and Code 128.

Sizes are those of common sheets, by the measures of one label: 63.5x38.1, 99.1x38.1 and
99.1x67.7 (mm, on A4), 4x2in and 4x3.33in (on Letter); page:100x60 (mm) or page:4x3in is
one label on each page, for label printers. Print at full size, not fitted to the page.`,
		Example: `  lanewright labels plant.xlsx --cell LENS --out lens.pdf
  lanewright labels --plant "North works" --kind rack --size 99.1x38.1
  lanewright labels --plan 17 --rack LENS-01 --skip 5
  lanewright labels --plan 17 --size page:100x60`,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.kind, "kind", string(drawing.LaneLabels), "what is labelled: lane or rack")
	flags.StringVar(&o.size, "size", "", "size of a label (default 99.1x67.7 for lanes, 99.1x38.1 for racks; 4x3.33in, 4x2in where the plant measures in inches)")
	flags.IntVar(&o.skip, "skip", 0, "labels of the first sheet that are used already")
	flags.StringArrayVar(&o.racks, "rack", nil, "only this rack; may be given several times")
	flags.StringVar(&o.out, "out", "labels.pdf", "the document to write, - for standard output")
	o.options(cmd)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
		if !slices.Contains(drawing.LabelKinds(), drawing.LabelKind(o.kind)) {
			return usagef("--kind is %q; it is lane or rack", o.kind)
		}
		if err := o.check(cmd, p, args, o.out); err != nil {
			return err
		}
		return p.labels(ctx, args, o)
	})
	return cmd
}

func (p *program) labels(ctx context.Context, names []string, o labelsOptions) error {
	l := drawing.LabelOptions{Kind: drawing.LabelKind(o.kind), Skip: o.skip}
	if o.size != "" {
		var err error
		if l.Sheet, err = drawing.ParseLabelSheet(o.size); err != nil {
			return usagef("--size: %w", err)
		}
	}
	m, err := p.find(ctx, names, o.sourceOptions)
	if err != nil {
		return err
	}
	if o.size == "" {
		l.Sheet = m.LabelSheet(l.Kind)
	}
	if most := l.Sheet.PerSheet() - 1; o.skip < 0 || o.skip > most {
		return usagef("--skip is %d; a sheet of %s has %s, so it is at most %d", o.skip, l.Sheet.Name, plural(most+1, "label"), most)
	}
	for _, name := range o.racks {
		r, err := rackNamed(m.Plan, name)
		if err != nil {
			return err
		}
		l.Racks = append(l.Racks, r)
	}
	return p.print(m, o.out, func(w io.Writer) ([]string, error) { return m.Labels(w, l) })
}

func (p *program) cardsCommand() *cobra.Command {
	var o sourceOptions
	var out string
	cmd := &cobra.Command{
		Use:   "cards FILE... | --plant NAME | --plan ID",
		Short: "Print loop cards, one for each container of each loop",
		Long: `cards writes loop cards, eight on a sheet that is cut: part, from where in the market, to
which rack, level and lane, container, pack, which card of how many, and a QR code.`,
		Example: `  lanewright cards plant.xlsx --cell LENS --out cards.pdf
  lanewright cards --plant "North works"`,
	}
	cmd.Flags().StringVar(&out, "out", "cards.pdf", "the document to write, - for standard output")
	o.options(cmd)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
		if err := o.check(cmd, p, args, out); err != nil {
			return err
		}
		m, err := p.find(ctx, args, o)
		if err != nil {
			return err
		}
		return p.print(m, out, m.Papers.Cards)
	})
	return cmd
}

// print writes a paper, says what it is short of, and ends as its plan does.
func (p *program) print(m source, out string, write func(io.Writer) ([]string, error)) error {
	var short []string
	err := p.writePaper(out, true, func(w io.Writer) (err error) {
		short, err = write(w)
		return err
	})
	var many *drawing.TooManyError
	switch {
	case errors.As(err, &many):
		return usagef("%w with --cell", many)
	case err != nil:
		return err
	}
	for _, s := range short {
		p.say("%s", s)
	}
	return m.ends()
}
