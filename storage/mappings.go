package storage

import (
	"context"

	"github.com/jackc/pgx/v5"

	"lanewright/planner/archive"
)

// SaveMapping keeps a mapping of a plant, in the place of an earlier one for
// the same shape; the plant is made where there is none.
func (db *DB) SaveMapping(ctx context.Context, plant, shape, text string) error {
	err := db.transact(ctx, func(tx pgx.Tx) error {
		id, err := lockPlant(ctx, tx, plant)
		if err != nil {
			return err
		}
		_, err = tx.Exec(ctx, `
			insert into work.mappings (plant, shape, text) values ($1, $2, $3)
			on conflict (plant, shape) do update set text = excluded.text, created = now()`, id, shape, text)
		return err
	})
	return translate(ctx, "save a mapping of "+plant, err)
}

// Mappings lists the mappings of a plant, the latest first. A plant that is
// not there has none.
func (db *DB) Mappings(ctx context.Context, plant string) ([]archive.Mapping, error) {
	if !storable(plant) {
		return nil, nil
	}
	rows, err := db.pool.Query(ctx, `
		select m.shape, m.text, m.created from work.mappings m join facts.plants p on p.id = m.plant
		where p.name = $1 order by m.created desc, m.shape`, plant)
	if err != nil {
		return nil, translate(ctx, "list mappings of "+plant, err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[archive.Mapping])
	return list, translate(ctx, "list mappings of "+plant, err)
}

// RemoveMapping forgets the mapping of a shape.
func (db *DB) RemoveMapping(ctx context.Context, plant, shape string) error {
	if !storable(plant) || !storable(shape) {
		return missing("mapping %q of %q", shape, plant)
	}
	done, err := db.pool.Exec(ctx, `
		delete from work.mappings m using facts.plants p where p.id = m.plant and p.name = $1 and m.shape = $2`, plant, shape)
	if err == nil && done.RowsAffected() == 0 {
		return missing("mapping %q of %q", shape, plant)
	}
	return translate(ctx, "remove a mapping of "+plant, err)
}
