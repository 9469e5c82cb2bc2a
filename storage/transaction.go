package storage

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// commitTime is how long a commit may take once it was sent.
const commitTime = time.Minute

// transact runs f in a transaction: what it writes is stored whole when
// transact returns nil, and not at all when it returns an error, unless the
// connection broke in the very moment of the commit. So that the caller's
// cancelling is no such moment, a commit that has begun is not cancelled.
func (db *DB) transact(ctx context.Context, f func(pgx.Tx) error) error {
	tx, err := db.pool.Begin(ctx)
	if err != nil {
		return err
	}
	late, done := context.WithTimeout(context.WithoutCancel(ctx), commitTime)
	defer done()
	// After a commit this does nothing.
	defer tx.Rollback(late)
	if err := f(tx); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return tx.Commit(late)
}
