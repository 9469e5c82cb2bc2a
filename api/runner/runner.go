// Package runner makes the plans that were asked for, and plays them: it takes a
// queued run, loads what it needs, computes, saves the result and reports progress
// meanwhile.
// Several runners, on one machine or many, may work on one store.
package runner

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"runtime/debug"
	"slices"
	"time"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/simulation"
)

// Store is what a runner needs of the store.
type Store interface {
	// ClaimRun takes the oldest run that is queued, or whose worker let its
	// lease pass; ok is false where there is none.
	ClaimRun(ctx context.Context, worker string, lease time.Duration) (run archive.Run, ok bool, err error)
	LoadPlant(ctx context.Context, plant string, number int) (*plant.Plant, finding.List, archive.Revision, error)
	LoadPlan(ctx context.Context, id int64) (*planner.Plan, error)
	// ReportRun stores progress and renews the lease; cancel says that somebody
	// asked the run to stop. It answers with archive.ErrConflict where the run is
	// no longer this worker's.
	ReportRun(ctx context.Context, id string, attempt int, stage string, done, total int, lease time.Duration) (cancel bool, err error)
	// ReleaseRun hands a run back, for any worker to take up at once.
	ReleaseRun(ctx context.Context, id string, attempt int) error
	// FinishRun ends a run as failed or cancelled, or as done with what it made.
	// It may be repeated.
	FinishRun(ctx context.Context, id string, attempt int, made archive.Made, state archive.State, message string) (archive.Run, error)
	// WatchRuns sends the id of each run that changed; a hint only.
	WatchRuns(ctx context.Context) (<-chan string, error)
}

// Options say how a runner works; the zero value is good.
type Options struct {
	// Worker names this runner in the store.
	Worker string
	// Threads is the number of goroutines a run may use; below 1 means 1.
	Threads int
	// Lease is how long a run stays this runner's without a report; 0 is a
	// minute. When a runner dies another one takes its run up after that.
	Lease time.Duration
	// Every is the time between two reports of progress; 0 is half a second.
	Every time.Duration
	// Poll is how often the store is asked where no hint comes; 0 is 5 s.
	Poll time.Duration
	// Log takes what was done and what failed; nil discards it.
	Log *slog.Logger
	// Plan computes a plan; nil is planner.Run.
	Plan func(context.Context, planner.Input, planner.Settings, planner.Options) (*planner.Plan, error)
	// Play plays a plan against its facts; nil is planner.Play.
	Play func(context.Context, *plant.Plant, *planner.Plan, simulation.Settings, planner.Options) (simulation.Result, error)
}

// saving is the lease of a run whose result is being written: a large one takes
// longer than the steps between two reports.
const saving = 10 * time.Minute

// Why a run is stopped.
var (
	errCancelled = errors.New("cancelled")
	errLost      = errors.New("the run was taken up by another worker")
)

// Runner makes plans, one at a time.
type Runner struct {
	store Store
	o     Options
}

// New returns a runner on a store.
func New(store Store, o Options) *Runner {
	if o.Worker == "" {
		o.Worker = "runner"
	}
	if o.Lease <= 0 {
		o.Lease = time.Minute
	}
	if o.Every <= 0 {
		o.Every = 500 * time.Millisecond
	}
	if o.Poll <= 0 {
		o.Poll = 5 * time.Second
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Plan == nil {
		o.Plan = planner.Run
	}
	if o.Play == nil {
		o.Play = planner.Play
	}
	return &Runner{store, o}
}

// Work makes plans and plays until ctx ends; a run under way is then handed back. It
// returns nil: a store that is away for a while is waited for.
func (r *Runner) Work(ctx context.Context) error {
	var hints <-chan string
	poll := time.NewTicker(r.o.Poll)
	defer poll.Stop()
	for ctx.Err() == nil {
		if hints == nil {
			hints = r.watch(ctx)
		}
		run, ok, err := r.store.ClaimRun(ctx, r.o.Worker, r.o.Lease)
		if err != nil && ctx.Err() == nil {
			r.o.Log.WarnContext(ctx, "can not look for runs", "error", err)
		}
		if err == nil && ok {
			r.make(ctx, run)
			continue
		}
		select {
		case <-ctx.Done():
		case <-poll.C:
		case _, open := <-hints:
			if !open {
				hints = nil
				wait(ctx, poll.C)
			}
		}
	}
	return nil
}

// watch returns hints; nil where the store can not give any now.
func (r *Runner) watch(ctx context.Context) <-chan string {
	hints, err := r.store.WatchRuns(ctx)
	if err != nil && ctx.Err() == nil {
		r.o.Log.WarnContext(ctx, "no hints about new runs, looking for them instead", "error", err)
	}
	return hints
}

func wait(ctx context.Context, tick <-chan time.Time) {
	select {
	case <-ctx.Done():
	case <-tick:
	}
}

// make makes one plan or play and stores what became of it.
func (r *Runner) make(ctx context.Context, run archive.Run) {
	log := r.o.Log.With("run", run.ID, "kind", run.Kind, "plant", run.Plant, "attempt", run.Attempt)
	log.InfoContext(ctx, "run started")
	made, err := r.compute(ctx, run)
	state, message := outcome(ctx, err)
	// What was computed is saved also when the program is asked to stop.
	save, cancel := context.WithTimeout(context.WithoutCancel(ctx), saving)
	defer cancel()
	if state == "" {
		log.InfoContext(ctx, "run left to another worker", "error", err)
		r.handBack(save, run)
		return
	}
	ended, err := r.finish(ctx, save, run, made, state, message)
	if err != nil {
		log.ErrorContext(ctx, "run can not be ended", "state", state, "error", err)
		return
	}
	log.InfoContext(ctx, "run ended", "state", ended.State, "plan", ended.Plan, "simulation", ended.Simulation, "message", message)
}

// finish ends a run. It waits for a store that is away, for what was made would
// be lost otherwise, but not when the program is asked to stop.
func (r *Runner) finish(ctx, save context.Context, run archive.Run, made archive.Made, state archive.State, message string) (archive.Run, error) {
	again := time.NewTicker(r.o.Poll)
	defer again.Stop()
	for {
		ended, err := r.store.FinishRun(save, run.ID, run.Attempt, made, state, message)
		if !errors.Is(err, archive.ErrUnavailable) || ctx.Err() != nil || save.Err() != nil {
			return ended, err
		}
		r.o.Log.WarnContext(ctx, "run not ended yet", "run", run.ID, "error", err)
		wait(ctx, again.C)
	}
}

// handBack lets another worker take a run up at once. Where that can not be
// told, its lease passes by itself.
func (r *Runner) handBack(ctx context.Context, run archive.Run) {
	err := r.store.ReleaseRun(ctx, run.ID, run.Attempt)
	if err != nil && !errors.Is(err, archive.ErrConflict) {
		r.o.Log.WarnContext(ctx, "run not handed back", "run", run.ID, "error", err)
	}
}

// outcome says how a run ends; the empty state leaves it to another worker.
func outcome(ctx context.Context, err error) (state archive.State, message string) {
	switch {
	case err == nil:
		return archive.Done, ""
	case errors.Is(err, errCancelled):
		return archive.Cancelled, ""
	case errors.Is(err, errLost), errors.Is(err, archive.ErrUnavailable), ctx.Err() != nil:
		return "", ""
	default:
		return archive.Failed, err.Error()
	}
}

// compute makes the result of a run while a reporter keeps the run alive.
func (r *Runner) compute(ctx context.Context, run archive.Run) (made archive.Made, err error) {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	rep := &reporter{runner: r, run: run, stop: stop}
	done := rep.start(ctx)
	made, err = r.result(ctx, run, rep.note)
	close(rep.finished)
	<-done
	if cause := context.Cause(ctx); err != nil && cause != nil {
		return archive.Made{}, cause
	}
	if err != nil {
		return archive.Made{}, err
	}
	if err := rep.last(ctx); err != nil {
		return archive.Made{}, err
	}
	return made, nil
}

// result makes a plan or plays one. A panic is a failure of the run, not of the
// program.
func (r *Runner) result(ctx context.Context, run archive.Run, progress search.Progress) (made archive.Made, err error) {
	defer func() {
		if e := recover(); e != nil {
			r.o.Log.ErrorContext(ctx, "panic", "run", run.ID, "panic", e, "stack", string(debug.Stack()))
			err = errors.New("a mistake in the program itself; the server's log says more")
		}
	}()
	facts, findings, _, err := r.store.LoadPlant(ctx, run.Plant, run.Revision)
	if err != nil {
		return made, fmt.Errorf("load the facts: %w", err)
	}
	o := planner.Options{Threads: r.o.Threads, Progress: progress}
	if run.Kind == archive.SimulationRun {
		made.Simulation, err = r.play(ctx, run, facts, o)
		return made, err
	}
	made.Plan, err = r.plan(ctx, run, planner.Input{Plant: facts, Findings: findings}, o)
	return made, err
}

func (r *Runner) plan(ctx context.Context, run archive.Run, in planner.Input, o planner.Options) (*planner.Plan, error) {
	settings, err := Settings(in.Plant, run.Settings)
	if err != nil {
		return nil, err
	}
	return r.o.Plan(ctx, in, settings, o)
}

// play plays a plan against the facts of its revision.
func (r *Runner) play(ctx context.Context, run archive.Run, facts *plant.Plant, o planner.Options) (*simulation.Result, error) {
	p, err := r.store.LoadPlan(ctx, run.PlanID)
	if err != nil {
		return nil, fmt.Errorf("load the plan: %w", err)
	}
	settings, err := PlaySettings(p, run.Settings)
	if err != nil {
		return nil, err
	}
	result, err := r.o.Play(ctx, facts, p, settings, o)
	return &result, err
}

// PlaySettings returns the settings of a play of p with some of them changed, in
// the order of their keys.
func PlaySettings(p *planner.Plan, changes map[string]string) (simulation.Settings, error) {
	s := p.Settings.Simulation
	for _, key := range slices.Sorted(maps.Keys(changes)) {
		if err := planner.SetPlay(&s, key, changes[key]); err != nil {
			return s, err
		}
	}
	return s, nil
}

// Settings returns the settings of a plan of p with some of them changed, in
// the order of their keys.
func Settings(p *plant.Plant, changes map[string]string) (planner.Settings, error) {
	s := planner.DefaultSettings(p)
	for _, key := range slices.Sorted(maps.Keys(changes)) {
		if err := s.Set(key, changes[key]); err != nil {
			return s, err
		}
	}
	return s, nil
}
