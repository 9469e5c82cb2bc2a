package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"lanewright/api/drawing"
	"lanewright/importers/export"
)

// reportOptions are the options of the report command.
type reportOptions struct {
	sourceOptions
	out, pdf string
	// since names the plan to compare with.
	since string
}

func (p *program) reportCommand() *cobra.Command {
	var o reportOptions
	cmd := &cobra.Command{
		Use:   "report FILE... | --plant NAME | --plan ID",
		Short: "Write the plant rack report of a plan, as a workbook or for printing",
		Long: `report writes a plan as a workbook: summary, charts, racks from the front, racks, lanes,
loops, routes and stops, moves, findings; or with --pdf for printing: key figures with
what no plan can beat, then each cell with its lanes by width, its racks to scale, its
loops and findings, and the routes with their rounds. It takes the plan of the files,
the stored plan of that id, or the latest of the plant.`,
		Example: `  lanewright report --plant "North works" --out report.xlsx
  lanewright report --plan 17 --pdf plan-17.pdf
  lanewright report --plan 18 --since 17 --pdf changes.pdf
  lanewright report plant.xlsx --cell LENS --cell MAST --pdf cells.pdf`,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.out, "out", "report.xlsx", "the workbook to write, - for standard output; with --pdf only where it is given")
	flags.StringVar(&o.pdf, "pdf", "", "the report for printing to write (.pdf), - for standard output")
	flags.StringVar(&o.since, "since", "", "say what changed since this plan: a plan document as plan --out writes it, or with --plant or --plan the id of a stored one")
	o.options(cmd)
	cmd.RunE = p.run(func(ctx context.Context, args []string) error {
		if o.pdf != "" && !flags.Changed("out") {
			o.out = ""
		}
		if o.out == "-" && o.pdf == "-" {
			return usagef("--out and --pdf can't both go to standard output")
		}
		if err := o.check(cmd, p, args, o.out, o.pdf); err != nil {
			return err
		}
		m, err := p.find(ctx, args, o.sourceOptions)
		if err != nil {
			return err
		}
		var since *compared
		if o.since != "" {
			list, err := p.plansNamed(ctx, []string{o.since}, o.at)
			if err != nil {
				return err
			}
			since = &list[0]
		}
		if err := p.writeReports(ctx, m, o, since); err != nil {
			return err
		}
		return m.ends()
	})
	return cmd
}

func (p *program) writeReports(ctx context.Context, m source, o reportOptions, since *compared) error {
	if o.out != "" {
		if err := p.writePaper(o.out, o.pdf != "-", func(w io.Writer) error { return m.workbook(w, since) }); err != nil {
			return err
		}
	}
	if o.pdf == "" {
		return nil
	}
	var options drawing.ReportOptions
	if since != nil {
		options.Since = m.SinceOf(since.title(), since.plan)
	}
	return p.writePaper(o.pdf, o.out != "-", func(w io.Writer) error { return m.Report(ctx, w, options) })
}

// workbook writes the report as a workbook, with what changed since an older plan.
func (m source) workbook(w io.Writer, since *compared) error {
	var older *export.Since
	if since != nil {
		older = &export.Since{Name: since.title(), Plan: since.plan}
	}
	return export.Report(w, m.Facts, m.Plan, m.at, older, m.Cells...)
}

// title names a plan on paper.
func (c *compared) title() string {
	if c.id > 0 {
		return fmt.Sprintf("plan %d", c.id)
	}
	return filepath.Base(c.name)
}

// writePaper writes one paper and says so where it may.
func (p *program) writePaper(name string, say bool, write func(io.Writer) error) error {
	if err := p.writeFile(name, write); err != nil {
		return err
	}
	if say && name != "-" {
		fmt.Fprintf(p.out, "wrote %s\n", name)
	}
	return nil
}
