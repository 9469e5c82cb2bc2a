package storage

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"lanewright/planner/archive"
)

const selectPublications = `
select x.id, p.name, x.plan, coalesce(x.draft, 0), coalesce(x.before_plan, 0), x.published_by, x.note, x.created, x.accepted,
  x.racks, x.lanes, x.loops, x.containers
from work.publications x
join facts.plants p on p.id = x.plant `

func readPublications(ctx context.Context, db querier, where string, args ...any) ([]archive.Publication, error) {
	rows, err := db.Query(ctx, selectPublications+where, args...)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (p archive.Publication, err error) {
		c := &p.Changed
		err = row.Scan(&p.ID, &p.Plant, &p.Plan, &p.Draft, &p.Before, &p.By, &p.Note, &p.Created, &p.Accepted, &c.Racks, &c.Lanes, &c.Loops, &c.Containers)
		return p, err
	})
}

// Publications lists the publications of a plant, the latest first, those before the
// one with the given id; 0 is all, and a limit below 1 is none. The first of all is what
// the floor works to.
func (db *DB) Publications(ctx context.Context, plant string, before int64, limit int) ([]archive.Publication, error) {
	if _, err := db.Plant(ctx, plant); err != nil {
		return nil, err
	}
	list, err := readPublications(ctx, db.pool, `where p.name = $1 and ($2 = 0 or x.id < $2) order by x.id desc limit $3`, plant, before, atMost(limit))
	return list, translate(ctx, "list publications of "+plant, err)
}

// Publish tells the floor of a plant to work to a plan: a stored one, or the one that a
// draft makes, which is stored with it. With a key that the plant's publications have
// already, that one is returned and created is false; it answers with
// archive.ErrConflict when it was asked for with other words. Where another plan was
// published, or the draft changed, meanwhile it answers with archive.ErrStale.
func (db *DB) Publish(ctx context.Context, n archive.NewPublication) (p archive.Publication, created bool, err error) {
	err = db.transact(ctx, func(tx pgx.Tx) error {
		plant, err := lockPlant(ctx, tx, n.Plant)
		if err != nil {
			return err
		}
		if p, err = publicationOfKey(ctx, tx, plant, n); err == nil || !errors.Is(err, pgx.ErrNoRows) {
			return err
		}
		created = true
		p, err = publish(ctx, tx, plant, n)
		return err
	})
	return p, created && err == nil, translate(ctx, "publish a plan of "+n.Plant, err)
}

// publicationOfKey returns the publication that was asked for with the same key, if it
// was asked for in the same words; pgx.ErrNoRows where there is none.
func publicationOfKey(ctx context.Context, tx pgx.Tx, plant int64, n archive.NewPublication) (archive.Publication, error) {
	list, err := readPublications(ctx, tx, `where x.plant = $1 and x.request_key = $2 and $2 <> ''`, plant, n.Key)
	if err == nil && len(list) == 0 {
		err = pgx.ErrNoRows
	}
	if err != nil {
		return archive.Publication{}, err
	}
	p := list[0]
	if p.Draft != n.Draft || n.Edited == nil && p.Plan != n.Plan || p.By != n.By || p.Note != n.Note {
		return p, fmt.Errorf("%w: the key %q was used for another request", archive.ErrConflict, n.Key)
	}
	return p, nil
}

func publish(ctx context.Context, tx pgx.Tx, plant int64, n archive.NewPublication) (archive.Publication, error) {
	var p archive.Publication
	last, err := readPublications(ctx, tx, `where x.plant = $1 order by x.id desc limit 1`, plant)
	if err != nil {
		return p, err
	}
	now := int64(0)
	if len(last) > 0 {
		now = last[0].Plan
	}
	if now != n.Before {
		return p, fmt.Errorf("%w: plan %d is published now", archive.ErrStale, now)
	}
	if n.Edited != nil {
		if n.Plan, err = saveEdited(ctx, tx, n); err != nil {
			return p, err
		}
	}
	accepted := n.Accepted
	if accepted == nil {
		accepted = []string{}
	}
	var id int64
	if err := tx.QueryRow(ctx, `
		insert into work.publications (plant, plan, draft, before_plan, published_by, note, accepted, racks, lanes, loops, containers, request_key)
		values ($1, $2, nullif($3::bigint, 0), nullif($4::bigint, 0), $5, $6, $7, $8, $9, $10, $11, $12) returning id`,
		plant, n.Plan, n.Draft, n.Before, n.By, n.Note, accepted, n.Changed.Racks, n.Changed.Lanes, n.Changed.Loops, n.Changed.Containers, n.Key).Scan(&id); err != nil {
		return p, err
	}
	list, err := readPublications(ctx, tx, `where x.id = $1`, id)
	if err != nil {
		return p, err
	}
	return list[0], nil
}

// saveEdited stores the plan that a draft makes and closes the draft.
func saveEdited(ctx context.Context, tx pgx.Tx, n archive.NewPublication) (int64, error) {
	d, err := loadDraft(ctx, tx, n.Draft, `where d.id = $1 for update of d`)
	switch {
	case err != nil:
		return 0, err
	case d.Published != 0:
		return 0, fmt.Errorf("%w: draft %d was published as plan %d", archive.ErrConflict, d.ID, d.Published)
	case d.Version != n.Version:
		return 0, fmt.Errorf("%w: draft %d is of version %d, not %d", archive.ErrStale, d.ID, d.Version, n.Version)
	}
	from, err := selectPlans(ctx, tx, `where x.id = $1`, d.Plan)
	if err != nil {
		return 0, err
	}
	rev, err := oneRevision(ctx, tx, n.Plant, from[0].Revision)
	if err != nil {
		return 0, err
	}
	header, err := savePlan(ctx, tx, rev, n.Edited, column{"edited_from", d.Plan}, column{"draft", d.ID})
	if err != nil {
		return 0, err
	}
	_, err = tx.Exec(ctx, `update work.drafts set published = $2, changed = now() where id = $1`, d.ID, header.ID)
	return header.ID, err
}
