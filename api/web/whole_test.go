package web_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/plant"
	"lanewright/storage"
	"lanewright/storage/storagetest"
	"lanewright/testdata/plants"
)

// planned stores the made-up plant and a plan of it in a real database.
func planned(t *testing.T) (*storage.DB, *planner.Plan) {
	t.Helper()
	ctx := context.Background()
	read, err := importers.ReadBytes(ctx, plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	facts := &read.Plant
	db := storagetest.New(t)
	_, _, err = db.SaveRevision(ctx, facts.Name, facts, plant.Revision(facts), []archive.SheetCount{}, read.Findings)
	require.NoError(t, err)
	settings := planner.DefaultSettings(facts)
	settings.Placement.Steps = 20
	p, err := planner.Run(ctx, planner.Input{Plant: facts, Findings: read.Findings}, settings, planner.Options{Threads: 2})
	require.NoError(t, err)
	_, err = db.SavePlan(ctx, facts.Name, 1, p)
	require.NoError(t, err)
	return db, p
}

// TestWholePlant opens the pages of the whole made-up plant: they show the
// figures of its plan.
func TestWholePlant(t *testing.T) {
	t.Parallel()
	browser(t)
	db, p := planned(t)
	s := p.Summary()
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			tb := open(t, db, w.width, w.height)
			tb.visit("/")
			assert.Equal(t, p.Plant, tb.text("h1"))
			assert.Contains(t, tb.text(".figures"), fmt.Sprintf("Loops with a lane %d of %d", s.LoopsPlaced, s.Loops))
			assert.Contains(t, tb.text(".figures"), fmt.Sprintf("Racks %d", s.Racks))
			assert.Equal(t, s.Routes, eval[int](tb, `document.querySelectorAll("#routes tbody tr").length`))
			tb.clean()
			tb.screenshot("whole-" + w.name)
			tb.visit("/cells")
			assert.Equal(t, len(p.Cells), eval[int](tb, `document.querySelectorAll("#cells tbody tr").length`))
			tb.clean()
			tb.screenshot("whole-cells-" + w.name)
			tb.visit("/cells/" + string(p.Cells[0].Cell))
			tb.clean()
			tb.screenshot("whole-cell-" + w.name)
			tb.visit("/routes/" + p.Routes[0].Route)
			assert.Equal(t, len(p.Routes[0].Stops), eval[int](tb, `document.querySelectorAll("#stops tbody tr").length`))
			tb.clean()
			tb.screenshot("whole-route-" + w.name)
		})
	}
}
