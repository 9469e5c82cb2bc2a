package api_test

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/api/runner"
	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/storage/storagetest"
	"lanewright/testdata/plants"
)

const skerrow = "/api/v1/plants/Skerrow"

// TestWholeWay hands in the made-up plant's workbook, has it planned on a real
// database and reads the plan back: every view adds up to the document.
func TestWholeWay(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	h := api.New(api.Options{Store: db, Version: "test"})
	file := string(plants.Skerrow)

	strict := call(t, h, "POST", skerrow+"/imports?name="+plants.SkerrowName, withMistake(t))
	require.Equal(t, 422, strict.Code, "%s", strict.Body)
	refused := decode[wire.Problem](t, strict)
	assert.NotEmpty(t, refused.Findings)
	assert.NotEmpty(t, refused.Sheets)
	assert.Equal(t, 404, call(t, h, "GET", skerrow, "").Code, "nothing may be stored")

	dry := call(t, h, "POST", skerrow+"/imports?leave_out=true&dry_run=true&name="+plants.SkerrowName, file)
	require.Equal(t, 200, dry.Code, "%s", dry.Body)
	assert.False(t, decode[wire.Import](t, dry).Stored)
	assert.Equal(t, 404, call(t, h, "GET", skerrow, "").Code, "a dry run stores nothing")

	kept := call(t, h, "POST", skerrow+"/imports?leave_out=true&name="+plants.SkerrowName, file)
	require.Equal(t, 201, kept.Code, "%s", kept.Body)
	rev := decode[wire.Import](t, kept)
	assert.Equal(t, decode[wire.Import](t, dry).Revision, rev.Revision)
	assert.Equal(t, 200, call(t, h, "GET", kept.Header().Get("Location"), "").Code)
	for _, s := range rev.Sheets {
		assert.Equal(t, s.Rows, s.Used+s.Reported+s.Skipped, "ledger of %s", s.Sheet)
	}
	again := call(t, h, "POST", skerrow+"/imports?leave_out=true&name="+plants.SkerrowName, file)
	assert.Equal(t, 200, again.Code)
	assert.False(t, decode[wire.Import](t, again).Stored, "the same facts are no new revision")

	plan := madePlan(t, h, db)
	checkPlan(t, h, plan)
	checkRound(t, api.New(api.Options{Store: db, Version: "test", Clock: func() time.Time { return time.Date(2026, 10, 26, 9, 0, 0, 0, time.UTC) }}))
	checkPlay(t, h, done(t, h, db, plan+"/simulations", `{"settings":{"simulation_weeks":9}}`))
}

// withMistake returns the made-up plant's workbook without its sheet of
// parts.
func withMistake(t *testing.T) string {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(plants.Skerrow))
	require.NoError(t, err)
	require.NoError(t, f.DeleteSheet("Parts"))
	var book bytes.Buffer
	require.NoError(t, f.Write(&book))
	return book.String()
}

// madePlan asks for a plan and has a runner make it.
func madePlan(t *testing.T, h http.Handler, store runner.Store) string {
	t.Helper()
	run := done(t, h, store, skerrow+"/plans", `{"settings":{"placement_steps":20}}`)
	return "/api/v1/plans/" + strconv.FormatInt(run.Plan, 10)
}

// measured is a play of any plan, measured beforehand.
func measured(_ context.Context, _ *plant.Plant, p *planner.Plan, s simulation.Settings, _ planner.Options) (simulation.Result, error) {
	r := *apitest.Played(p)
	r.Settings = s
	return r, nil
}

// done asks for a run and has a runner do it.
func done(t *testing.T, h http.Handler, store runner.Store, path, body string) wire.Run {
	t.Helper()
	w := call(t, h, "POST", path, body, jsonBody)
	require.Equal(t, 202, w.Code, "%s", w.Body)
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- runner.New(store, runner.Options{Play: measured}).Work(ctx) }()
	events := call(t, h, "GET", w.Header().Get("Location")+"/events", "")
	assert.Contains(t, events.Body.String(), `"state":"done"`)
	stop()
	require.NoError(t, <-done)
	run := decode[wire.Run](t, call(t, h, "GET", w.Header().Get("Location"), ""))
	require.Equal(t, "done", run.State, run.Error)
	return run
}

// checkRound goes on the first round of a Monday: every lane gets what was expected, and
// the supervisor sees the round as done.
func checkRound(t *testing.T, h http.Handler) {
	t.Helper()
	day := time.Date(2026, 10, 26, 9, 0, 0, 0, time.UTC)
	list := decode[wire.DayRounds](t, call(t, h, "GET", "/api/v1/rounds?plant=Skerrow&day=2026-10-26", ""))
	require.NotEmpty(t, list.Items)
	sheet := decode[wire.RoundSheet](t, call(t, h, "GET", roundPath(list.Items[0].Round), ""))
	events := []string{event(0, day, `"kind":"started"`)}
	for _, s := range sheet.Visits {
		for _, l := range s.Lanes {
			events = append(events, event(len(events), day, fmt.Sprintf(`"kind":"brought","stop":%d,"level":%d,"lane":%d,"part":%q,"containers":%d`, s.Order, l.Level, l.Lane, l.Part, l.Expected)))
		}
	}
	events = append(events, event(len(events), day, `"kind":"ended"`))
	for range 2 {
		status, answer, refused := send(t, h, sheet.Round, events...)
		require.Equal(t, 200, status, "%v", refused)
		assert.NotContains(t, outcomes(answer), "refused")
		assert.Equal(t, "done", answer.Round.State)
		assert.Equal(t, answer.Round.Stops, answer.Round.StopsTicked)
	}
	kept := decode[wire.Ticks](t, call(t, h, "GET", roundPath(sheet.Round)+"/ticks", ""))
	assert.Len(t, kept.Ticks, len(events))
	status, _, _ := send(t, h, sheet.Round, event(0, day, `"kind":"ended"`))
	assert.Equal(t, 409, status)
	x := decode[wire.RoundsSummary](t, call(t, h, "GET", skerrow+"/rounds/summary?day=2026-10-26", ""))
	assert.Equal(t, []int{list.Total, 1, 0}, []int{x.Rounds, x.Done, len(x.Misses)})
}

// checkPlay reads a play back: it has every loop, route and rack of its plan.
func checkPlay(t *testing.T, h http.Handler, run wire.Run) {
	t.Helper()
	at := "/api/v1/simulations/" + strconv.FormatInt(run.Simulation, 10)
	x := decode[wire.Simulation](t, call(t, h, "GET", at, ""))
	assert.Equal(t, run.Played, x.Plan)
	assert.Equal(t, 9, x.Settings.Weeks)
	doc := decode[wire.Plan](t, call(t, h, "GET", "/api/v1/plans/"+strconv.FormatInt(x.Plan, 10), ""))
	assert.Nil(t, doc.Proof, "a play is not the plan's proof")
	loops := decode[wire.Page[wire.SimulatedLoop]](t, call(t, h, "GET", at+"/loops?limit=1000", ""))
	assert.Equal(t, len(doc.Loops), loops.Total)
	assert.Equal(t, loops.Total, x.Verdicts.Proved+x.Verdicts.Short+x.Verdicts.NotPlayed)
	for i, l := range loops.Items {
		assert.Equal(t, doc.Loops[i].Part, l.Part, "loops in the order of the plan")
	}
	assert.Len(t, doc.Routes, decode[wire.Page[wire.SimulatedRoute]](t, call(t, h, "GET", at+"/routes", "")).Total)
	assert.Len(t, doc.Racks, decode[wire.Page[wire.SimulatedRack]](t, call(t, h, "GET", at+"/racks", "")).Total)
	assert.Equal(t, 1, decode[wire.Page[wire.Finding]](t, call(t, h, "GET", at+"/findings", "")).Total)
	list := decode[wire.Page[wire.Simulation]](t, call(t, h, "GET", "/api/v1/plans/"+strconv.FormatInt(x.Plan, 10)+"/simulations", ""))
	assert.Equal(t, []wire.Simulation{x}, list.Items)
}

func checkPlan(t *testing.T, h http.Handler, at string) {
	t.Helper()
	doc := decode[wire.Plan](t, call(t, h, "GET", at, ""))
	assert.Equal(t, wire.Format, doc.Format)
	assert.EqualValues(t, 20, doc.Settings["placement_steps"])
	cells := decode[wire.Page[wire.Cell]](t, call(t, h, "GET", at+"/cells?limit=1000", ""))
	var sum wire.Summary
	for _, c := range cells.Items {
		sum.Loops += c.Loops
		sum.LoopsPlaced += c.LoopsPlaced
		sum.Racks += c.Racks
		sum.LanesUsed += c.LanesUsed
		sum.LanesFree += c.LanesFree
		sum.Containers += c.Containers
		sum.ContainersUnplaced += c.ContainersUnplaced
		lanes := decode[wire.Page[wire.Lane]](t, call(t, h, "GET", at+"/cells/"+c.Cell+"/lanes?limit=1000", ""))
		supply := 0
		for _, l := range lanes.Items {
			if l.Kind == "supply" {
				supply++
			}
		}
		assert.Equal(t, c.LanesThere, supply, c.Cell)
	}
	s := doc.Summary
	assert.Equal(t, []int{s.Loops, s.LoopsPlaced, s.Racks, s.LanesUsed, s.LanesFree, s.Containers, s.ContainersUnplaced},
		[]int{sum.Loops, sum.LoopsPlaced, sum.Racks, sum.LanesUsed, sum.LanesFree, sum.Containers, sum.ContainersUnplaced})
	assert.Equal(t, len(doc.Loops), s.Loops)
	assert.Equal(t, len(doc.Routes), decode[wire.Page[wire.Route]](t, call(t, h, "GET", at+"/routes", "")).Total)
	checkReport(t, call(t, h, "GET", at+"/report.xlsx", "").Body.Bytes())
}

func checkReport(t *testing.T, book []byte) {
	t.Helper()
	_, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	require.NoError(t, err)
	f, err := excelize.OpenReader(bytes.NewReader(book))
	require.NoError(t, err)
	assert.Contains(t, f.GetSheetList(), "Racks")
}

// TestRefusedFiles: what is no workbook is refused with its finding and place
// to start.
func TestRefusedFiles(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	for name, c := range map[string]struct{ body, code string }{
		"a picture":  {"\x89PNG\r\n\x1a\n" + "not really", "sheet."},
		"one letter": {"x", ""},
		"plain text": {"hello", ""},
	} {
		for _, query := range []string{"", "&leave_out=true", "&dry_run=true"} {
			w := call(t, h, "POST", plantPath+"/imports?name=plant.xlsx"+query, c.body)
			require.Equal(t, 422, w.Code, "%s%s: %s", name, query, w.Body)
			p := decode[wire.Problem](t, w)
			require.NotEmpty(t, p.Findings, name)
			assert.Contains(t, p.Findings[0].Code, c.code)
			assert.NotEmpty(t, p.Findings[0].Remedy)
		}
	}
	assert.Contains(t, call(t, h, "GET", plantPath, "").Body.String(), `"revisions":1`)
}

// TestForm: a file may come as the file of a form, under its own name.
func TestForm(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	body := "--x\r\nContent-Disposition: form-data; name=\"note\"\r\n\r\nhello\r\n" +
		"--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"C:\\\\plans\\\\lamps.csv\"\r\n\r\nno,such,heading\r\n1,2,3\r\n--x--\r\n"
	w := call(t, h, "POST", plantPath+"/imports", body, "Content-Type: multipart/form-data; boundary=x")
	require.Equal(t, 422, w.Code, "%s", w.Body)
	p := decode[wire.Problem](t, w)
	require.NotEmpty(t, p.Findings)
	assert.Equal(t, "lamps.csv", p.Findings[0].Origin.File)
}
