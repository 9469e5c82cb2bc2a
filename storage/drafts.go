package storage

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"lanewright/planner/archive"
)

func draftName(id int64) string { return fmt.Sprintf("draft %d", id) }

func drafts(id int64) owner { return owner{"work", "draft", id} }

// stepEdit is an edit of the step that has that version.
type stepEdit struct {
	Version int
	editRow
}

func stepEditColumns(e *stepEdit) []column {
	return append([]column{{"version", &e.Version}}, editColumns(&e.editRow)...)
}

const selectDrafts = `
select d.id, d.plan, p.name, d.name, d.made_by, d.created, d.changed, d.version, coalesce(d.published, 0)
from work.drafts d
join plan.plans x on x.id = d.plan
join facts.revisions r on r.id = x.revision
join facts.plants p on p.id = r.plant `

func readDrafts(ctx context.Context, db querier, where string, args ...any) ([]archive.Draft, error) {
	rows, err := db.Query(ctx, selectDrafts+where, args...)
	if err != nil {
		return nil, err
	}
	var d archive.Draft
	var list []archive.Draft
	_, err = pgx.ForEachRow(rows, []any{&d.ID, &d.Plan, &d.Plant, &d.Name, &d.By, &d.Created, &d.Changed, &d.Version, &d.Published}, func() error {
		list = append(list, d)
		return nil
	})
	return list, err
}

// CreateDraft begins a draft of a plan. With a key that the plan's drafts have already,
// the draft of that key is returned and created is false; it answers with
// archive.ErrConflict when that was asked for with other words.
func (db *DB) CreateDraft(ctx context.Context, n archive.NewDraft) (d archive.Draft, created bool, err error) {
	if _, err := db.Plan(ctx, n.Plan); err != nil {
		return d, false, err
	}
	var id int64
	err = db.pool.QueryRow(ctx, `
		insert into work.drafts (plan, name, made_by, request_key) values ($1, $2, $3, $4)
		on conflict (plan, request_key) where request_key <> '' do nothing returning id`, n.Plan, n.Name, n.By, n.Key).Scan(&id)
	if errors.Is(err, pgx.ErrNoRows) {
		err = db.pool.QueryRow(ctx, `select id from work.drafts where plan = $1 and request_key = $2`, n.Plan, n.Key).Scan(&id)
	} else {
		created = err == nil
	}
	if err != nil {
		return d, false, translate(ctx, "create draft of "+planName(n.Plan), err)
	}
	if d, err = db.Draft(ctx, id); err == nil && (d.Name != n.Name || d.By != n.By) {
		err = fmt.Errorf("create draft: %w: the key %q was used for another request", archive.ErrConflict, n.Key)
	}
	return d, created, err
}

// Drafts lists the drafts of a plan by id, those after the given one, without their
// steps; a limit below 1 is none.
func (db *DB) Drafts(ctx context.Context, plan, after int64, limit int) ([]archive.Draft, error) {
	if _, err := db.Plan(ctx, plan); err != nil {
		return nil, err
	}
	list, err := readDrafts(ctx, db.pool, `where d.plan = $1 and d.id > $2 order by d.id limit $3`, plan, after, atMost(limit))
	return list, translate(ctx, "list drafts of "+planName(plan), err)
}

// PlantDrafts lists the drafts of a plant with their steps, the latest first, those
// before the one with the given id; 0 is all, and a limit below 1 is none.
func (db *DB) PlantDrafts(ctx context.Context, plant string, before int64, limit int) (list []archive.Draft, err error) {
	if _, err := db.Plant(ctx, plant); err != nil {
		return nil, err
	}
	err = pgx.BeginTxFunc(ctx, db.pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(tx pgx.Tx) error {
		if list, err = readDrafts(ctx, tx, `where p.name = $1 and ($2 = 0 or d.id < $2) order by d.id desc limit $3`, plant, before, atMost(limit)); err != nil {
			return err
		}
		return readSteps(ctx, tx, list)
	})
	return list, translate(ctx, "list drafts of "+plant, err)
}

// Draft returns a draft with all its steps.
func (db *DB) Draft(ctx context.Context, id int64) (d archive.Draft, err error) {
	// One view of the tables: a step that others take meanwhile is in all of them or none.
	err = pgx.BeginTxFunc(ctx, db.pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(tx pgx.Tx) error {
		d, err = loadDraft(ctx, tx, id, `where d.id = $1`)
		return err
	})
	return d, translate(ctx, draftName(id), err)
}

func loadDraft(ctx context.Context, tx pgx.Tx, id int64, where string) (archive.Draft, error) {
	list, err := readDrafts(ctx, tx, where, id)
	if err == nil && len(list) == 0 {
		err = pgx.ErrNoRows
	}
	if err != nil {
		return archive.Draft{}, err
	}
	err = readSteps(ctx, tx, list[:1])
	return list[0], err
}

// readSteps adds the steps of drafts, with two questions for all of them.
func readSteps(ctx context.Context, tx pgx.Tx, list []archive.Draft) error {
	ids := make([]int64, len(list))
	at := map[int64]*archive.Draft{}
	for i := range list {
		ids[i], at[list[i].ID] = list[i].ID, &list[i]
	}
	rows, err := tx.Query(ctx, `select draft, version, kind, made_by, made, request_key from work.draft_steps where draft = any($1) order by draft, version`, ids)
	if err != nil {
		return err
	}
	var id int64
	var s archive.Step
	if _, err := pgx.ForEachRow(rows, []any{&id, &s.Version, &s.Kind, &s.By, &s.Made, &s.Key}, func() error {
		at[id].Steps = append(at[id].Steps, s)
		return nil
	}); err != nil {
		return err
	}
	var row stepEdit
	names, fields := []string{"draft"}, []any{&id}
	for _, c := range stepEditColumns(&row) {
		names, fields = append(names, c.name), append(fields, c.field)
	}
	rows, err = tx.Query(ctx, `select `+strings.Join(names, ", ")+` from work.draft_edits where draft = any($1) order by draft, version, ordinal`, ids)
	if err != nil {
		return err
	}
	_, err = pgx.ForEachRow(rows, fields, func() error {
		e, err := row.edit()
		if err != nil {
			return err
		}
		step := &at[id].Steps[row.Version-1]
		step.Edits = append(step.Edits, e)
		row = stepEdit{}
		return nil
	})
	return err
}

// AddStep takes a step of a draft. With a key that a step of the draft has already the
// draft is returned as it is. It answers with archive.ErrStale where the draft is not of
// the version that the step comes after, and with archive.ErrConflict where it has been
// published.
func (db *DB) AddStep(ctx context.Context, id int64, n archive.NewStep) (d archive.Draft, err error) {
	err = db.transact(ctx, func(tx pgx.Tx) error {
		if d, err = loadDraft(ctx, tx, id, `where d.id = $1 for update of d`); err != nil {
			return err
		}
		if n.Key != "" && slices.ContainsFunc(d.Steps, func(s archive.Step) bool { return s.Key == n.Key }) {
			return nil
		}
		if d.Published != 0 {
			return fmt.Errorf("%w: it was published as plan %d", archive.ErrConflict, d.Published)
		}
		if d.Version != n.After {
			return fmt.Errorf("%w: it is of version %d, not %d", archive.ErrStale, d.Version, n.After)
		}
		if err := writeStep(ctx, tx, id, n); err != nil {
			return err
		}
		d, err = loadDraft(ctx, tx, id, `where d.id = $1`)
		return err
	})
	return d, translate(ctx, draftName(id), err)
}

func writeStep(ctx context.Context, tx pgx.Tx, id int64, n archive.NewStep) error {
	if _, err := tx.Exec(ctx, `
		insert into work.draft_steps (draft, version, kind, made_by, request_key) values ($1, $2, $3, $4, $5)`,
		id, n.After+1, n.Kind, n.By, n.Key); err != nil {
		return err
	}
	if _, err := tx.Exec(ctx, `update work.drafts set version = $2, changed = now() where id = $1`, id, n.After+1); err != nil {
		return err
	}
	rows := make([]stepEdit, len(n.Edits))
	for i, e := range n.Edits {
		rows[i] = stepEdit{n.After + 1, newEditRow(e)}
	}
	w := &writer{owner: drafts(id), ctx: ctx, tx: tx}
	writeAll(w, "draft_edits", stepEditColumns, rows)
	return w.err
}

// RemoveDraft throws a draft away with all its steps. One that was published stays: it
// says where its plan comes from; so does one that is not of the version that was seen
// (archive.ErrStale).
func (db *DB) RemoveDraft(ctx context.Context, id int64, seen int) error {
	err := db.transact(ctx, func(tx pgx.Tx) error {
		d, err := loadDraft(ctx, tx, id, `where d.id = $1 for update of d`)
		if err == nil && d.Published != 0 {
			err = fmt.Errorf("%w: it was published as plan %d", archive.ErrConflict, d.Published)
		}
		if err == nil && d.Version != seen {
			err = fmt.Errorf("%w: it is of version %d, not %d", archive.ErrStale, d.Version, seen)
		}
		if err == nil {
			_, err = tx.Exec(ctx, `delete from work.drafts where id = $1`, id)
		}
		return err
	})
	return translate(ctx, draftName(id), err)
}
