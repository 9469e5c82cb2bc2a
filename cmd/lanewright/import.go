package main

import (
	"context"
	"errors"
	"fmt"
	"runtime"

	"github.com/spf13/cobra"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/plant"
)

// importOptions are the options of the import command.
type importOptions struct {
	plant                  string
	at                     place
	dryRun, leaveOut, plan bool
	mapping                string
	// onto is the revision that the sheets left out are taken from: 0 none,
	// latest the latest one.
	onto string
}

func (p *program) importCommand() *cobra.Command {
	var o importOptions
	cmd := &cobra.Command{
		Use:   "import FILE... --plant NAME",
		Short: "Store a plant's files in the database as a new revision",
		Long: `import reads a plant's files and stores them as the next revision of the plant:
everything or, on any failure, nothing. Files with errors are refused and the errors
listed; --leave-out stores the rest without the rows that have them. The same facts
are never stored twice. What differs from the latest revision is shown first; --dry-run
stops there.

A file that brings only some sheets comes onto a revision with --onto: the sheets it
leaves out are kept from there. A mapping (lanewright map) says what columns mean; it is
kept, and used by itself for later files with the same headings.`,
		Example: `  lanewright import plant.xlsx --plant "North works" --dry-run
  lanewright import plant.xlsx --plant "North works" --plan
  lanewright import demand.csv --plant "North works" --onto latest`,
		Args: files,
		RunE: p.run(func(ctx context.Context, args []string) error { return p.importFiles(ctx, args, o) }),
	}
	flags := cmd.Flags()
	flags.StringVar(&o.plant, "plant", "", "name of the plant in the database")
	flags.BoolVar(&o.dryRun, "dry-run", false, "read, check and compare, store nothing")
	flags.StringVar(&o.onto, "onto", "", "keep the sheets that the files leave out from this revision: its number, or latest")
	mappingFlag(flags, &o.mapping)
	flags.BoolVar(&o.leaveOut, "leave-out", false, "leave out the rows with errors and store the rest")
	flags.BoolVar(&o.plan, "plan", false, "plan the revision too, and store the plan")
	fromEnvironment(flags, "plant")
	o.at.flags(flags)
	o.at.join = true
	return cmd
}

func (p *program) importFiles(ctx context.Context, names []string, o importOptions) error {
	switch {
	case o.plant == "":
		return usagef("import needs --plant NAME: the plant these files belong to")
	case archive.CheckName(o.plant) != nil:
		return usagef("--plant %q: %w", o.plant, archive.ErrBadName)
	case o.dryRun && o.plan:
		return usagef("--dry-run stores nothing, so there is nothing to --plan")
	}
	m, err := stated(o.mapping)
	if err != nil {
		return err
	}
	s, err := p.openCurrent(ctx, o.at)
	if err != nil {
		return err
	}
	return closing(s, p.importInto(ctx, s, names, importers.Options{Mapping: m}, o))
}

// importInto reads the files, shows what they would change and stores them.
func (p *program) importInto(ctx context.Context, s *store, names []string, known importers.Options, o importOptions) error {
	if err := s.learn(ctx, o, &known); err != nil {
		return err
	}
	read, err := p.readWith(ctx, names, known)
	if err != nil {
		return stopped(ctx, err)
	}
	writeFindings(p.err, read.Findings)
	writeLedger(p.err, read.Sheets)
	against, err := p.writeChanges(ctx, s, o.plant, &read.Plant)
	if err != nil {
		return err
	}
	fmt.Fprintln(p.out, severities(read.Findings))
	if read.Findings.HasErrors() && !o.leaveOut {
		fmt.Fprintln(p.out, "nothing was stored; repair the errors, or leave their rows out with --leave-out")
		return errInput
	}
	if o.dryRun {
		fmt.Fprintln(p.out, "nothing was stored: this was a dry run")
		return nil
	}
	return p.save(ctx, s, known, read, against, o)
}

// save stores what was read as the revision after the one it was compared with
// and, where asked, a plan of it.
func (p *program) save(ctx context.Context, s *store, known importers.Options, read *importers.Result, against int, o importOptions) error {
	revision, created, err := saveRevision(ctx, s, o.plant, against, read)
	if errors.Is(err, archive.ErrStale) {
		return fmt.Errorf("nothing was stored: somebody else stored a revision of %s meanwhile; run the command again to see what changes against it (%w)", o.plant, err)
	}
	if err != nil {
		return err
	}
	if known.Mapping != nil && read.Mapping != nil {
		if err := s.SaveMapping(ctx, o.plant, read.Mapping.Shape(), read.Mapping.Text()); err != nil {
			return err
		}
	}
	if created {
		fmt.Fprintf(p.out, "stored as revision %d of %s\n", revision.Number, revision.Plant)
	} else {
		fmt.Fprintf(p.out, "these facts are revision %d of %s already\n", revision.Number, revision.Plant)
	}
	if !o.plan {
		return nil
	}
	return p.planRevision(ctx, s, revision, planner.Input{Plant: &read.Plant, Findings: read.Findings})
}

// planRevision plans the facts of a revision and stores the plan.
func (p *program) planRevision(ctx context.Context, s *store, revision archive.Revision, input planner.Input) error {
	made, err := p.search(ctx, input, planOptions{threads: runtime.GOMAXPROCS(0)})
	if err != nil {
		return fmt.Errorf("the revision is stored, its plan is not: %w", err)
	}
	header, err := s.SavePlan(ctx, revision.Plant, revision.Number, made)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.out, "stored plan %d: %d of %d loops have a lane for each container\n", header.ID, header.Summary.LoopsPlaced, header.Summary.Loops)
	return nil
}

func saveRevision(ctx context.Context, s *store, name string, after int, read *importers.Result) (archive.Revision, bool, error) {
	sheets := make([]archive.SheetCount, len(read.Sheets))
	for i, l := range read.Sheets {
		sheets[i] = archive.SheetCount{File: l.File, Sheet: l.Sheet, Rows: l.Rows, Used: l.Used, Reported: l.Reported, Skipped: l.Skipped}
	}
	return s.SaveRevisionAfter(ctx, name, after, &read.Plant, plant.Revision(&read.Plant), sheets, read.Findings)
}
