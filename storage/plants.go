package storage

import (
	"context"

	"github.com/jackc/pgx/v5"

	"lanewright/planner/archive"
)

const selectPlants = `
select p.name, p.created,
  (select count(*) from facts.revisions r where r.plant = p.id) as revisions,
  count(x.id) as plans, coalesce(max(x.id), 0) as latest_plan
from facts.plants p
left join facts.revisions r on r.plant = p.id
left join plan.plans x on x.revision = r.id `

// Plants lists plants by name, those after the given one; a limit below 1 is
// none.
func (db *DB) Plants(ctx context.Context, after string, limit int) ([]archive.Plant, error) {
	rows, err := db.pool.Query(ctx, selectPlants+`
		where p.name > $1 group by p.id order by p.name limit $2`, after, atMost(limit))
	if err != nil {
		return nil, translate(ctx, "list plants", err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[archive.Plant])
	return list, translate(ctx, "list plants", err)
}

// Plant returns one plant.
func (db *DB) Plant(ctx context.Context, name string) (archive.Plant, error) {
	if !storable(name) {
		return archive.Plant{}, missing("plant %q", name)
	}
	rows, err := db.pool.Query(ctx, selectPlants+`where p.name = $1 group by p.id`, name)
	if err != nil {
		return archive.Plant{}, translate(ctx, "plant "+name, err)
	}
	p, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[archive.Plant])
	return p, translate(ctx, "plant "+name, err)
}

// atMost turns a limit into the argument of LIMIT, where NULL is none.
func atMost(limit int) *int {
	if limit < 1 {
		return nil
	}
	return &limit
}
