package storage_test

import (
	"context"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/storage"
	"lanewright/storage/storagetest"
)

// everyEdit has one edit of each kind with all its fields.
func everyEdit() []placement.Edit {
	k := demand.Key{Part: "p é", Cell: "c", Station: "s"}
	to, from := placement.Spot{Rack: "R1", Level: 2, Lane: 3}, placement.Spot{Rack: "R2", Level: 4, Lane: 5}
	return []placement.Edit{
		placement.MoveLoop{Loop: k, To: to, From: from, Containers: 6, Side: plant.WidthAlong},
		placement.SwapLoops{A: k, B: demand.Key{Part: "q", Cell: "d", Station: "t"}},
		placement.PinLoop{Loop: k, To: from}, placement.UnpinLoop{Loop: k}, placement.CloseLane{Lane: to},
		placement.ChangeContainer{Loop: k, Container: "BOX", Pack: 7}, placement.ChangeInterval{Loop: k, Interval: 90 * time.Second},
	}
}

// draftedPlan stores a plan and begins a draft of it.
func draftedPlan(t *testing.T, db *storage.DB) (archive.Plan, archive.Draft, *planner.Plan) {
	t.Helper()
	_, rev := savedPlant(t, db, "a")
	p := filledPlan(rev.Hash)
	p.Proof = nil
	header, err := db.SavePlan(t.Context(), "a", 1, p)
	require.NoError(t, err)
	d, created, err := db.CreateDraft(t.Context(), archive.NewDraft{Plan: header.ID, Name: "Move the lenses", By: "Ada", Key: "k"})
	require.NoError(t, err)
	require.True(t, created)
	return header, d, p
}

func TestDrafts(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	header, d, _ := draftedPlan(t, db)
	assert.Equal(t, archive.Draft{ID: d.ID, Plan: header.ID, Plant: "a", Name: "Move the lenses", By: "Ada", Created: d.Created, Changed: d.Changed}, d)
	again, created, err := db.CreateDraft(t.Context(), archive.NewDraft{Plan: header.ID, Name: "Move the lenses", By: "Ada", Key: "k"})
	require.NoError(t, err)
	assert.False(t, created)
	assert.Equal(t, d, again)
	_, _, err = db.CreateDraft(t.Context(), archive.NewDraft{Plan: header.ID, Name: "Other", By: "Ada", Key: "k"})
	assert.ErrorIs(t, err, archive.ErrConflict)
	_, _, err = db.CreateDraft(t.Context(), archive.NewDraft{Plan: 99})
	assert.ErrorIs(t, err, archive.ErrNotFound)

	d, err = db.AddStep(t.Context(), d.ID, archive.NewStep{After: 0, Kind: archive.MakeStep, By: "Ada", Edits: everyEdit(), Key: "one"})
	require.NoError(t, err)
	require.Equal(t, 1, d.Version)
	require.Equal(t, everyEdit(), d.Steps[0].Edits)
	d, err = db.AddStep(t.Context(), d.ID, archive.NewStep{After: 0, Kind: archive.MakeStep, By: "Ada", Edits: everyEdit(), Key: "one"})
	require.NoError(t, err, "asked twice")
	require.Equal(t, 1, d.Version)
	_, err = db.AddStep(t.Context(), d.ID, archive.NewStep{After: 0, Kind: archive.MakeStep, By: "Ben", Edits: everyEdit()[:1]})
	require.ErrorIs(t, err, archive.ErrStale)
	_, err = db.AddStep(t.Context(), d.ID, archive.NewStep{After: 1, Kind: archive.UndoStep, By: "Ben"})
	require.NoError(t, err)
	d, err = db.AddStep(t.Context(), d.ID, archive.NewStep{After: 2, Kind: archive.MakeStep, By: "Ben", Edits: everyEdit()[2:4]})
	require.NoError(t, err)
	loaded, err := db.Draft(t.Context(), d.ID)
	require.NoError(t, err)
	require.Equal(t, d, loaded)
	require.Equal(t, everyEdit()[2:4], loaded.Edits())
	require.Len(t, loaded.Steps, 3, "what was undone is not lost")
	list, err := db.Drafts(t.Context(), header.ID, 0, 10)
	require.NoError(t, err)
	header2 := loaded
	header2.Steps = nil
	require.Equal(t, []archive.Draft{header2}, list)
	second, _, err := db.CreateDraft(t.Context(), archive.NewDraft{Plan: header.ID, Name: "Another", By: "Ben"})
	require.NoError(t, err)
	second, err = db.AddStep(t.Context(), second.ID, archive.NewStep{Kind: archive.MakeStep, By: "Ben", Edits: everyEdit()[:3]})
	require.NoError(t, err)
	list, err = db.PlantDrafts(t.Context(), "a", 0, 10)
	require.NoError(t, err)
	require.Equal(t, []archive.Draft{second, loaded}, list, "the latest first, with all their steps")
	list, err = db.PlantDrafts(t.Context(), "a", second.ID, 10)
	require.NoError(t, err)
	require.Equal(t, []archive.Draft{loaded}, list)
	_, err = db.PlantDrafts(t.Context(), "none", 0, 10)
	require.ErrorIs(t, err, archive.ErrNotFound)

	require.ErrorIs(t, db.RemoveDraft(t.Context(), d.ID, loaded.Version-1), archive.ErrStale, "with edits that were not seen")
	require.NoError(t, db.RemoveDraft(t.Context(), d.ID, loaded.Version))
	_, err = db.Draft(t.Context(), d.ID)
	assert.ErrorIs(t, err, archive.ErrNotFound)
	assert.ErrorIs(t, db.RemoveDraft(t.Context(), d.ID, d.Version), archive.ErrNotFound)
	_, err = db.AddStep(t.Context(), d.ID, archive.NewStep{Kind: archive.UndoStep})
	assert.ErrorIs(t, err, archive.ErrNotFound)
}

// Of several people who take a step after the same version one does, and the others
// are told.
func TestStepsOfSeveralPeople(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, d, _ := draftedPlan(t, db)
	var people sync.WaitGroup
	errs := make([]error, 6)
	for i := range errs {
		people.Go(func() {
			_, errs[i] = db.AddStep(context.Background(), d.ID, archive.NewStep{Kind: archive.MakeStep, Edits: everyEdit()})
		})
	}
	people.Wait()
	done := 0
	for _, err := range errs {
		if err == nil {
			done++
			continue
		}
		assert.ErrorIs(t, err, archive.ErrStale)
	}
	assert.Equal(t, 1, done)
}

func TestPublish(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	header, d, p := draftedPlan(t, db)
	first := archive.NewPublication{Plant: "a", Plan: header.ID, By: "Ada", Note: "as planned", Changed: planner.FloorChange{Racks: 1, Lanes: 2, Loops: 3, Containers: 4}, Key: "x"}
	one, created, err := db.Publish(t.Context(), first)
	require.NoError(t, err)
	require.True(t, created)
	assert.Equal(t, archive.Publication{
		ID: one.ID, Plant: "a", Plan: header.ID, By: "Ada", Note: "as planned", Created: one.Created, Accepted: []string{}, Changed: first.Changed,
	}, one)
	again, created, err := db.Publish(t.Context(), first)
	require.NoError(t, err)
	assert.False(t, created)
	assert.Equal(t, one, again)
	first.Note = "other"
	_, _, err = db.Publish(t.Context(), first)
	assert.ErrorIs(t, err, archive.ErrConflict)
	first.Key = ""
	_, _, err = db.Publish(t.Context(), first)
	assert.ErrorIs(t, err, archive.ErrStale, "it compares with no plan, and one is published")

	d, err = db.AddStep(t.Context(), d.ID, archive.NewStep{Kind: archive.MakeStep, By: "Ben", Edits: everyEdit()})
	require.NoError(t, err)
	edited := *p
	edited.Edits, edited.Held = everyEdit(), everyEdit()[2:5]
	next := archive.NewPublication{Plant: "a", Edited: &edited, Draft: d.ID, Version: 0, Before: header.ID, By: "Ben", Accepted: []string{"edit.pin-not-kept"}}
	before := rowsOf(t, db)
	_, _, err = db.Publish(t.Context(), next)
	require.ErrorIs(t, err, archive.ErrStale, "the draft is of another version")
	assert.Equal(t, before, rowsOf(t, db), "nothing of it was stored")
	next.Version = d.Version
	two, _, err := db.Publish(t.Context(), next)
	require.NoError(t, err)
	assert.Equal(t, header.ID, two.Before)
	assert.Equal(t, d.ID, two.Draft)
	assert.Equal(t, []string{"edit.pin-not-kept"}, two.Accepted)
	made, err := db.Plan(t.Context(), two.Plan)
	require.NoError(t, err)
	assert.Equal(t, header.ID, made.From)
	assert.Equal(t, d.ID, made.Draft)
	loaded, err := db.LoadPlan(t.Context(), two.Plan)
	require.NoError(t, err)
	checkSame(t, &edited, loaded)
	require.Equal(t, edited.Edits, loaded.Edits)
	require.Equal(t, edited.Held, loaded.Held)

	next.Before = two.Plan
	_, _, err = db.Publish(t.Context(), next)
	assert.ErrorIs(t, err, archive.ErrConflict, "a draft is published once")
	_, err = db.AddStep(t.Context(), d.ID, archive.NewStep{After: d.Version, Kind: archive.UndoStep})
	assert.ErrorIs(t, err, archive.ErrConflict)
	assert.ErrorIs(t, db.RemoveDraft(t.Context(), d.ID, d.Version), archive.ErrConflict)

	history, err := db.Publications(t.Context(), "a", 0, 0)
	require.NoError(t, err)
	assert.Equal(t, []archive.Publication{two, one}, history)
	history, err = db.Publications(t.Context(), "a", two.ID, 1)
	require.NoError(t, err)
	assert.Equal(t, []archive.Publication{one}, history)
	_, err = db.Publications(t.Context(), "none", 0, 0)
	assert.ErrorIs(t, err, archive.ErrNotFound)
	_, err = db.Pool().Exec(t.Context(), `update work.publications set note = 'changed'`)
	assert.Error(t, err, "publications are never changed")
	_, err = db.Pool().Exec(t.Context(), `delete from plan.edits`)
	assert.Error(t, err, "nor are the edits of plans")
}
