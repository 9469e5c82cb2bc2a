package runner

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"lanewright/planner/archive"
)

// reporter stores the progress of one run now and then, which also keeps the
// run this worker's, and stops the run when it was cancelled or lost.
type reporter struct {
	runner   *Runner
	run      archive.Run
	stop     context.CancelCauseFunc
	finished chan struct{}

	mu   sync.Mutex
	next progress
	// changed says that next was not stored yet.
	changed bool
}

type progress struct {
	stage       string
	done, total int
}

// note keeps the latest progress; it is called often and from any goroutine.
func (p *reporter) note(stage string, done, total int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := progress{stage, done, total}
	if now == p.next {
		return
	}
	p.next, p.changed = now, true
}

// take returns the latest progress and whether it is news.
func (p *reporter) take() (progress, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	news := p.changed
	p.changed = false
	return p.next, news
}

// start reports until finished is closed; the channel it returns is closed
// after the last report.
func (p *reporter) start(ctx context.Context) <-chan struct{} {
	p.finished = make(chan struct{})
	done := make(chan struct{})
	go func() {
		defer close(done)
		p.loop(ctx)
	}()
	return done
}

// loop reports what is new at each tick; without news it still asks now and
// then whether the run shall go on, at least three times a lease.
func (p *reporter) loop(ctx context.Context) {
	every := min(p.runner.o.Every, p.runner.o.Lease/3)
	ask := min(4*every, p.runner.o.Lease/3)
	tick := time.NewTicker(every)
	defer tick.Stop()
	quiet := time.Duration(0)
	for {
		select {
		case <-ctx.Done():
			return
		case <-p.finished:
			return
		case <-tick.C:
		}
		at, news := p.take()
		quiet += every
		if !news && quiet < ask {
			continue
		}
		quiet = 0
		if err := p.report(ctx, at, p.runner.o.Lease); err != nil {
			p.stop(err)
			return
		}
	}
}

// last reports that the result is being saved and takes the lease that needs.
func (p *reporter) last(ctx context.Context) error {
	return p.report(context.WithoutCancel(ctx), progress{"saving", 0, 1}, saving)
}

// report stores progress. It returns why the run must stop; a store that is
// away is no reason, for the lease outlives it.
func (p *reporter) report(ctx context.Context, at progress, lease time.Duration) error {
	cancel, err := p.runner.store.ReportRun(ctx, p.run.ID, p.run.Attempt, at.stage, at.done, at.total, lease)
	switch {
	case errors.Is(err, archive.ErrConflict), errors.Is(err, archive.ErrNotFound):
		return fmt.Errorf("%w: %w", errLost, err)
	case err != nil:
		if ctx.Err() == nil {
			p.runner.o.Log.WarnContext(ctx, "progress not stored", "run", p.run.ID, "error", err)
		}
		return nil
	case cancel:
		return errCancelled
	default:
		return nil
	}
}
