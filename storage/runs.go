package storage

import (
	"context"
	"crypto/rand"
	"fmt"
	"maps"
	"time"

	"github.com/jackc/pgx/v5"

	"lanewright/planner/archive"
)

// Attempts is how many workers may die of a run before it is given up: it would
// kill the fourth as well.
const Attempts = 3

// runColumns is what a run shows.
const runColumns = `
  r.id, r.kind, p.name, v.number, r.played, r.settings, r.state, r.stage, r.done, r.total, r.plan, r.simulation, r.error,
  r.created, r.started, r.finished, r.attempt, r.sequence`

const selectRuns = `select ` + runColumns + `
from work.runs r
join facts.plants p on p.id = r.plant
join facts.revisions v on v.id = r.revision `

func scanRun(row pgx.CollectableRow) (archive.Run, error) {
	var r archive.Run
	var played, plan, simulation *int64
	var started, finished *time.Time
	err := row.Scan(&r.ID, &r.Kind, &r.Plant, &r.Revision, &played, &r.Settings, &r.State, &r.Stage, &r.Done, &r.Total,
		&plan, &simulation, &r.Error, &r.Created, &started, &finished, &r.Attempt, &r.Sequence)
	r.PlanID, r.Plan, r.Simulation = orZero(played), orZero(plan), orZero(simulation)
	r.Started, r.Finished = orZero(started), orZero(finished)
	return r, err
}

func orZero[T any](p *T) (v T) {
	if p != nil {
		v = *p
	}
	return v
}

func selectRun(ctx context.Context, db querier, where string, args ...any) (archive.Run, error) {
	rows, err := db.Query(ctx, selectRuns+where, args...)
	if err != nil {
		return archive.Run{}, err
	}
	return pgx.CollectExactlyOneRow(rows, scanRun)
}

// CreateRun queues the making of a plan, or the playing of one. With a key that the plant's runs have
// already, the run of that key is returned and created is false; it answers
// with archive.ErrConflict when that run was asked for with other words.
func (db *DB) CreateRun(ctx context.Context, n archive.NewRun) (run archive.Run, created bool, err error) {
	if n, err = db.complete(ctx, n); err != nil {
		return archive.Run{}, false, err
	}
	rev, err := db.revision(ctx, n.Plant, n.Revision)
	if err != nil {
		return archive.Run{}, false, err
	}
	id := rand.Text()
	tag, err := db.pool.Exec(ctx, `
		insert into work.runs (id, plant, revision, asked_revision, settings, request_key, kind, played)
		select $1, v.plant, v.id, $3, $4, $5, $6, nullif($7::bigint, 0) from facts.revisions v where v.id = $2
		on conflict (plant, request_key) where request_key <> '' do nothing`,
		id, rev.ID, n.Revision, n.Settings, n.Key, n.Kind, n.PlanID)
	if err != nil {
		return archive.Run{}, false, translate(ctx, "create run", err)
	}
	if tag.RowsAffected() == 0 {
		run, err = db.runOfKey(ctx, n)
		return run, false, err
	}
	run, err = db.Run(ctx, id)
	return run, err == nil, err
}

// complete fills in what a request leaves open; a play has the plant and the
// revision of its plan.
func (db *DB) complete(ctx context.Context, n archive.NewRun) (archive.NewRun, error) {
	if n.Settings == nil {
		n.Settings = map[string]string{}
	}
	if n.Kind == "" {
		n.Kind = archive.PlanRun
	}
	if n.Kind == archive.PlanRun {
		n.PlanID = 0
		return n, nil
	}
	p, err := db.Plan(ctx, n.PlanID)
	n.Plant, n.Revision = p.Plant, p.Revision
	return n, err
}

// runOfKey returns the run that was asked for with the same key, if it was
// asked for in the same words.
func (db *DB) runOfKey(ctx context.Context, n archive.NewRun) (archive.Run, error) {
	run, err := selectRun(ctx, db.pool, `where p.name = $1 and r.request_key = $2`, n.Plant, n.Key)
	if err != nil {
		return archive.Run{}, translate(ctx, "create run", err)
	}
	var asked int
	err = db.pool.QueryRow(ctx, `select asked_revision from work.runs where id = $1`, run.ID).Scan(&asked)
	if err != nil {
		return archive.Run{}, translate(ctx, "create run", err)
	}
	if asked != n.Revision || run.Kind != n.Kind || run.PlanID != n.PlanID || !maps.Equal(run.Settings, n.Settings) {
		return archive.Run{}, fmt.Errorf("create run: %w: the key %q was used for another request", archive.ErrConflict, n.Key)
	}
	return run, nil
}

// Run returns a run.
func (db *DB) Run(ctx context.Context, id string) (archive.Run, error) {
	if !storable(id) {
		return archive.Run{}, missing("run %q", id)
	}
	run, err := selectRun(ctx, db.pool, `where r.id = $1`, id)
	return run, translate(ctx, "run "+id, err)
}

// Runs lists the runs of a plant in the order they were asked for, those after
// the one with the given id (empty for all); a limit below 1 is none.
func (db *DB) Runs(ctx context.Context, plant, after string, limit int) ([]archive.Run, error) {
	if _, err := db.Plant(ctx, plant); err != nil {
		return nil, err
	}
	if after != "" {
		if _, err := db.Run(ctx, after); err != nil {
			return nil, err
		}
	}
	rows, err := db.pool.Query(ctx, selectRuns+`
		where p.name = $1 and r.number > coalesce((select number from work.runs where id = $2), 0)
		order by r.number limit $3`, plant, after, atMost(limit))
	if err != nil {
		return nil, translate(ctx, "list runs of "+plant, err)
	}
	list, err := pgx.CollectRows(rows, scanRun)
	return list, translate(ctx, "list runs of "+plant, err)
}

// CancelRun ends a queued run at once and asks the worker of a running one to
// stop, which ReportRun tells it. A run that has ended stays as it is.
func (db *DB) CancelRun(ctx context.Context, id string) (archive.Run, error) {
	if !storable(id) {
		return archive.Run{}, missing("run %q", id)
	}
	_, err := db.pool.Exec(ctx, `
		update work.runs set cancel = true,
		  state = case state when 'queued' then 'cancelled' else state end,
		  finished = case state when 'queued' then now() end
		where id = $1 and state in ('queued', 'running') and not cancel`, id)
	if err != nil {
		return archive.Run{}, translate(ctx, "cancel run "+id, err)
	}
	return db.Run(ctx, id)
}
