package runner_test

import (
	"context"
	"errors"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/runner"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
)

type play = func(context.Context, *plant.Plant, *planner.Plan, simulation.Settings, planner.Options) (simulation.Result, error)

// askForPlay queues a play of the made-up plant's plan.
func askForPlay(t *testing.T, s *apitest.Store, settings map[string]string) string {
	t.Helper()
	run, _, err := s.CreateRun(t.Context(), archive.NewRun{Kind: archive.SimulationRun, PlanID: 1, Settings: settings})
	require.NoError(t, err)
	return run.ID
}

// playing runs a worker in a bubble of its own time, as within does.
func playing(t *testing.T, s *apitest.Store, p play, meanwhile func()) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		ctx, stop := context.WithCancel(t.Context())
		done := make(chan error, 1)
		go func() { done <- runner.New(s, runner.Options{Play: p, Plan: lasting(0), Threads: 2}).Work(ctx) }()
		synctest.Wait()
		meanwhile()
		stop()
		assert.NoError(t, <-done)
	})
}

// long is a play that takes so long, or until its context ends.
func long(d time.Duration) play {
	return func(ctx context.Context, _ *plant.Plant, p *planner.Plan, _ simulation.Settings, o planner.Options) (simulation.Result, error) {
		o.Progress.Report("simulation", 3, 10)
		select {
		case <-ctx.Done():
			return simulation.Result{}, ctx.Err()
		case <-time.After(d):
			return *apitest.Played(p), nil
		}
	}
}

func TestPlaysPlan(t *testing.T) {
	s := apitest.Filled(t)
	id := askForPlay(t, s, map[string]string{"simulation_weeks": "9", "simulation_use": "random"})
	playing(t, s, func(_ context.Context, facts *plant.Plant, p *planner.Plan, set simulation.Settings, o planner.Options) (simulation.Result, error) {
		assert.Equal(t, apitest.Name, facts.Name)
		assert.Equal(t, 2, o.Threads)
		want := p.Settings.Simulation
		want.Weeks, want.Use = 9, simulation.UseRandom
		assert.Equal(t, want, set, "the plan's own but for what was asked")
		return *apitest.Played(p), nil
	}, func() {})
	run := state(t, s, id)
	assert.Equal(t, archive.Done, run.State, run.Error)
	assert.Equal(t, []int64{1, 0, 2}, []int64{run.PlanID, run.Plan, run.Simulation})
	r, err := s.LoadSimulation(t.Context(), run.Simulation)
	require.NoError(t, err)
	assert.Equal(t, apitest.Played(apitest.Plan()).Loops, r.Loops)
}

func TestPlayReportsAndIsCancelled(t *testing.T) {
	s := apitest.Filled(t)
	id := askForPlay(t, s, nil)
	playing(t, s, long(time.Hour), func() {
		time.Sleep(time.Second) // of the bubble's time
		assert.Equal(t, "simulation", state(t, s, id).Stage)
		_, err := s.CancelRun(t.Context(), id)
		require.NoError(t, err)
		time.Sleep(5 * time.Second)
		synctest.Wait()
		assert.Equal(t, archive.Cancelled, state(t, s, id).State)
	})
	assert.Zero(t, state(t, s, id).Simulation)
}

func TestPlayIsHandedBack(t *testing.T) {
	s := apitest.Filled(t)
	id := askForPlay(t, s, nil)
	playing(t, s, long(time.Hour), func() {})
	assert.Equal(t, archive.Queued, state(t, s, id).State)
	playing(t, s, long(0), func() {})
	assert.Equal(t, archive.Done, state(t, s, id).State)
}

func TestPlayFailures(t *testing.T) {
	for _, c := range []struct {
		name     string
		settings map[string]string
		play     play
		want     string
	}{
		{"playing fails", nil, func(context.Context, *plant.Plant, *planner.Plan, simulation.Settings, planner.Options) (simulation.Result, error) {
			return simulation.Result{}, errors.New("no loop to play")
		}, "no loop to play"},
		{"a broken invariant", nil, func(context.Context, *plant.Plant, *planner.Plan, simulation.Settings, planner.Options) (simulation.Result, error) {
			panic("inner detail")
		}, "a mistake in the program itself"},
		{"a setting of plans", map[string]string{"seed": "7"}, long(0), `unknown setting "seed"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := apitest.Filled(t)
			id := askForPlay(t, s, c.settings)
			playing(t, s, c.play, func() {})
			run := state(t, s, id)
			assert.Equal(t, archive.Failed, run.State)
			assert.Contains(t, run.Error, c.want)
			assert.NotContains(t, run.Error, "inner detail")
			assert.Zero(t, run.Simulation)
		})
	}
}
