package storage_test

import (
	"context"
	"fmt"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"lanewright/planner/archive"
	"lanewright/storage"
	"lanewright/storage/storagetest"
)

// Leases that end an hour from now and before they began.
const (
	long = time.Hour
	over = -time.Second
)

func newRun(t *testing.T, db *storage.DB, n archive.NewRun) archive.Run {
	t.Helper()
	run, created, err := db.CreateRun(t.Context(), n)
	require.NoError(t, err)
	require.True(t, created)
	return run
}

func claimed(t *testing.T, db *storage.DB, lease time.Duration) archive.Run {
	t.Helper()
	run, ok, err := db.ClaimRun(t.Context(), "worker", lease)
	require.NoError(t, err)
	require.True(t, ok)
	return run
}

func TestRunFromStartToEnd(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, rev := savedPlant(t, db, "a")
	run := newRun(t, db, archive.NewRun{Plant: "a", Settings: map[string]string{"seed": "7"}})
	assert.Equal(t, archive.Run{
		ID: run.ID, Kind: archive.PlanRun, Plant: "a", Revision: 1, Settings: map[string]string{"seed": "7"},
		State: archive.Queued, Created: run.Created, Sequence: 1,
	}, run)

	taken := claimed(t, db, long)
	assert.Equal(t, run.ID, taken.ID)
	assert.Equal(t, archive.Running, taken.State)
	assert.Equal(t, 1, taken.Attempt)
	assert.False(t, taken.Started.IsZero())

	cancel, err := db.ReportRun(t.Context(), run.ID, 1, "placement", 3, 14, long)
	require.NoError(t, err)
	assert.False(t, cancel)
	seen, err := db.Run(t.Context(), run.ID)
	require.NoError(t, err)
	assert.Equal(t, "placement 3 14", fmt.Sprint(seen.Stage, " ", seen.Done, " ", seen.Total))
	assert.Greater(t, seen.Sequence, taken.Sequence)

	p := filledPlan(rev.Hash)
	done, err := db.FinishRun(t.Context(), run.ID, 1, archive.Made{Plan: p}, archive.Done, "")
	require.NoError(t, err)
	assert.Equal(t, archive.Done, done.State)
	assert.False(t, done.Finished.IsZero())
	assert.Equal(t, done.Total, done.Done, "all of it is done")
	loaded, err := db.LoadPlan(t.Context(), done.Plan)
	require.NoError(t, err)
	checkSame(t, p, loaded)

	again, err := db.FinishRun(t.Context(), run.ID, 1, archive.Made{Plan: p}, archive.Done, "")
	require.NoError(t, err, "an answer that was lost may be asked for again")
	assert.Equal(t, done, again)
	plans, err := db.Plans(t.Context(), "a", 0, 0)
	require.NoError(t, err)
	assert.Len(t, plans, 1)
}

func TestRunKeepsItsRevision(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	run := newRun(t, db, archive.NewRun{Plant: "a"})
	p := filledPlant()
	p.Name = "changed"
	_, _, err := db.SaveRevision(t.Context(), "a", p, "another hash", nil, nil)
	require.NoError(t, err)
	assert.Equal(t, run.Revision, claimed(t, db, long).Revision)
	assert.Equal(t, 2, newRun(t, db, archive.NewRun{Plant: "a"}).Revision)
}

func TestFailedRun(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	newRun(t, db, archive.NewRun{Plant: "a"})
	run := claimed(t, db, long)
	failed, err := db.FinishRun(t.Context(), run.ID, 1, archive.Made{}, archive.Failed, "no shifts")
	require.NoError(t, err)
	assert.Equal(t, archive.Failed, failed.State)
	assert.Equal(t, "no shifts", failed.Error)
	assert.Zero(t, failed.Plan)
	assert.Panics(t, func() { _, _ = db.FinishRun(t.Context(), run.ID, 1, archive.Made{}, archive.Done, "") })
	assert.Panics(t, func() { _, _ = db.FinishRun(t.Context(), run.ID, 1, archive.Made{}, archive.Running, "") })
}

func TestCancel(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	waiting := newRun(t, db, archive.NewRun{Plant: "a"})
	run, err := db.CancelRun(t.Context(), waiting.ID)
	require.NoError(t, err)
	assert.Equal(t, archive.Cancelled, run.State)
	assert.False(t, run.Finished.IsZero())
	_, ok, err := db.ClaimRun(t.Context(), "worker", long)
	require.NoError(t, err)
	assert.False(t, ok, "a cancelled run is not claimed")

	newRun(t, db, archive.NewRun{Plant: "a"})
	running := claimed(t, db, long)
	run, err = db.CancelRun(t.Context(), running.ID)
	require.NoError(t, err)
	assert.Equal(t, archive.Running, run.State, "its worker ends it")
	cancel, err := db.ReportRun(t.Context(), running.ID, 1, "routing", 1, 2, long)
	require.NoError(t, err)
	assert.True(t, cancel)
	run, err = db.FinishRun(t.Context(), running.ID, 1, archive.Made{}, archive.Cancelled, "")
	require.NoError(t, err)
	assert.Equal(t, archive.Cancelled, run.State)

	again, err := db.CancelRun(t.Context(), running.ID)
	require.NoError(t, err)
	assert.Equal(t, run, again, "a run that has ended stays as it is")
}

func TestStaleAttempts(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, rev := savedPlant(t, db, "a")
	newRun(t, db, archive.NewRun{Plant: "a"})
	first := claimed(t, db, over)
	second := claimed(t, db, long)
	require.Equal(t, first.ID, second.ID)
	require.Equal(t, 2, second.Attempt)

	before := rowsOf(t, db)
	_, err := db.ReportRun(t.Context(), first.ID, first.Attempt, "placement", 1, 2, long)
	assert.ErrorIs(t, err, archive.ErrConflict)
	_, err = db.FinishRun(t.Context(), first.ID, first.Attempt, archive.Made{Plan: filledPlan(rev.Hash)}, archive.Done, "")
	assert.ErrorIs(t, err, archive.ErrConflict)
	assert.Equal(t, before, rowsOf(t, db), "a late worker stores no plan")

	_, err = db.FinishRun(t.Context(), second.ID, second.Attempt, archive.Made{}, archive.Failed, "x")
	require.NoError(t, err)
	_, err = db.ReportRun(t.Context(), second.ID, second.Attempt, "placement", 1, 2, long)
	assert.ErrorIs(t, err, archive.ErrConflict)
	_, err = db.FinishRun(t.Context(), second.ID, second.Attempt, archive.Made{Plan: filledPlan(rev.Hash)}, archive.Done, "")
	assert.ErrorIs(t, err, archive.ErrConflict, "an ended run does not end otherwise")
}

func TestRunIsGivenUp(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	run := newRun(t, db, archive.NewRun{Plant: "a"})
	for i := range storage.Attempts {
		assert.Equal(t, i+1, claimed(t, db, over).Attempt)
	}
	_, ok, err := db.ClaimRun(t.Context(), "worker", long)
	require.NoError(t, err)
	assert.False(t, ok)
	run, err = db.Run(t.Context(), run.ID)
	require.NoError(t, err)
	assert.Equal(t, archive.Failed, run.State)
	assert.Contains(t, run.Error, "3 attempts")
	assert.False(t, run.Finished.IsZero())
}

// TestHandedBackIsNotSilence: a run that workers hand back because their
// programs are asked to stop is never given up for that.
func TestHandedBackIsNotSilence(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	run := newRun(t, db, archive.NewRun{Plant: "a"})
	for i := range 3 * storage.Attempts {
		require.Equal(t, i+1, claimed(t, db, long).Attempt)
		require.NoError(t, db.ReleaseRun(t.Context(), run.ID, i+1))
		waiting, err := db.Run(t.Context(), run.ID)
		require.NoError(t, err)
		require.Equal(t, archive.Queued, waiting.State)
	}
	assert.ErrorIs(t, db.ReleaseRun(t.Context(), run.ID, 1), archive.ErrConflict, "it is no longer that attempt's")

	last := claimed(t, db, long)
	_, err := db.CancelRun(t.Context(), run.ID)
	require.NoError(t, err)
	require.NoError(t, db.ReleaseRun(t.Context(), run.ID, last.Attempt))
	cancelled, err := db.Run(t.Context(), run.ID)
	require.NoError(t, err)
	assert.Equal(t, archive.Cancelled, cancelled.State)
	assert.False(t, cancelled.Finished.IsZero())
}

func TestCancelOfSilentWorker(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	newRun(t, db, archive.NewRun{Plant: "a"})
	run := claimed(t, db, over)
	_, err := db.CancelRun(t.Context(), run.ID)
	require.NoError(t, err)
	_, ok, err := db.ClaimRun(t.Context(), "worker", long)
	require.NoError(t, err)
	assert.False(t, ok)
	run, err = db.Run(t.Context(), run.ID)
	require.NoError(t, err)
	assert.Equal(t, archive.Cancelled, run.State)
	assert.Empty(t, run.Error)
}

func TestManyWorkersShareRuns(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	const runs, workers = 24, 6
	for range runs {
		newRun(t, db, archive.NewRun{Plant: "a"})
	}
	var mu sync.Mutex
	claims := map[string]int{}
	var group errgroup.Group
	for w := range workers {
		group.Go(func() error {
			for {
				run, ok, err := db.ClaimRun(t.Context(), fmt.Sprint("worker ", w), long)
				if err != nil || !ok {
					return err
				}
				mu.Lock()
				claims[run.ID]++
				mu.Unlock()
			}
		})
	}
	require.NoError(t, group.Wait())
	assert.Len(t, claims, runs)
	for id, n := range claims {
		assert.Equal(t, 1, n, id)
	}
}

func TestSameKeySameRun(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	savedPlant(t, db, "b")
	ask := archive.NewRun{Plant: "a", Key: "k1", Settings: map[string]string{"seed": "1", "walk_cost": "2"}}
	first := newRun(t, db, ask)
	again, created, err := db.CreateRun(t.Context(), ask)
	require.NoError(t, err)
	assert.False(t, created)
	assert.Equal(t, first, again)

	for name, other := range map[string]archive.NewRun{
		"settings": {Plant: "a", Key: "k1", Settings: map[string]string{"seed": "2", "walk_cost": "2"}},
		"fewer":    {Plant: "a", Key: "k1"},
		"revision": {Plant: "a", Key: "k1", Settings: ask.Settings, Revision: 1},
	} {
		_, _, err := db.CreateRun(t.Context(), other)
		assert.ErrorIs(t, err, archive.ErrConflict, name)
	}
	newRun(t, db, archive.NewRun{Plant: "b", Key: "k1"})
	newRun(t, db, archive.NewRun{Plant: "a"})
	newRun(t, db, archive.NewRun{Plant: "a"})
}

func TestSameKeyAtOnce(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	var mu sync.Mutex
	ids, made := map[string]bool{}, 0
	var group errgroup.Group
	for range 8 {
		group.Go(func() error {
			run, created, err := db.CreateRun(t.Context(), archive.NewRun{Plant: "a", Key: "once"})
			mu.Lock()
			defer mu.Unlock()
			ids[run.ID] = true
			if created {
				made++
			}
			return err
		})
	}
	require.NoError(t, group.Wait())
	assert.Len(t, ids, 1)
	assert.Equal(t, 1, made)
}

func TestRunsArePaged(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	savedPlant(t, db, "b")
	var ids []string
	for i := range 4 {
		ids = append(ids, newRun(t, db, archive.NewRun{Plant: []string{"a", "b", "a", "a"}[i]}).ID)
	}
	all, err := db.Runs(t.Context(), "a", "", 0)
	require.NoError(t, err)
	require.Len(t, all, 3)
	page, err := db.Runs(t.Context(), "a", ids[0], 1)
	require.NoError(t, err)
	require.Len(t, page, 1)
	assert.Equal(t, ids[2], page[0].ID)
}

// hints collects ids until want has come, and says whether it did.
func hints(ctx context.Context, ids <-chan string, want string) bool {
	for {
		select {
		case id := <-ids:
			if id == want {
				return true
			}
		case <-ctx.Done():
			return false
		}
	}
}

func TestWatchRuns(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	ids, err := db.WatchRuns(ctx)
	require.NoError(t, err)
	run := newRun(t, db, archive.NewRun{Plant: "a"})
	require.True(t, hints(ctx, ids, run.ID), "created")
	claimed(t, db, long)
	require.True(t, hints(ctx, ids, run.ID), "claimed")
	_, err = db.ReportRun(ctx, run.ID, 1, "demand", 1, 1, long)
	require.NoError(t, err)
	require.True(t, hints(ctx, ids, run.ID), "reported")

	_, err = db.Pool().Exec(ctx, `select pg_terminate_backend(pid) from pg_stat_activity
		where datname = current_database() and query = 'listen lanewright_runs'`)
	require.NoError(t, err)
	require.True(t, hints(ctx, ids, ""), "an empty id says that hints may be lost")
	_, err = db.FinishRun(ctx, run.ID, 1, archive.Made{}, archive.Failed, "")
	require.NoError(t, err)
	require.True(t, hints(ctx, ids, run.ID), "listens again")

	cancel()
	for range ids {
	}
}
