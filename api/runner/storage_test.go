package runner_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/runner"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/plant"
	"lanewright/storage/storagetest"
)

// TestOnDatabase: on a real database a worker that is stopped hands its run
// back, and the next one makes the plan. The watch ends with the worker.
func TestOnDatabase(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	facts := apitest.Facts()
	_, _, err := db.SaveRevision(t.Context(), apitest.Name, facts, plant.Revision(facts), nil, nil)
	require.NoError(t, err)
	run, _, err := db.CreateRun(t.Context(), archive.NewRun{Plant: apitest.Name})
	require.NoError(t, err)

	began := make(chan struct{})
	ctx, stop := context.WithCancel(t.Context())
	first := work(ctx, db, func(ctx context.Context, _ planner.Input, _ planner.Settings, _ planner.Options) (*planner.Plan, error) {
		close(began)
		<-ctx.Done()
		return nil, ctx.Err()
	})
	<-began
	stop()
	require.NoError(t, <-first)

	ctx, stop = context.WithCancel(t.Context())
	changes, err := db.WatchRuns(ctx)
	require.NoError(t, err)
	second := work(ctx, db, planner.Run)
	for range changes {
		if run, err = db.Run(t.Context(), run.ID); err != nil || run.State.Ended() {
			break
		}
	}
	stop()
	require.NoError(t, <-second)
	require.NoError(t, err)
	assert.Equal(t, archive.Done, run.State, run.Error)
	assert.Equal(t, 2, run.Attempt)
	p, err := db.LoadPlan(t.Context(), run.Plan)
	require.NoError(t, err)
	assert.Equal(t, plant.Revision(facts), p.Revision)
}

func work(ctx context.Context, store runner.Store, p plan) <-chan error {
	done := make(chan error, 1)
	go func() { done <- runner.New(store, runner.Options{Plan: p}).Work(ctx) }()
	return done
}
