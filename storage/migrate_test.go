package storage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"lanewright/planner/archive"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/storage"
	"lanewright/storage/storagetest"
)

func version(t *testing.T, db *storage.DB) int64 {
	t.Helper()
	current, _, err := db.MigrationStatus(t.Context())
	require.NoError(t, err)
	return current
}

// objects lists what the migrations made, to compare one state with another.
func objects(t *testing.T, db *storage.DB) (list []string) {
	t.Helper()
	rows, err := db.Pool().Query(t.Context(), `
		select format('%s %s %s %s', table_schema, table_name, column_name, data_type) from information_schema.columns
		  where table_schema in ('facts', 'plan', 'work', 'report')
		union all select format('trigger %s %s', event_object_schema, event_object_table) || trigger_name || event_manipulation
		  from information_schema.triggers
		union all select 'routine ' || routine_schema || '.' || routine_name from information_schema.routines
		  where routine_schema in ('facts', 'plan', 'work', 'report')
		union all select 'index ' || indexdef from pg_indexes where schemaname in ('facts', 'plan', 'work')
		union all select 'schema ' || schema_name from information_schema.schemata where schema_name in ('facts', 'plan', 'work', 'report')
		order by 1`)
	require.NoError(t, err)
	for rows.Next() {
		var s string
		require.NoError(t, rows.Scan(&s))
		list = append(list, s)
	}
	require.NoError(t, rows.Err())
	return list
}

func TestMigrateUpDownUp(t *testing.T) {
	t.Parallel()
	db := storagetest.Open(t, storagetest.Empty(t))
	current, latest, err := db.MigrationStatus(t.Context())
	require.NoError(t, err)
	require.Zero(t, current)
	require.Positive(t, latest)
	require.NoError(t, db.Migrate(t.Context()))
	require.Equal(t, latest, version(t, db))
	whole := objects(t, db)
	require.NotEmpty(t, whole)

	for to := latest - 1; to >= 0; to-- {
		require.NoError(t, db.MigrateDown(t.Context(), to))
		require.LessOrEqual(t, version(t, db), to, "numbers may be left out")
	}
	assert.Empty(t, objects(t, db), "down takes away all that up made")
	require.NoError(t, db.Migrate(t.Context()))
	assert.Equal(t, whole, objects(t, db))
	savedPlant(t, db, "a")
}

// TestMigrateDownAndUpOneByOne takes every migration back and puts it there
// again on tables that hold something.
func TestMigrateDownAndUpOneByOne(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, rev := savedPlant(t, db, "a")
	_, err := db.SavePlan(t.Context(), "a", 1, filledPlan(rev.Hash))
	require.NoError(t, err)
	whole := objects(t, db)
	for to := version(t, db) - 1; to >= 0; to-- {
		require.NoError(t, db.MigrateDown(t.Context(), to))
		require.NoError(t, db.Migrate(t.Context()))
		require.Equal(t, whole, objects(t, db), "after going back to %d", to)
	}
}

// TestMigrateWhatWasLeftOut: a database that has the last migration and lacks one before
// it gets that one.
func TestMigrateWhatWasLeftOut(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	whole := objects(t, db)
	_, err := db.Pool().Exec(t.Context(), `drop table work.ticks`)
	require.NoError(t, err)
	_, err = db.Pool().Exec(t.Context(), `delete from lanewright_migrations where version_id = 13`)
	require.NoError(t, err)
	require.NoError(t, db.Migrate(t.Context()))
	assert.Equal(t, whole, objects(t, db))
}

// TestFactsOfBefore: facts and plans that were stored when there was no service
// measure, and no prices, have what the program assumed then.
func TestFactsOfBefore(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, rev := savedPlant(t, db, "a")
	header, err := db.SavePlan(t.Context(), "a", 1, filledPlan(rev.Hash))
	require.NoError(t, err)
	require.NoError(t, db.MigrateDown(t.Context(), 6))
	_, err = db.Pool().Exec(t.Context(), `alter table plan.settings disable trigger sealed`)
	require.NoError(t, err)
	_, err = db.Pool().Exec(t.Context(), `delete from plan.settings where key in ('service_measure', 'weeks_per_year', 'simulation_weeks', 'rack_life_years')`)
	require.NoError(t, err)
	require.NoError(t, db.Migrate(t.Context()))

	p, _, _, err := db.LoadPlant(t.Context(), "a", 1)
	require.NoError(t, err)
	usual := plant.DefaultSettings()
	got := p.Settings
	got.Measure, got.History = usual.Measure, usual.History
	got.ShortagesPerYear, got.WeeksPerYear, got.Prices = usual.ShortagesPerYear, usual.WeeksPerYear, usual.Prices
	checkSame(t, got, p.Settings)
	plan, err := db.LoadPlan(t.Context(), header.ID)
	require.NoError(t, err)
	assert.Equal(t, plant.ServicePerCycle, plan.Loops[0].Measure)
	assert.Equal(t, usual.Measure, plan.Settings.Plant.Measure)
	assert.Equal(t, usual.Prices.RackYears.String(), plan.Settings.Plant.Prices.RackYears.String())
	assert.Equal(t, simulation.DefaultSettings().Weeks, plan.Settings.Simulation.Weeks)
}

func TestFourMigratorsAtOnce(t *testing.T) {
	t.Parallel()
	url := storagetest.Empty(t)
	var group errgroup.Group
	var last *storage.DB
	for range 4 {
		db := storagetest.Open(t, url)
		last = db
		group.Go(func() error { return db.Migrate(t.Context()) })
	}
	require.NoError(t, group.Wait())
	current, latest, err := last.MigrationStatus(t.Context())
	require.NoError(t, err)
	assert.Equal(t, latest, current)
	savedPlant(t, last, "a")
}

func TestMigrateRefusesNewerTables(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, err := db.Pool().Exec(t.Context(), `insert into lanewright_migrations (version_id, is_applied) values (9999, true)`)
	require.NoError(t, err)
	err = db.Migrate(t.Context())
	assert.ErrorIs(t, err, archive.ErrUnsuitable)
	assert.ErrorContains(t, err, "newer program")
}

func TestTablesMissing(t *testing.T) {
	t.Parallel()
	db := storagetest.Open(t, storagetest.Empty(t))
	_, err := db.Plants(t.Context(), "", 0)
	assert.ErrorIs(t, err, archive.ErrUnsuitable)
	assert.ErrorContains(t, err, "lanewright migrate")
}

// TestMigrateFillsGaps: a database that has a later version and lacks one made after
// it is not up to date, and is brought so.
func TestMigrateFillsGaps(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, latest, err := db.MigrationStatus(t.Context())
	require.NoError(t, err)
	require.NoError(t, db.MigrateDown(t.Context(), 11))
	_, err = db.Pool().Exec(t.Context(), `
		create table work.mappings (plant bigint not null references facts.plants, shape text not null, text text not null,
		  created timestamptz not null default now(), primary key (plant, shape))`)
	require.NoError(t, err)
	_, err = db.Pool().Exec(t.Context(), `insert into lanewright_migrations (version_id, is_applied) values (20, true)`)
	require.NoError(t, err)
	current, _, err := db.MigrationStatus(t.Context())
	require.NoError(t, err)
	require.Equal(t, int64(11), current)
	require.NoError(t, db.Migrate(t.Context()))
	current, again, err := db.MigrationStatus(t.Context())
	require.NoError(t, err)
	require.Equal(t, []int64{latest, latest}, []int64{current, again})
}
