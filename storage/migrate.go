package storage

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"

	"lanewright/migrations"
)

// versionTable is where the database keeps which migrations it has.
const versionTable = "lanewright_migrations"

// Migrate brings the tables up to the program's version. Any number of
// programs may do so at once: one works, the others wait for it. It refuses a
// database that a newer program has migrated.
func (db *DB) Migrate(ctx context.Context) error {
	return db.migrations(ctx, "migrate", func(p *goose.Provider) error {
		current, latest, err := p.GetVersions(ctx)
		if err != nil {
			return err
		}
		if current > latest {
			return unsuitable("its tables are of version %d and this program knows %d; use a newer program", current, latest)
		}
		_, err = p.Up(ctx)
		return err
	})
}

// MigrationStatus returns the version the tables have and the one this
// program wants. A version that was left out, because it was made later than one of a
// higher number, ends the count.
func (db *DB) MigrationStatus(ctx context.Context) (current, latest int64, err error) {
	err = db.migrations(ctx, "migration status", func(p *goose.Provider) error {
		if current, latest, err = p.GetVersions(ctx); err != nil || current > latest {
			return err
		}
		list, err := p.Status(ctx)
		current = 0
		for _, m := range list {
			if m.State != goose.StateApplied {
				break
			}
			current = m.Source.Version
		}
		return err
	})
	return current, latest, err
}

// MigrateDown takes the tables back to version to, 0 for none, with all that
// lies in what is taken away.
func (db *DB) MigrateDown(ctx context.Context, to int64) error {
	return db.migrations(ctx, "migrate down", func(p *goose.Provider) error {
		_, err := p.DownTo(ctx, to)
		return err
	})
}

// migrations calls f with a provider and afterwards drops the pool's
// connections, whose prepared statements may name tables of another version.
func (db *DB) migrations(ctx context.Context, operation string, f func(*goose.Provider) error) error {
	bridge := stdlib.OpenDBFromPool(db.pool)
	defer bridge.Close()
	p, err := provider(bridge)
	if err == nil {
		err = f(p)
		db.pool.Reset()
	}
	return translate(ctx, operation, err)
}

func provider(bridge *sql.DB) (*goose.Provider, error) {
	locker, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(1, 300))
	if err != nil {
		return nil, fmt.Errorf("lock: %w", err)
	}
	// A database that got a later number first takes an earlier one too: they are made
	// side by side.
	p, err := goose.NewProvider(goose.DialectPostgres, bridge, migrations.Files(), goose.WithAllowOutofOrder(true),
		goose.WithSessionLocker(locker), goose.WithTableName(versionTable), goose.WithDisableGlobalRegistry(true))
	if errors.Is(err, goose.ErrNoMigrations) {
		panic("the program was built without its migrations")
	}
	return p, err
}
