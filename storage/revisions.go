package storage

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// revision is a revision with its key.
type revision struct {
	ID int64
	archive.Revision
}

const selectRevisions = `
select r.id, p.name as plant, r.number, r.hash, r.created, r.errors, r.warnings, r.notes,
  coalesce((select json_agg(json_build_object('File', s.file, 'Sheet', s.sheet, 'Rows', s.rows,
    'Used', s.used, 'Reported', s.reported, 'Skipped', s.skipped) order by s.ordinal)
    from facts.sheets s where s.revision = r.id), '[]') as sheets
from facts.revisions r join facts.plants p on p.id = r.plant `

// SaveRevision is SaveRevisionAfter whatever the plant's latest revision is.
func (db *DB) SaveRevision(ctx context.Context, name string, p *plant.Plant, hash string, sheets []archive.SheetCount, findings finding.List) (rev archive.Revision, created bool, err error) {
	return db.SaveRevisionAfter(ctx, name, archive.AnyRevision, p, hash, sheets, findings)
}

// SaveRevisionAfter stores facts as the next revision of the plant called name,
// with the ledger of their sheets and their findings. hash is plant.Revision
// of p. Where the plant's latest revision has the same hash, that one is
// returned, nothing is stored and created is false. Else the latest must be
// the one numbered after (0: there is none yet; archive.AnyRevision: whatever
// it is), or the error is archive.ErrStale and nothing is stored.
func (db *DB) SaveRevisionAfter(ctx context.Context, name string, after int, p *plant.Plant, hash string, sheets []archive.SheetCount, findings finding.List) (rev archive.Revision, created bool, err error) {
	err = db.transact(ctx, func(tx pgx.Tx) error {
		plantID, err := lockPlant(ctx, tx, name)
		if err != nil {
			return err
		}
		latest, err := oneRevision(ctx, tx, name, 0)
		if err == nil && latest.Hash == hash {
			rev = latest.Revision
			return nil
		}
		if err != nil && !errors.Is(err, pgx.ErrNoRows) {
			return err
		}
		if after != archive.AnyRevision && after != latest.Number {
			return fmt.Errorf("%w: revision %d is the latest now", archive.ErrStale, latest.Number)
		}
		created = true
		rev, err = insertRevision(ctx, tx, plantID, latest.Number+1, p, hash, sheets, findings)
		rev.Plant = name
		return err
	})
	if err != nil {
		return archive.Revision{}, false, translate(ctx, "save revision of "+name, err)
	}
	return rev, created, nil
}

// lockPlant returns the key of the plant called name, making it where there is
// none, and keeps others from adding revisions until the transaction ends.
func lockPlant(ctx context.Context, tx pgx.Tx, name string) (id int64, err error) {
	_, err = tx.Exec(ctx, `insert into facts.plants (name) values ($1) on conflict (name) do nothing`, name)
	if err != nil {
		return 0, err
	}
	err = tx.QueryRow(ctx, `select id from facts.plants where name = $1 for update`, name).Scan(&id)
	return id, err
}

func insertRevision(ctx context.Context, tx pgx.Tx, plantID int64, number int, p *plant.Plant, hash string, sheets []archive.SheetCount, findings finding.List) (archive.Revision, error) {
	rev := archive.Revision{
		Number: number, Hash: hash, Sheets: sheets,
		Errors: findings.Count(finding.Error), Warnings: findings.Count(finding.Warning), Notes: findings.Count(finding.Note),
	}
	var id int64
	err := tx.QueryRow(ctx, `
		insert into facts.revisions (plant, number, hash, plant_name, errors, warnings, notes)
		values ($1, $2, $3, $4, $5, $6, $7) returning id, created`,
		plantID, number, hash, p.Name, rev.Errors, rev.Warnings, rev.Notes).Scan(&id, &rev.Created)
	if err != nil {
		return rev, err
	}
	w := &writer{owner: facts(id), ctx: ctx, tx: tx}
	writeAll(w, "sheets", sheetColumns, sheets)
	writePlant(w, p)
	writeFindings(w, "", findings)
	return rev, w.err
}

func sheetColumns(s *archive.SheetCount) []column {
	return []column{
		{"file", &s.File}, {"sheet", &s.Sheet}, {"rows", &s.Rows}, {"used", &s.Used},
		{"reported", &s.Reported}, {"skipped", &s.Skipped},
	}
}

// Revisions lists the revisions of a plant by number, those after the given
// one; a limit below 1 is none.
func (db *DB) Revisions(ctx context.Context, plant string, after, limit int) ([]archive.Revision, error) {
	if _, err := db.Plant(ctx, plant); err != nil {
		return nil, err
	}
	rows, err := db.pool.Query(ctx, selectRevisions+`
		where p.name = $1 and r.number > $2::bigint order by r.number limit $3`, plant, after, atMost(limit))
	if err != nil {
		return nil, translate(ctx, "list revisions of "+plant, err)
	}
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (archive.Revision, error) {
		r, err := pgx.RowToStructByName[revision](row)
		return r.Revision, err
	})
	return list, translate(ctx, "list revisions of "+plant, err)
}

// Revision returns the revision of a plant with the given number, the latest
// for 0.
func (db *DB) Revision(ctx context.Context, plant string, number int) (archive.Revision, error) {
	r, err := db.revision(ctx, plant, number)
	return r.Revision, err
}

func (db *DB) revision(ctx context.Context, plant string, number int) (revision, error) {
	if !storable(plant) {
		return revision{}, missing("plant %q", plant)
	}
	r, err := oneRevision(ctx, db.pool, plant, number)
	return r, translate(ctx, revisionName(plant, number), err)
}

func revisionName(plant string, number int) string {
	if number == 0 {
		return fmt.Sprintf("plant %q (no file was imported for it yet)", plant)
	}
	return fmt.Sprintf("revision %d of %s", number, plant)
}

func oneRevision(ctx context.Context, db querier, plant string, number int) (revision, error) {
	rows, err := db.Query(ctx, selectRevisions+`
		where p.name = $1 and (r.number = $2 or $2 = 0) order by r.number desc limit 1`, plant, number)
	if err != nil {
		return revision{}, err
	}
	return pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[revision])
}

// LoadPlant returns the facts of a revision (0 is the latest), the findings of
// its import and its header.
func (db *DB) LoadPlant(ctx context.Context, name string, number int) (*plant.Plant, finding.List, archive.Revision, error) {
	rev, err := db.revision(ctx, name, number)
	if err != nil {
		return nil, nil, archive.Revision{}, err
	}
	r := &reader{owner: facts(rev.ID), ctx: ctx, db: db.pool}
	p := readPlant(r)
	findings := readFindings(r, "")
	if r.err == nil {
		r.err = db.pool.QueryRow(ctx, `select plant_name from facts.revisions where id = $1`, rev.ID).Scan(&p.Name)
	}
	if r.err != nil {
		return nil, nil, archive.Revision{}, translate(ctx, "load "+revisionName(name, number), r.err)
	}
	return p, findings, rev.Revision, nil
}
