package storage

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"lanewright/planner/ticks"
)

const selectTicks = `
select t.id::text, t.round, t.at, t.received, t.kind, t.stop, t.level, t.lane, t.part, t.containers, t.reason, t.note, t.who, coalesce(t.undoes::text, '')
from work.ticks t `

func scanTick(row pgx.CollectableRow) (ticks.Tick, error) {
	var t ticks.Tick
	var round string
	err := row.Scan(&t.ID, &round, &t.At, &t.Received, &t.Kind, &t.Stop, &t.Level, &t.Lane, &t.Part, &t.Containers, &t.Reason, &t.Text, &t.Who, &t.Undoes)
	t.At, t.Received = t.At.UTC(), t.Received.UTC()
	if err == nil {
		var ok bool
		if t.Round, ok = ticks.ParseRoundID(round); !ok {
			err = fmt.Errorf("tick %s names the round %q, which is no name of a round", t.ID, round)
		}
	}
	return t, err
}

func collectTicks(ctx context.Context, db querier, where string, args ...any) ([]ticks.Tick, error) {
	rows, err := db.Query(ctx, selectTicks+where, args...)
	if err != nil {
		return nil, err
	}
	list, err := pgx.CollectRows(rows, scanTick)
	ticks.Sort(list)
	return list, err
}

// SaveTicks keeps ticks of one round and tells what became of each. Where one clashes
// nothing is kept.
func (db *DB) SaveTicks(ctx context.Context, round ticks.RoundID, list []ticks.Tick) (out []ticks.Outcome, err error) {
	err = db.transact(ctx, func(tx pgx.Tx) error {
		out, err = saveTicks(ctx, tx, round, list)
		return err
	})
	return out, translate(ctx, "save ticks of round "+round.String(), err)
}

func saveTicks(ctx context.Context, tx pgx.Tx, round ticks.RoundID, list []ticks.Tick) ([]ticks.Outcome, error) {
	// One at a time for each round, so that what is read here stays true.
	if _, err := tx.Exec(ctx, `select pg_advisory_xact_lock(hashtextextended($1, 0))`, "ticks "+round.String()); err != nil {
		return nil, err
	}
	ids := make([]string, len(list))
	for i, t := range list {
		ids[i] = t.ID
	}
	before, err := collectTicks(ctx, tx, `where t.id = any($1::uuid[])`, ids)
	if err != nil {
		return nil, err
	}
	kept := make(map[string]ticks.Tick, len(list))
	for _, t := range before {
		kept[t.ID] = t
	}
	var count int
	if err := tx.QueryRow(ctx, `select count(*) from work.ticks where round = $1`, round.String()).Scan(&count); err != nil {
		return nil, err
	}
	out := ticks.Judge(kept, count, list)
	if slices.Contains(out, ticks.Clashes) {
		return out, nil
	}
	insert := &pgx.Batch{}
	for i, t := range list {
		if out[i] == ticks.Accepted {
			insert.Queue(`
				insert into work.ticks (id, plan, day, round, at, kind, stop, level, lane, part, containers, reason, note, who, undoes)
				values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, nullif($15, '')::uuid)`,
				t.ID, round.Plan, round.Day, round.String(), t.At, t.Kind, t.Stop, t.Level, t.Lane, t.Part, t.Containers, t.Reason, t.Text, t.Who, t.Undoes)
		}
	}
	return out, tx.SendBatch(ctx, insert).Close()
}

// Ticks lists the ticks of a round by the device's time, then id.
func (db *DB) Ticks(ctx context.Context, round ticks.RoundID) ([]ticks.Tick, error) {
	list, err := collectTicks(ctx, db.pool, `where t.round = $1`, round.String())
	return list, translate(ctx, "list ticks of round "+round.String(), err)
}

// TicksOn lists the ticks on the rounds of a plant's day, whatever plan they are of.
func (db *DB) TicksOn(ctx context.Context, plant string, day time.Time) ([]ticks.Tick, error) {
	if !storable(plant) {
		return nil, nil
	}
	list, err := collectTicks(ctx, db.pool, `
		join plan.plans x on x.id = t.plan
		join facts.revisions r on r.id = x.revision
		join facts.plants p on p.id = r.plant
		where t.day = $1 and p.name = $2`, day, plant)
	return list, translate(ctx, "list ticks of "+plant, err)
}
