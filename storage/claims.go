package storage

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"lanewright/planner/archive"
)

// expire ends the runs that nobody works on any more and that must not be
// tried again. The clock is the server's, one for all machines.
const expire = `
update work.runs set lease_until = null, finished = now(),
  state = case when cancel then 'cancelled' else 'failed' end,
  error = case when cancel then '' else format('given up after %s attempts: each worker stopped without a word', silent + 1) end
where id in (select id from work.runs
  where state = 'running' and lease_until < now() and (cancel or silent + 1 >= $1)
  for update skip locked)`

// claim takes the oldest run that waits or whose worker went silent.
const claim = `
update work.runs set state = 'running', worker = $1, lease_until = now() + $2::interval,
  attempt = attempt + 1, silent = silent + (state = 'running')::int,
  started = coalesce(started, now()), stage = '', done = 0, total = 0
where id = (select id from work.runs
  where state = 'queued' or state = 'running' and lease_until < now() and not cancel and silent + 1 < $3
  order by number limit 1 for update skip locked)
returning id`

// ClaimRun gives the oldest waiting run to worker for the length of the lease;
// ok is false when none waits. A running run whose lease ran out waits again,
// until that happened Attempts times. No two workers are given the same attempt.
func (db *DB) ClaimRun(ctx context.Context, worker string, lease time.Duration) (run archive.Run, ok bool, err error) {
	err = db.transact(ctx, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, expire, Attempts); err != nil {
			return err
		}
		var id string
		err := tx.QueryRow(ctx, claim, worker, lease, Attempts).Scan(&id)
		if errors.Is(err, pgx.ErrNoRows) {
			return nil
		}
		if err != nil {
			return err
		}
		ok = true
		run, err = selectRun(ctx, tx, `where r.id = $1`, id)
		return err
	})
	if err != nil {
		return archive.Run{}, false, translate(ctx, "claim run", err)
	}
	return run, ok, nil
}

// ReportRun tells how far attempt of a run is, renews its lease and returns
// whether somebody asked to cancel it. It answers with archive.ErrConflict
// when the run is no longer that attempt's.
func (db *DB) ReportRun(ctx context.Context, id string, attempt int, stage string, done, total int, lease time.Duration) (cancel bool, err error) {
	err = db.pool.QueryRow(ctx, `
		update work.runs set stage = $3, done = $4, total = $5, lease_until = now() + $6::interval
		where id = $1 and attempt = $2 and state = 'running' returning cancel`,
		id, attempt, stage, done, total, lease).Scan(&cancel)
	if errors.Is(err, pgx.ErrNoRows) {
		err = db.refusal(ctx, id, attempt)
	}
	return cancel, translate(ctx, "report run "+id, err)
}

// ReleaseRun hands a run back: it waits again for any worker, or is cancelled
// where somebody asked for that. It answers with archive.ErrConflict when the
// run is no longer that attempt's.
func (db *DB) ReleaseRun(ctx context.Context, id string, attempt int) error {
	tag, err := db.pool.Exec(ctx, `
		update work.runs set lease_until = null, worker = '', stage = '', done = 0, total = 0,
		  state = case when cancel then 'cancelled' else 'queued' end,
		  finished = case when cancel then now() end
		where id = $1 and attempt = $2 and state = 'running'`, id, attempt)
	if err == nil && tag.RowsAffected() == 0 {
		err = db.refusal(ctx, id, attempt)
	}
	return translate(ctx, "release run "+id, err)
}

// refusal says why an attempt may not write to a run.
func (db *DB) refusal(ctx context.Context, id string, attempt int) error {
	run, err := db.Run(ctx, id)
	if err != nil {
		return err
	}
	return stale(run, attempt)
}

func stale(run archive.Run, attempt int) error {
	return fmt.Errorf("%w: attempt %d is late: the run is %s in attempt %d", archive.ErrConflict, attempt, run.State, run.Attempt)
}

// FinishRun ends a run as done with what it made, or as failed or cancelled with
// nothing, in one transaction with the rows of the plan or simulation. It answers with
// archive.ErrConflict when the run is no longer that attempt's; repeating a
// call that succeeded returns the run as it is.
func (db *DB) FinishRun(ctx context.Context, id string, attempt int, made archive.Made, state archive.State, message string) (run archive.Run, err error) {
	if !state.Ended() || made.Nothing() == (state == archive.Done) {
		panic(fmt.Sprintf("a run can not be finished as %q with a result: %t", state, !made.Nothing()))
	}
	err = db.transact(ctx, func(tx pgx.Tx) error {
		run, err = selectRun(ctx, tx, `where r.id = $1 for update of r`, id)
		if err != nil || run.Attempt == attempt && run.State == state {
			return err
		}
		if run.Attempt != attempt || run.State != archive.Running {
			return stale(run, attempt)
		}
		plan, simulation, err := saveMade(ctx, tx, run, made)
		if err != nil {
			return err
		}
		_, err = tx.Exec(ctx, `
			update work.runs set state = $2, plan = $3, simulation = $4, error = $5, finished = now(), lease_until = null,
			  done = case when $2 = 'done' then total else done end
			where id = $1`, id, state, plan, simulation, message)
		if err != nil {
			return err
		}
		run, err = selectRun(ctx, tx, `where r.id = $1`, id)
		return err
	})
	if err != nil {
		return archive.Run{}, translate(ctx, "finish run "+id, err)
	}
	return run, nil
}

// saveMade stores what a run made, if anything, and returns its id.
func saveMade(ctx context.Context, tx pgx.Tx, run archive.Run, made archive.Made) (plan, simulation *int64, err error) {
	switch {
	case made.Nothing():
		return nil, nil, nil
	case (made.Simulation != nil) != (run.Kind == archive.SimulationRun):
		panic("a run of kind " + string(run.Kind) + " can not be finished with another thing")
	case made.Simulation != nil:
		header, err := saveSimulation(ctx, tx, run.PlanID, false, made.Simulation)
		return nil, &header.ID, err
	}
	rev, err := oneRevision(ctx, tx, run.Plant, run.Revision)
	if err != nil {
		return nil, nil, err
	}
	header, err := savePlan(ctx, tx, rev, made.Plan)
	return &header.ID, nil, err
}
