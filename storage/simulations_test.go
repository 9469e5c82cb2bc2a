package storage_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/simulation"
	"lanewright/storage"
	"lanewright/storage/storagetest"
)

// savedPlan stores a plan without a proof of the plant called name.
func savedPlan(t *testing.T, db *storage.DB, name string) archive.Plan {
	t.Helper()
	_, rev := savedPlant(t, db, name)
	p := filledPlan(rev.Hash)
	p.Proof = nil
	header, err := db.SavePlan(t.Context(), name, 1, p)
	require.NoError(t, err)
	return header
}

func TestSimulationRoundTrip(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	r := filledResult(9000)
	r.Loops[0].Verdict, r.Loops[1].Verdict = simulation.Proved, simulation.Short
	r.Loops = append(r.Loops, simulation.LoopResult{Verdict: simulation.NotPlayed}, simulation.LoopResult{Verdict: simulation.Proved})
	header, err := db.SaveSimulation(t.Context(), plan.ID, *r)
	require.NoError(t, err)
	assert.Equal(t, archive.Simulation{
		ID: header.ID, Plan: plan.ID, Created: header.Created, Settings: r.Settings, Seed: r.Seed,
		Verdicts: archive.Verdicts{Proved: 2, Short: 1, NotPlayed: 1}, Played: r.Played, Events: r.Events, Pieces: r.Pieces,
	}, header)

	loaded, err := db.LoadSimulation(t.Context(), header.ID)
	require.NoError(t, err)
	checkSame(t, r, loaded)
	again, err := db.Simulation(t.Context(), header.ID)
	require.NoError(t, err)
	checkSame(t, header, again)
	p, err := db.LoadPlan(t.Context(), plan.ID)
	require.NoError(t, err)
	assert.Nil(t, p.Proof, "a play of a plan is not its proof")
}

func TestSimulationOfNothing(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	empty := simulation.Result{Settings: simulation.DefaultSettings()}
	header, err := db.SaveSimulation(t.Context(), plan.ID, empty)
	require.NoError(t, err)
	loaded, err := db.LoadSimulation(t.Context(), header.ID)
	require.NoError(t, err)
	assert.Equal(t, &empty, loaded)
	assert.True(t, loaded.Settings.From.IsZero())
}

func TestSimulationsArePaged(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	_, rev := savedPlant(t, db, "b")
	proved, err := db.SavePlan(t.Context(), "b", 1, filledPlan(rev.Hash))
	require.NoError(t, err)
	first, err := db.SaveSimulation(t.Context(), plan.ID, *filledResult(1))
	require.NoError(t, err)
	second, err := db.SaveSimulation(t.Context(), plan.ID, *filledResult(2))
	require.NoError(t, err)
	later, err := db.SaveSimulation(t.Context(), proved.ID, simulation.Result{})
	require.NoError(t, err)

	list, err := db.Simulations(t.Context(), plan.ID, 0, 1)
	require.NoError(t, err)
	checkSame(t, []archive.Simulation{first}, list)
	list, err = db.Simulations(t.Context(), plan.ID, first.ID, 0)
	require.NoError(t, err)
	checkSame(t, []archive.Simulation{second}, list)
	list, err = db.Simulations(t.Context(), proved.ID, 0, 0)
	require.NoError(t, err)
	require.Len(t, list, 2, "the proof is one of them")
	assert.True(t, list[0].Proof)
	assert.Equal(t, later.ID, list[1].ID)
	assert.True(t, list[1].Settings.From.IsZero(), "nothing is left of the row before")
}

func TestMissingSimulations(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	ctx := t.Context()
	for name, ask := range map[string]func() error{
		"save":   func() error { _, err := db.SaveSimulation(ctx, 9, simulation.Result{}); return err },
		"load":   func() error { _, err := db.LoadSimulation(ctx, 9); return err },
		"header": func() error { _, err := db.Simulation(ctx, 9); return err },
		"list":   func() error { _, err := db.Simulations(ctx, 9, 0, 0); return err },
		"run": func() error {
			_, _, err := db.CreateRun(ctx, archive.NewRun{Kind: archive.SimulationRun, PlanID: 9})
			return err
		},
	} {
		assert.ErrorIs(t, ask(), archive.ErrNotFound, name)
	}
}

func TestSimulationCutShortIsInvisible(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	checkCutShort(t, db, func(ctx context.Context) error {
		_, err := db.SaveSimulation(ctx, plan.ID, *filledResult(1))
		return err
	})
}

// TestProofIsPartOfItsPlan: a stored plan takes no proof any more, and it has at
// most one.
func TestProofIsPartOfItsPlan(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	header, err := db.SaveSimulation(t.Context(), plan.ID, simulation.Result{})
	require.NoError(t, err)
	_, err = db.Pool().Exec(t.Context(), `
		insert into plan.simulations (plan, proof, weeks, warm_up_weeks, replications, use, seed, played_ns, events, pieces, proved, short, not_played)
		select plan, true, weeks, warm_up_weeks, replications, use, seed, played_ns, events, pieces, proved, short, not_played
		from plan.simulations where id = $1`, header.ID)
	assert.ErrorContains(t, err, "SQLSTATE 23001")
}

// asksForPlay queues a play of a plan.
func asksForPlay(t *testing.T, db *storage.DB, plan int64) archive.Run {
	t.Helper()
	return newRun(t, db, archive.NewRun{Kind: archive.SimulationRun, PlanID: plan, Settings: map[string]string{"simulation_weeks": "9"}})
}

func TestPlayFromStartToEnd(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	_, _, err := db.SaveRevision(t.Context(), "a", filledPlant(), "another hash", nil, nil)
	require.NoError(t, err)
	run := asksForPlay(t, db, plan.ID)
	assert.Equal(t, archive.Run{
		ID: run.ID, Kind: archive.SimulationRun, Plant: "a", Revision: 1, PlanID: plan.ID,
		Settings: map[string]string{"simulation_weeks": "9"}, State: archive.Queued, Created: run.Created, Sequence: 1,
	}, run, "it has the plan's revision, not the latest")
	claimed(t, db, long)

	r := filledResult(1)
	done, err := db.FinishRun(t.Context(), run.ID, 1, archive.Made{Simulation: r}, archive.Done, "")
	require.NoError(t, err)
	assert.Equal(t, archive.Done, done.State)
	assert.Zero(t, done.Plan)
	loaded, err := db.LoadSimulation(t.Context(), done.Simulation)
	require.NoError(t, err)
	checkSame(t, r, loaded)

	again, err := db.FinishRun(t.Context(), run.ID, 1, archive.Made{Simulation: r}, archive.Done, "")
	require.NoError(t, err, "an answer that was lost may be asked for again")
	assert.Equal(t, done, again)
	list, err := db.Simulations(t.Context(), plan.ID, 0, 0)
	require.NoError(t, err)
	assert.Len(t, list, 1)
}

func TestStalePlays(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	run := asksForPlay(t, db, plan.ID)
	first, second := claimed(t, db, over), claimed(t, db, long)
	before := rowsOf(t, db)
	_, err := db.FinishRun(t.Context(), run.ID, first.Attempt, archive.Made{Simulation: filledResult(1)}, archive.Done, "")
	assert.ErrorIs(t, err, archive.ErrConflict)
	assert.Equal(t, before, rowsOf(t, db), "a late worker stores no play")
	assert.Panics(t, func() {
		_, _ = db.FinishRun(t.Context(), run.ID, second.Attempt, archive.Made{Plan: &planner.Plan{}}, archive.Done, "")
	}, "a run that plays makes no plan")
	failed, err := db.FinishRun(t.Context(), run.ID, second.Attempt, archive.Made{}, archive.Failed, "no shifts")
	require.NoError(t, err)
	assert.Zero(t, failed.Simulation)
}

func TestSameKeyOtherKind(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	other, err := db.LoadPlan(t.Context(), plan.ID)
	require.NoError(t, err)
	header, err := db.SavePlan(t.Context(), "a", 1, other)
	require.NoError(t, err)
	ask := archive.NewRun{Kind: archive.SimulationRun, PlanID: plan.ID, Key: "k"}
	first := newRun(t, db, ask)
	again, created, err := db.CreateRun(t.Context(), ask)
	require.NoError(t, err)
	assert.False(t, created)
	assert.Equal(t, first, again)
	for name, n := range map[string]archive.NewRun{
		"another plan": {Kind: archive.SimulationRun, PlanID: header.ID, Key: "k"},
		"a plan":       {Plant: "a", Revision: 1, Key: "k"},
	} {
		_, _, err = db.CreateRun(t.Context(), n)
		assert.ErrorIs(t, err, archive.ErrConflict, name)
	}
}

// TestRunsOfBefore: a program that knows no plays gets its runs of plans back.
func TestRunsOfBefore(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	plan := savedPlan(t, db, "a")
	planning := newRun(t, db, archive.NewRun{Plant: "a"})
	asksForPlay(t, db, plan.ID)
	require.NoError(t, db.MigrateDown(t.Context(), 7))
	require.NoError(t, db.Migrate(t.Context()))
	list, err := db.Runs(t.Context(), "a", "", 0)
	require.NoError(t, err)
	require.Len(t, list, 1)
	planning.Created, list[0].Created = time.Time{}, time.Time{}
	assert.Equal(t, planning, list[0])
}
