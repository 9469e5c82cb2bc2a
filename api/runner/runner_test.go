package runner_test

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/runner"
	"lanewright/planner"
	"lanewright/planner/archive"
)

type plan = func(context.Context, planner.Input, planner.Settings, planner.Options) (*planner.Plan, error)

// ask queues a run on a store with the made-up plant.
func ask(t *testing.T, s *apitest.Store, settings map[string]string) string {
	t.Helper()
	run, _, err := s.CreateRun(t.Context(), archive.NewRun{Plant: apitest.Name, Settings: settings})
	require.NoError(t, err)
	return run.ID
}

func state(t *testing.T, s *apitest.Store, id string) archive.Run {
	t.Helper()
	run, err := s.Run(t.Context(), id)
	require.NoError(t, err)
	return run
}

// within runs a worker in a bubble of its own time; meanwhile is called once
// everything waits.
func within(t *testing.T, s *apitest.Store, p plan, meanwhile func()) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		ctx, stop := context.WithCancel(t.Context())
		done := make(chan error, 1)
		go func() { done <- runner.New(s, runner.Options{Plan: p, Worker: "test", Threads: 2}).Work(ctx) }()
		synctest.Wait()
		meanwhile()
		stop()
		assert.NoError(t, <-done)
	})
}

// lasting is a plan that takes so long, or until its context ends.
func lasting(d time.Duration) plan {
	return func(ctx context.Context, _ planner.Input, _ planner.Settings, o planner.Options) (*planner.Plan, error) {
		o.Progress.Report("placement", 3, 14)
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(d):
			return apitest.Plan(), nil
		}
	}
}

func TestMakesPlan(t *testing.T) {
	s := apitest.Filled(t)
	id := ask(t, s, map[string]string{"seed": "7", "service_level": "99"})
	var seed uint64
	within(t, s, func(_ context.Context, in planner.Input, set planner.Settings, o planner.Options) (*planner.Plan, error) {
		assert.Equal(t, apitest.Name, in.Plant.Name)
		assert.Len(t, in.Findings, 1, "the findings of the import go on")
		assert.Equal(t, 2, o.Threads)
		assert.InDelta(t, 0.99, set.Plant.ServiceLevel.Float64(), 0)
		seed = set.Plant.Seed
		return apitest.Plan(), nil
	}, func() {})
	run := state(t, s, id)
	assert.Equal(t, archive.Done, run.State)
	assert.Equal(t, int64(2), run.Plan)
	assert.Equal(t, uint64(7), seed)
}

func TestReportsProgress(t *testing.T) {
	s := apitest.Filled(t)
	id := ask(t, s, nil)
	within(t, s, lasting(2*time.Minute), func() {
		time.Sleep(time.Second) // of the bubble's time
		run := state(t, s, id)
		assert.Equal(t, "placement 3 14", fmt.Sprint(run.Stage, " ", run.Done, " ", run.Total))
		before := run.Sequence
		time.Sleep(time.Minute)
		assert.Greater(t, state(t, s, id).Sequence, before, "the lease is extended without news")
		time.Sleep(time.Minute)
		synctest.Wait()
	})
	assert.Equal(t, archive.Done, state(t, s, id).State)
}

func TestCancelled(t *testing.T) {
	s := apitest.Filled(t)
	id := ask(t, s, nil)
	within(t, s, lasting(time.Hour), func() {
		_, err := s.CancelRun(t.Context(), id)
		require.NoError(t, err)
		time.Sleep(5 * time.Second)
		synctest.Wait()
		assert.Equal(t, archive.Cancelled, state(t, s, id).State)
	})
}

// TestCancelledAtTheEnd: who cancels while the plan is being made gets no plan,
// though it was ready before the next report.
func TestCancelledAtTheEnd(t *testing.T) {
	s := apitest.Filled(t)
	id := ask(t, s, nil)
	within(t, s, func(ctx context.Context, _ planner.Input, _ planner.Settings, _ planner.Options) (*planner.Plan, error) {
		_, err := s.CancelRun(ctx, id)
		return apitest.Plan(), err
	}, func() {})
	run := state(t, s, id)
	assert.Equal(t, archive.Cancelled, run.State)
	assert.Zero(t, run.Plan)
}

func TestShutdownHandsBack(t *testing.T) {
	s := apitest.Filled(t)
	id := ask(t, s, nil)
	within(t, s, lasting(time.Hour), func() { assert.Equal(t, archive.Running, state(t, s, id).State) })
	assert.Equal(t, archive.Queued, state(t, s, id).State, "waits for another worker")
	within(t, s, lasting(0), func() {})
	run := state(t, s, id)
	assert.Equal(t, archive.Done, run.State)
	assert.Equal(t, 2, run.Attempt)
}

// TestLost: a worker whose run was taken up by another one stops and leaves it
// alone.
func TestLost(t *testing.T) {
	s := apitest.Filled(t)
	id := ask(t, s, nil)
	within(t, s, lasting(time.Hour), func() {
		s.Take(id)
		time.Sleep(time.Minute)
		synctest.Wait()
		assert.Equal(t, archive.Running, state(t, s, id).State)
	})
	run := state(t, s, id)
	assert.Equal(t, archive.Running, run.State)
	assert.Equal(t, 2, run.Attempt)
}

func TestFailures(t *testing.T) {
	for _, c := range []struct {
		name     string
		settings map[string]string
		plan     plan
		want     string
	}{
		{"planning fails", nil, func(context.Context, planner.Input, planner.Settings, planner.Options) (*planner.Plan, error) {
			return nil, errors.New("no cell to plan")
		}, "no cell to plan"},
		{"a broken invariant", nil, func(context.Context, planner.Input, planner.Settings, planner.Options) (*planner.Plan, error) {
			panic("inner detail")
		}, "a mistake in the program itself"},
		{"a setting nobody knows", map[string]string{"colour": "red"}, nil, `unknown setting "colour"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := apitest.Filled(t)
			id := ask(t, s, c.settings)
			within(t, s, c.plan, func() {})
			run := state(t, s, id)
			assert.Equal(t, archive.Failed, run.State)
			assert.Contains(t, run.Error, c.want)
			assert.NotContains(t, run.Error, "inner detail")
		})
	}
}

// TestStoreAwayForAWhile: the runner waits and goes on.
func TestStoreAwayForAWhile(t *testing.T) {
	s := apitest.Filled(t)
	id := ask(t, s, nil)
	s.SetDown(archive.ErrUnavailable)
	var made atomic.Int32
	within(t, s, func(context.Context, planner.Input, planner.Settings, planner.Options) (*planner.Plan, error) {
		made.Add(1)
		return apitest.Plan(), nil
	}, func() {
		time.Sleep(time.Minute)
		assert.Zero(t, made.Load())
		s.SetDown(nil)
		time.Sleep(10 * time.Second)
		synctest.Wait()
		assert.Equal(t, archive.Done, state(t, s, id).State)
	})
	assert.Equal(t, int32(1), made.Load())
}

// TestStoreAwayAtTheEnd: a plan is not lost because the store is away when it is
// ready.
func TestStoreAwayAtTheEnd(t *testing.T) {
	s := apitest.Filled(t)
	id := ask(t, s, nil)
	var made atomic.Int32
	within(t, s, func(context.Context, planner.Input, planner.Settings, planner.Options) (*planner.Plan, error) {
		made.Add(1)
		s.SetDown(archive.ErrUnavailable)
		return apitest.Plan(), nil
	}, func() {
		time.Sleep(time.Minute)
		s.SetDown(nil)
		time.Sleep(10 * time.Second)
		synctest.Wait()
		assert.Equal(t, archive.Done, state(t, s, id).State)
	})
	assert.Equal(t, int32(1), made.Load())
}

// TestHints: a new run is taken up at once, not at the next look.
func TestHints(t *testing.T) {
	s := apitest.Filled(t)
	within(t, s, lasting(time.Hour), func() {
		id := ask(t, s, nil)
		synctest.Wait()
		assert.Equal(t, archive.Running, state(t, s, id).State)
	})
}
