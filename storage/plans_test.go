package storage_test

import (
	"context"
	"testing"
	_ "time/tzdata"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/storage/storagetest"
)

func TestPlanRoundTrip(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, rev := savedPlant(t, db, "Skerrow")
	p := filledPlan(rev.Hash)
	header, err := db.SavePlan(t.Context(), "Skerrow", rev.Number, p)
	require.NoError(t, err)
	assert.Equal(t, archive.Plan{
		ID: header.ID, Plant: "Skerrow", Revision: 1, Hash: rev.Hash, Seed: p.Settings.Plant.Seed,
		Version: p.Version, Created: header.Created, Summary: p.Summary(),
	}, header)

	loaded, err := db.LoadPlan(t.Context(), header.ID)
	require.NoError(t, err)
	checkSame(t, p, loaded)
	assert.Same(t, loaded.Racks[0].Type, loaded.Racks[2].Type, "equal rack types are one")

	again, err := db.Plan(t.Context(), header.ID)
	require.NoError(t, err)
	assert.Equal(t, header, again)
}

// TestSummaryKeepsEveryField gives each field of a summary a value of its own,
// which no small plan has.
func TestSummaryKeepsEveryField(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, rev := savedPlant(t, db, "a")
	p := filledPlan(rev.Hash)
	many := func(n int, s finding.Severity) {
		for range n {
			p.Findings = append(p.Findings, finding.Finding{Severity: s})
		}
	}
	many(3, finding.Error)
	many(5, finding.Warning)
	many(6, finding.Note)
	p.Lanes = append(p.Lanes, make([]placement.Lane, 7)...)
	p.Lanes[0].Kind = plant.Return
	p.Racks[1].Proposed = false
	p.Unplaced = p.Unplaced[:1]
	want := p.Summary()
	header, err := db.SavePlan(t.Context(), "a", 1, p)
	require.NoError(t, err)
	list, err := db.Plans(t.Context(), "a", 0, 0)
	require.NoError(t, err)
	assert.Equal(t, []archive.Plan{header}, list)
	assert.Equal(t, want, list[0].Summary)
	assert.NotContains(t, dump(want), " = 0\n", "a summary with zeros would hide a lost column")
}

func TestEmptyPlan(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	p, rev := savedPlant(t, db, "a")
	empty := &planner.Plan{Plant: "a", Revision: rev.Hash, Settings: planner.DefaultSettings(p)}
	empty.Settings.Plant = plant.DefaultSettings()
	empty.Moves = []placement.Move{{Part: "new", To: &placement.Spot{Rack: "R1", Level: 1}}, {Part: "gone", From: &placement.Spot{Rack: "R1"}}}
	header, err := db.SavePlan(t.Context(), "a", 0, empty)
	require.NoError(t, err)
	loaded, err := db.LoadPlan(t.Context(), header.ID)
	require.NoError(t, err)
	checkSame(t, empty, loaded)
	assert.Nil(t, loaded.Moves[0].From)
	assert.Nil(t, loaded.Moves[1].To)
}

func TestPlanOfOtherFactsIsRefused(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	savedPlant(t, db, "a")
	before := rowsOf(t, db)
	_, err := db.SavePlan(t.Context(), "a", 1, filledPlan("0123"))
	assert.ErrorIs(t, err, archive.ErrConflict)
	assert.Equal(t, before, rowsOf(t, db))
}

func TestPlanCutShortIsInvisible(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, rev := savedPlant(t, db, "a")
	p := filledPlan(rev.Hash)
	checkCutShort(t, db, func(ctx context.Context) error {
		_, err := db.SavePlan(ctx, "a", 1, p)
		return err
	})
}

func TestPlansArePaged(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	_, rev := savedPlant(t, db, "a")
	savedPlant(t, db, "b")
	var ids []int64
	for i := range 4 {
		header, err := db.SavePlan(t.Context(), []string{"a", "b", "a", "a"}[i], 1, &planner.Plan{Revision: rev.Hash, Settings: filledPlan("").Settings})
		require.NoError(t, err)
		ids = append(ids, header.ID)
	}
	page, err := db.Plans(t.Context(), "a", ids[0], 1)
	require.NoError(t, err)
	require.Len(t, page, 1)
	assert.Equal(t, ids[2], page[0].ID)
	rest, err := db.Plans(t.Context(), "a", ids[2], 10)
	require.NoError(t, err)
	require.Len(t, rest, 1)
	assert.Equal(t, ids[3], rest[0].ID)
}

func TestReportViews(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	p := filledPlant()
	hash := plant.Revision(p)
	_, _, err := db.SaveRevision(t.Context(), "a", p, hash, *filled[[]archive.SheetCount](1), *filled[finding.List](1))
	require.NoError(t, err)
	plan := filledPlan(hash)
	_, err = db.SavePlan(t.Context(), "a", 1, plan)
	require.NoError(t, err)
	rows, err := db.Pool().Query(t.Context(), `select viewname from pg_views where schemaname = 'report'`)
	require.NoError(t, err)
	var views []string
	for rows.Next() {
		var name string
		require.NoError(t, rows.Scan(&name))
		views = append(views, name)
	}
	require.NotEmpty(t, views)
	for _, view := range views {
		tag, err := db.Pool().Exec(t.Context(), "select * from report."+view)
		assert.NoError(t, err, view)
		assert.Positive(t, tag.RowsAffected(), view)
	}

	var rate, width float64
	loop, lane := plan.Loops[0], plan.Lanes[0]
	require.NoError(t, db.Pool().QueryRow(t.Context(), `select pieces_per_hour from report.loops where part = $1`, loop.Part).Scan(&rate))
	assert.InDelta(t, loop.Rate.Float64()*60, rate, 1e-12)
	require.NoError(t, db.Pool().QueryRow(t.Context(), `select width_mm from report.lanes where part = $1`, lane.Loop.Part).Scan(&width))
	assert.InDelta(t, lane.Width.MM(), width, 1e-12)
	var clock string
	require.NoError(t, db.Pool().QueryRow(t.Context(), `select report.clock(109800000000000)`).Scan(&clock))
	assert.Equal(t, "30:30", clock, "past midnight a departure is on the next day")
}
