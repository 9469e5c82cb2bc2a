package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/storage/embedded"
	"lanewright/testdata/plants"
)

// The files of the demo beside its database.
const (
	demoWorkbook = "skerrow.xlsx"
	demoReport   = "skerrow-report.xlsx"
	// demoAddress holds the address of the pages while the demo runs.
	demoAddress = "address"
)

// demoOptions are the options of the demo command.
type demoOptions struct {
	at   place
	addr string
	once bool
}

func (p *program) demoCommand() *cobra.Command {
	var o demoOptions
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Show everything on a made-up plant",
		Long: `demo imports the workbook of a made-up plant into a private PostgreSQL (or the
database that DATABASE_URL names), plans it, writes the plant rack report, serves
the pages on this machine, and says what to look at. Doing it again changes nothing.`,
		Args: noArguments,
	}
	flags := cmd.Flags()
	flags.StringVar(&o.at.dir, "dir", demoDir(), "directory of the demo's database and files")
	flags.StringVar(&o.at.url, "database", "", "URL of the PostgreSQL database (default a private one)")
	flags.StringVar(&o.addr, "addr", "", "address to serve on (default "+loopback+", or a free port where that is taken)")
	flags.BoolVar(&o.once, "once", false, "stop after saying what to look at")
	fromEnvironment(flags, "addr", "database")
	cmd.RunE = p.run(func(ctx context.Context, _ []string) error { return p.demo(ctx, o) })
	return cmd
}

func demoDir() string { return filepath.Join(stateDir(), "demo") }

func (p *program) demo(ctx context.Context, o demoOptions) error {
	if err := os.MkdirAll(o.at.dir, 0o755); err != nil {
		return fmt.Errorf("make the demo's directory: %w", err)
	}
	s, err := p.open(ctx, o.at)
	if err != nil {
		return o.running(err)
	}
	listener, err := p.demoListener(ctx, o.addr)
	if err != nil {
		return closing(s, err)
	}
	defer listener.Close()
	return closing(s, p.demoOn(ctx, s, listener, o))
}

// running tells a second copy where the first one is.
func (o demoOptions) running(err error) error {
	home, missing := os.ReadFile(filepath.Join(o.at.dir, demoAddress))
	if !errors.Is(err, embedded.ErrInUse) || missing != nil {
		return err
	}
	return fmt.Errorf("the demo runs already, its pages are at %s: stop it first, or give this one another directory with --dir", strings.TrimSpace(string(home)))
}

// demoListener takes the usual port, or any other where somebody else has it
// and none was asked for.
func (p *program) demoListener(ctx context.Context, addr string) (net.Listener, error) {
	if addr != "" {
		return listen(ctx, addr)
	}
	if listener, err := listen(ctx, loopback); err == nil {
		return listener, nil
	}
	p.say("%s is taken by another program, so the pages are at another port", loopback)
	host, _, _ := net.SplitHostPort(loopback)
	return listen(ctx, net.JoinHostPort(host, "0"))
}

// demoOn serves the database while the plant is imported, planned and shown.
func (p *program) demoOn(ctx context.Context, s *store, listener net.Listener, o demoOptions) error {
	if err := s.Migrate(ctx); err != nil {
		return err
	}
	options := serveOptions{threads: runtime.GOMAXPROCS(0), quiet: true}
	home := options.home(listener)
	if err := p.writeFile(filepath.Join(o.at.dir, demoAddress), text(home+"\n")); err != nil {
		return err
	}
	serving, stop := context.WithCancel(ctx)
	defer stop()
	group, serving := errgroup.WithContext(serving)
	group.Go(func() error { return p.serveOn(serving, s, listener, nil, options) })
	group.Go(func() error {
		err := p.demoShow(serving, s, home, o)
		if err != nil || o.once {
			stop()
		}
		return err
	})
	if err := group.Wait(); err != nil && !errors.Is(err, context.Canceled) {
		return err
	}
	return nil
}

// demoShow does what a person would: hands in the workbook, asks for a plan,
// takes the report.
func (p *program) demoShow(ctx context.Context, s *store, home string, o demoOptions) error {
	read, err := importers.ReadBytes(ctx, demoWorkbook, plants.Skerrow)
	if err != nil {
		return err
	}
	revision, _, err := saveRevision(ctx, s, read.Plant.Name, archive.AnyRevision, read)
	if err != nil {
		return err
	}
	id, err := p.demoPlan(ctx, s, revision)
	if err != nil {
		return err
	}
	workbook, report := filepath.Join(o.at.dir, demoWorkbook), filepath.Join(o.at.dir, demoReport)
	if err := p.writeFile(workbook, text(string(plants.Skerrow))); err != nil {
		return err
	}
	m, err := loadPlan(ctx, s, id)
	if err != nil {
		return err
	}
	if err := p.writeFile(report, func(w io.Writer) error { return m.workbook(w, nil) }); err != nil {
		return err
	}
	p.demoTour(m.Plan, read.Findings, []string{home, fmt.Sprintf("%sapi/v1/plans/%d", home, id), home + "docs", report, workbook})
	if !o.once {
		fmt.Fprintln(p.out, "\nCtrl-C stops it.")
	}
	return nil
}

// demoPlan asks for a plan as the API does. The run's key makes asking again
// harmless: the plan that is there is the answer.
func (p *program) demoPlan(ctx context.Context, s *store, revision archive.Revision) (int64, error) {
	ask := archive.NewRun{
		Plant: revision.Plant, Revision: revision.Number, Key: "demo " + planner.Version + " " + revision.Hash,
		Settings: map[string]string{"prove": "yes"},
	}
	run, created, err := s.CreateRun(ctx, ask)
	if err == nil && !created && (run.State == archive.Failed || run.State == archive.Cancelled) {
		ask.Key = ""
		run, _, err = s.CreateRun(ctx, ask)
	}
	if err != nil {
		return 0, err
	}
	return p.follow(ctx, s, run)
}

// follow waits for the end of a run.
func (p *program) follow(ctx context.Context, s *store, run archive.Run) (int64, error) {
	progress, clear := p.progress()
	defer clear()
	tick := time.NewTicker(50 * time.Millisecond)
	defer tick.Stop()
	for !run.State.Ended() {
		select {
		case <-ctx.Done():
			return 0, ctx.Err()
		case <-tick.C:
		}
		var err error
		if run, err = s.Run(ctx, run.ID); err != nil {
			return 0, err
		}
		progress.Report(run.Stage, run.Done, run.Total)
	}
	if run.State != archive.Done {
		return 0, fmt.Errorf("the plan was not made: the run is %s: %s", run.State, run.Error)
	}
	return run.Plan, nil
}

// demoTour says where everything is and what is worth a look. The addresses
// are those of the first page, the plan, the API, the report and the workbook.
func (p *program) demoTour(made *planner.Plan, read finding.List, at []string) {
	s := made.Summary()
	fmt.Fprintf(p.out, "%s is planned: %d loops in %d cells, %d of them with a lane for each container;\n%d racks (%d proposed), %d routes for %s.\n\n",
		made.Plant, s.Loops, len(made.Cells), s.LoopsPlaced, s.Racks, s.RacksProposed, s.Routes, plural(s.Handlers, "handler"))
	table(p.out, [][]string{
		{"  the plant at a glance", at[0]},
		{"  cells to balance by hand", at[0] + "cells"},
		{"  refill rounds, for a phone", at[0] + "rounds"},
		{"  the report and its papers", at[0] + "report"},
		{"  the plan document", at[1]},
		{"  the API", at[2]},
		{"  the report as a workbook", at[3]},
		{"  the workbook it came from", at[4]},
	})
	fmt.Fprintf(p.out, "\nWhat to look at:\n")
	fmt.Fprintf(p.out, "  - the workbook has mistakes such as plants make: %s. Each stands\n    in the report's sheet Findings with its cell and its repair.\n", severities(read))
	if short, ok := shortest(made.Cells); ok {
		fmt.Fprintf(p.out, "  - cell %s is short of lanes: %s without one (no layout has fewer than %d).\n",
			short.Cell, plural(short.Unplaced, "container"), short.UnplacedBound)
	}
	if made.Proof != nil {
		v := archive.CountVerdicts(made.Proof.Loops)
		fmt.Fprintf(p.out, "  - the plan was played: %d loops keep their service level, %d run short. The report's\n    sheet Played says why, lanewright simulate shows how.\n", v.Proved, v.Short)
	}
	if s.Moves > 0 {
		fmt.Fprintf(p.out, "  - against today's layout %s would move; the report's sheet Moves lists them.\n", plural(s.MovedContainers, "container"))
	}
}

// shortest returns the cell with the most containers without a lane.
func shortest(cells []placement.Bound) (placement.Bound, bool) {
	var worst placement.Bound
	for _, c := range cells {
		if c.Unplaced > worst.Unplaced {
			worst = c
		}
	}
	return worst, worst.Unplaced > 0
}
