package main

import (
	"context"
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
}

func (p *program) importCommand() *cobra.Command {
	var o importOptions
	cmd := &cobra.Command{
		Use:   "import FILE... --plant NAME",
		Short: "Store a plant's files in the database as a new revision",
		Long: `import reads a plant's files and stores them as the next revision of the plant:
everything or, on any failure, nothing. Files with errors are refused and the errors
listed; --leave-out stores the rest without the rows that have them. The same facts
are never stored twice.`,
		Example: `  lanewright import plant.xlsx --plant "North works" --dry-run
  lanewright import plant.xlsx --plant "North works" --plan`,
		Args: files,
		RunE: p.run(func(ctx context.Context, args []string) error { return p.importFiles(ctx, args, o) }),
	}
	flags := cmd.Flags()
	flags.StringVar(&o.plant, "plant", "", "name of the plant in the database")
	flags.BoolVar(&o.dryRun, "dry-run", false, "read and check, store nothing")
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
	read, err := p.read(ctx, names)
	if err != nil {
		return stopped(ctx, err)
	}
	writeFindings(p.err, read.Findings)
	writeLedger(p.err, read.Sheets)
	fmt.Fprintln(p.out, severities(read.Findings))
	if read.Findings.HasErrors() && !o.leaveOut {
		fmt.Fprintln(p.out, "nothing was stored; repair the errors, or leave their rows out with --leave-out")
		return errInput
	}
	if o.dryRun {
		fmt.Fprintln(p.out, "nothing was stored: this was a dry run")
		return nil
	}
	s, err := p.openCurrent(ctx, o.at)
	if err != nil {
		return err
	}
	return closing(s, p.save(ctx, s, read, o))
}

// save stores what was read and, where asked, a plan of it.
func (p *program) save(ctx context.Context, s *store, read *importers.Result, o importOptions) error {
	revision, created, err := saveRevision(ctx, s, o.plant, read)
	if err != nil {
		return err
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

func saveRevision(ctx context.Context, s *store, name string, read *importers.Result) (archive.Revision, bool, error) {
	sheets := make([]archive.SheetCount, len(read.Sheets))
	for i, l := range read.Sheets {
		sheets[i] = archive.SheetCount{File: l.File, Sheet: l.Sheet, Rows: l.Rows, Used: l.Used, Reported: l.Reported, Skipped: l.Skipped}
	}
	return s.SaveRevision(ctx, name, &read.Plant, plant.Revision(&read.Plant), sheets, read.Findings)
}
