package storage_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/storage"
	"lanewright/storage/storagetest"
)

// savedPlant stores facts in which no field is zero.
func savedPlant(t *testing.T, db *storage.DB, name string) (*plant.Plant, archive.Revision) {
	t.Helper()
	p := filledPlant()
	rev, created, err := db.SaveRevision(t.Context(), name, p, plant.Revision(p), nil, nil)
	require.NoError(t, err)
	require.True(t, created)
	return p, rev
}

func TestRevisionRoundTrip(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	p, sheets, findings := filledPlant(), *filled[[]archive.SheetCount](1), *filled[finding.List](50)
	findings = append(findings, finding.Finding{Severity: finding.Error, Code: "parts.one"}, finding.Finding{Severity: finding.Note, Code: "parts.two"})

	rev, created, err := db.SaveRevision(t.Context(), "Skerrow", p, plant.Revision(p), sheets, findings)
	require.NoError(t, err)
	assert.True(t, created)
	assert.Equal(t, archive.Revision{
		Plant: "Skerrow", Number: 1, Hash: plant.Revision(p), Created: rev.Created, Sheets: sheets, Errors: 1, Notes: 1,
	}, rev)
	assert.WithinDuration(t, time.Now(), rev.Created, time.Hour)

	loaded, loadedFindings, loadedRev, err := db.LoadPlant(t.Context(), "Skerrow", 1)
	require.NoError(t, err)
	checkSame(t, p, loaded)
	checkSame(t, findings, loadedFindings)
	assert.Equal(t, rev, loadedRev)
	assert.Equal(t, plant.Revision(p), plant.Revision(loaded))
}

func TestRevisionOfAlmostNothing(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	p := &plant.Plant{Name: "bare", Settings: plant.DefaultSettings(), Cells: []plant.Cell{{Cell: "C1", Shifts: []plant.ShiftCode{}}}}
	_, _, err := db.SaveRevision(t.Context(), "bare", p, plant.Revision(p), nil, nil)
	require.NoError(t, err)
	loaded, findings, rev, err := db.LoadPlant(t.Context(), "bare", 0)
	require.NoError(t, err)
	checkSame(t, p, loaded)
	assert.Nil(t, loaded.Parts)
	assert.Nil(t, loaded.Cells[0].Shifts)
	assert.Nil(t, loaded.Cells[0].NewRack)
	assert.Empty(t, findings)
	assert.Empty(t, rev.Sheets)
}

func TestSameFactsMakeNoNewRevision(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	p, first := savedPlant(t, db, "a")
	again, created, err := db.SaveRevision(t.Context(), "a", p, plant.Revision(p), nil, nil)
	require.NoError(t, err)
	assert.False(t, created)
	assert.Equal(t, first.Number, again.Number)

	other := &plant.Plant{Name: "other"}
	second, created, err := db.SaveRevision(t.Context(), "a", other, plant.Revision(other), nil, nil)
	require.NoError(t, err)
	assert.True(t, created)
	assert.Equal(t, 2, second.Number)

	back, created, err := db.SaveRevision(t.Context(), "a", p, plant.Revision(p), nil, nil)
	require.NoError(t, err)
	assert.True(t, created, "only the latest revision counts: going back is a change")
	assert.Equal(t, 3, back.Number)
}

// TestOneOfManyComesAfter: of writers that all looked at the same revision one
// stores the next, the others are told.
func TestOneOfManyComesAfter(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	const writers = 8
	for after := range 3 {
		var group errgroup.Group
		var stored, stale atomic.Int32
		for i := range writers {
			group.Go(func() error {
				p := &plant.Plant{Name: fmt.Sprint("facts ", after, i)}
				rev, created, err := db.SaveRevisionAfter(t.Context(), "shared", after, p, plant.Revision(p), nil, nil)
				switch {
				case errors.Is(err, archive.ErrStale):
					stale.Add(1)
					return nil
				case err == nil && created && rev.Number == after+1:
					stored.Add(1)
				}
				return err
			})
		}
		require.NoError(t, group.Wait())
		assert.EqualValues(t, 1, stored.Load(), "after revision %d", after)
		assert.EqualValues(t, writers-1, stale.Load(), "after revision %d", after)
	}
	list, err := db.Revisions(t.Context(), "shared", 0, 0)
	require.NoError(t, err)
	assert.Len(t, list, 3)

	p := &plant.Plant{Name: "none"}
	_, _, err = db.SaveRevisionAfter(t.Context(), "never", 1, p, plant.Revision(p), nil, nil)
	require.ErrorIs(t, err, archive.ErrStale)
	_, err = db.Plant(t.Context(), "never")
	require.ErrorIs(t, err, archive.ErrNotFound, "a refusal leaves no plant behind")
}

func TestRevisionsOfManyWritersAreNumbered(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	const writers = 8
	var group errgroup.Group
	for i := range writers {
		group.Go(func() error {
			p := &plant.Plant{Name: fmt.Sprint("facts ", i)}
			_, _, err := db.SaveRevision(t.Context(), "shared", p, plant.Revision(p), nil, nil)
			return err
		})
	}
	require.NoError(t, group.Wait())
	list, err := db.Revisions(t.Context(), "shared", 0, 0)
	require.NoError(t, err)
	require.Len(t, list, writers)
	for i, r := range list {
		assert.Equal(t, i+1, r.Number)
	}
	beyond, err := db.Revisions(t.Context(), "shared", 1<<40, 2)
	require.NoError(t, err, "after a number no revision can have")
	assert.Empty(t, beyond)
	page, err := db.Revisions(t.Context(), "shared", 3, 2)
	require.NoError(t, err)
	assert.Equal(t, list[3:5], page)
}

func TestPlants(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	for _, name := range []string{"b", "a", "c"} {
		savedPlant(t, db, name)
	}
	p := filledPlan(plant.Revision(filledPlant()))
	var latest archive.Plan
	var err error
	for range 2 {
		latest, err = db.SavePlan(t.Context(), "b", 0, p)
		require.NoError(t, err)
	}
	list, err := db.Plants(t.Context(), "", 0)
	require.NoError(t, err)
	names := func(list []archive.Plant) (names []string) {
		for _, p := range list {
			names = append(names, p.Name)
		}
		return names
	}
	assert.Equal(t, []string{"a", "b", "c"}, names(list))
	assert.Equal(t, archive.Plant{Name: "b", Created: list[1].Created, Revisions: 1, Plans: 2, LatestPlan: latest.ID}, list[1])
	assert.Zero(t, list[0].LatestPlan)
	page, err := db.Plants(t.Context(), "a", 1)
	require.NoError(t, err)
	assert.Equal(t, []string{"b"}, names(page))
	one, err := db.Plant(t.Context(), "b")
	require.NoError(t, err)
	assert.Equal(t, list[1], one)
}

func TestNotFound(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	ctx := t.Context()
	for name, ask := range map[string]func() error{
		"plant":              func() error { _, err := db.Plant(ctx, "b"); return err },
		"plant, NUL":         func() error { _, err := db.Plant(ctx, "b\x00"); return err },
		"plant, no text":     func() error { _, err := db.Plant(ctx, "\xff"); return err },
		"revisions":          func() error { _, err := db.Revisions(ctx, "b", 0, 0); return err },
		"revision":           func() error { _, err := db.Revision(ctx, "a", 2); return err },
		"revision, negative": func() error { _, err := db.Revision(ctx, "a", -1); return err },
		"revision, NUL":      func() error { _, err := db.Revision(ctx, "\x00", 0); return err },
		"facts":              func() error { _, _, _, err := db.LoadPlant(ctx, "b", 0); return err },
		"plans":              func() error { _, err := db.Plans(ctx, "b", 0, 0); return err },
		"plan":               func() error { _, err := db.Plan(ctx, 7); return err },
		"plan's content":     func() error { _, err := db.LoadPlan(ctx, 7); return err },
		"save plan":          func() error { _, err := db.SavePlan(ctx, "b", 0, filledPlan("h")); return err },
		"run":                func() error { _, err := db.Run(ctx, "x"); return err },
		"run, NUL":           func() error { _, err := db.Run(ctx, "\x00"); return err },
		"runs":               func() error { _, err := db.Runs(ctx, "b", "", 0); return err },
		"runs after":         func() error { _, err := db.Runs(ctx, "a", "x", 0); return err },
		"cancel":             func() error { _, err := db.CancelRun(ctx, "x"); return err },
		"create run":         func() error { _, _, err := db.CreateRun(ctx, archive.NewRun{Plant: "b"}); return err },
		"create run of":      func() error { _, _, err := db.CreateRun(ctx, archive.NewRun{Plant: "a", Revision: 9}); return err },
		"report":             func() error { _, err := db.ReportRun(ctx, "x", 1, "", 0, 0, 0); return err },
		"finish":             func() error { _, err := db.FinishRun(ctx, "x", 1, archive.Made{}, archive.Failed, ""); return err },
	} {
		assert.ErrorIs(t, ask(), archive.ErrNotFound, name)
	}
}

// countdown is a context that ends when it has been asked for Done so often.
type countdown struct {
	context.Context
	end  context.CancelFunc
	left atomic.Int64
}

func newCountdown(ctx context.Context, n int) *countdown {
	c := &countdown{}
	c.Context, c.end = context.WithCancel(ctx)
	c.left.Store(int64(n))
	return c
}

func (c *countdown) Done() <-chan struct{} {
	if c.left.Add(-1) < 0 {
		c.end()
	}
	return c.Context.Done()
}

// rowsOf counts the rows of every table of facts and plans.
func rowsOf(t *testing.T, db *storage.DB) map[string]int {
	t.Helper()
	list := tables(t, db, "facts", "plan")
	var questions []string
	for _, table := range list {
		questions = append(questions, fmt.Sprintf("select '%s', count(*)::int from %[1]s", table))
	}
	rows, err := db.Pool().Query(t.Context(), strings.Join(questions, " union all "))
	require.NoError(t, err)
	counts, name, n := map[string]int{}, "", 0
	_, err = pgx.ForEachRow(rows, []any{&name, &n}, func() error { counts[name] = n; return nil })
	require.NoError(t, err)
	return counts
}

func tables(t *testing.T, db *storage.DB, schemas ...string) []string {
	t.Helper()
	rows, err := db.Pool().Query(t.Context(), `
		select schemaname || '.' || tablename from pg_tables where schemaname = any($1) order by 1`, schemas)
	require.NoError(t, err)
	var list []string
	for rows.Next() {
		var name string
		require.NoError(t, rows.Scan(&name))
		list = append(list, name)
	}
	require.NoError(t, rows.Err())
	require.NotEmpty(t, list)
	return list
}

// checkCutShort calls save with contexts that end earlier and later, until it
// succeeds, and requires that none that failed left a row.
func checkCutShort(t *testing.T, db *storage.DB, save func(context.Context) error) {
	t.Helper()
	before := rowsOf(t, db)
	failures := 0
	for n := 1; ; n += 2 {
		ctx := newCountdown(t.Context(), n)
		err := save(ctx)
		ctx.end()
		if err == nil {
			break
		}
		require.ErrorIs(t, err, context.Canceled)
		failures++
		require.Equal(t, before, rowsOf(t, db), "cut short at step %d", n)
	}
	require.Greater(t, failures, 15, "the saving was hardly cut short")
	require.NotEqual(t, before, rowsOf(t, db))
}

func TestRevisionCutShortIsInvisible(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	p := filledPlant()
	checkCutShort(t, db, func(ctx context.Context) error {
		_, _, err := db.SaveRevision(ctx, "half", p, plant.Revision(p), nil, nil)
		return err
	})
}

func TestRevisionWithBadTextIsInvisible(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	before := rowsOf(t, db)
	p := filledPlant()
	p.Pins[1].Reason = "the last text of all\x00"
	_, created, err := db.SaveRevision(t.Context(), "half", p, plant.Revision(p), nil, nil)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "save revision of half")
	assert.False(t, created)
	assert.Equal(t, before, rowsOf(t, db))
}

// TestReadersSeeWholeRevisions reads while others write: each reader finds
// nothing or everything.
func TestReadersSeeWholeRevisions(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	p := filledPlant()
	var writers sync.WaitGroup
	writers.Add(1)
	var done atomic.Bool
	go func() {
		defer writers.Done()
		defer done.Store(true)
		for i := range 10 {
			_, _, err := db.SaveRevision(t.Context(), "busy", p, fmt.Sprint("hash ", i), nil, nil)
			assert.NoError(t, err)
		}
	}()
	for seen := 0; seen < 10 && !done.Load(); {
		loaded, _, rev, err := db.LoadPlant(t.Context(), "busy", 0)
		if seen == 0 && err != nil {
			require.ErrorIs(t, err, archive.ErrNotFound)
			continue
		}
		require.NoError(t, err)
		require.GreaterOrEqual(t, rev.Number, seen)
		checkSame(t, p, loaded)
		seen = rev.Number
	}
	writers.Wait()
}

func TestAppendOnly(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	p := filledPlant()
	_, _, err := db.SaveRevision(t.Context(), "a", p, plant.Revision(p), *filled[[]archive.SheetCount](1), *filled[finding.List](1))
	require.NoError(t, err)
	_, err = db.SavePlan(t.Context(), "a", 1, filledPlan(plant.Revision(p)))
	require.NoError(t, err)
	heads := map[string]string{"facts.revisions": "hash = 'other'", "plan.plans": "hash = 'other'", "plan.simulations": "use = 'other'"}
	for _, table := range tables(t, db, "facts", "plan") {
		if table == "facts.plants" {
			continue
		}
		var rows int
		require.NoError(t, db.Pool().QueryRow(t.Context(), "select count(*) from "+table).Scan(&rows))
		assert.Positive(t, rows, "%s is empty: the filled plant and plan must reach every table", table)
		commands := []string{"delete from " + table, "truncate " + table + " cascade"}
		if change, ok := heads[table]; ok {
			commands = append(commands, "update "+table+" set "+change)
		} else {
			schema, name, _ := strings.Cut(table, ".")
			commands = append(commands, "update "+table+" set ordinal = ordinal",
				fmt.Sprintf("create temp table late_%[2]s on commit drop as select * from %[1]s; update late_%[2]s set ordinal = ordinal + 100; insert into %[1]s select * from late_%[2]s", schema+"."+name, name))
		}
		for _, command := range commands {
			_, err := db.Pool().Exec(t.Context(), command)
			require.Error(t, err, command)
			assert.Contains(t, err.Error(), "SQLSTATE 23001", command)
		}
	}
}
