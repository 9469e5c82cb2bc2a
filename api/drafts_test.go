package api_test

import (
	"bytes"
	"fmt"
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner/archive"
)

const (
	asJSON = "Content-Type: application/json"
	le105  = `{"part":"LE-105","cell":"LENS","station":"10"}`
	le106  = `{"part":"LE-106","cell":"LENS","station":"10"}`
	te135  = `{"part":"TE-135","cell":"TEST/2","station":"10"}`
	toR2   = `{"kind":"move","loop":` + le105 + `,"to":{"rack":"R2","level":3}}`
	pinTE  = `{"kind":"pin","loop":` + te135 + `}`
)

func edit(by string, edits string) string {
	return fmt.Sprintf(`{"by":%q,"edits":[%s]}`, by, edits)
}

// newDraft begins a draft of the made-up plan.
func newDraft(t *testing.T, h http.Handler) (string, string) {
	t.Helper()
	w := call(t, h, "POST", "/api/v1/plans/1/drafts", `{"name":"Lenses to the right","by":"Ada"}`, asJSON)
	require.Equal(t, 201, w.Code, "%s", w.Body)
	return w.Header().Get("Location"), w.Header().Get("ETag")
}

func TestDrafts(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	d, tag := newDraft(t, h)
	assert.Equal(t, "/api/v1/drafts/1", d)
	assert.Equal(t, `"draft-1-0"`, tag)
	list := decode[wire.Page[wire.DraftHeader]](t, call(t, h, "GET", "/api/v1/plans/1/drafts", ""))
	require.Len(t, list.Items, 1)
	assert.Equal(t, "Lenses to the right", list.Items[0].Name)

	w := call(t, h, "POST", d+"/edits", edit("Ada", toR2), asJSON)
	assert.Equal(t, 428, w.Code, "an edit says what was seen: %s", w.Body)
	assert.Equal(t, 422, call(t, h, "POST", d+"/edits", edit("Ada", toR2), asJSON, `If-Match: "other"`).Code)
	assert.Equal(t, 422, call(t, h, "POST", d+"/edits", edit(" ", toR2), asJSON, "If-Match: "+tag).Code, "somebody does it")
	w = call(t, h, "POST", d+"/edits", edit("Ada", toR2), asJSON, "If-Match: "+tag, "Idempotency-Key: one")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	one := w.Header().Get("ETag")
	assert.Equal(t, `"draft-1-1"`, one)
	again := call(t, h, "POST", d+"/edits", edit("Ada", toR2), asJSON, "If-Match: "+tag, "Idempotency-Key: one")
	assert.Equal(t, one, again.Header().Get("ETag"), "asked twice, made once")

	// Ben saw the draft before: he is told what Ada did, and nothing is overwritten.
	w = call(t, h, "POST", d+"/edits", edit("Ben", pinTE), asJSON, "If-Match: "+tag)
	require.Equal(t, 412, w.Code)
	p := decode[wire.Problem](t, w)
	assert.Equal(t, 1, p.Version)
	require.Len(t, p.Since, 1)
	assert.Equal(t, "Ada", p.Since[0].By)
	assert.Equal(t, "move", p.Since[0].Edits[0].Kind)
	body := `{"by":"Ben","merge":true,"edits":[` + pinTE + `,{"kind":"unpin","loop":` + le105 + `},{"kind":"close","to":{"rack":"R2","level":2,"lane":3}}]}`
	w = call(t, h, "POST", d+"/edits", body, asJSON, `If-Match: W/"draft-1-0-gzip"`)
	require.Equal(t, 200, w.Code, "%s", w.Body)
	m := decode[wire.MergedDraft](t, w)
	require.Len(t, m.Steps, 2)
	assert.Equal(t, "pin", m.Steps[1].Edits[0].Kind)
	require.Len(t, m.Steps[1].Edits, 1, "only what touches nothing of Ada's")
	require.Len(t, m.Conflicts, 2)
	assert.Equal(t, "loop", m.Conflicts[0].On)
	assert.Equal(t, "Ada", m.Conflicts[0].By)
	assert.Equal(t, "move", m.Conflicts[0].Theirs.Kind)
	assert.Equal(t, "rack", m.Conflicts[1].On)
	assert.Equal(t, "R2", m.Conflicts[1].At.Rack)

	w = call(t, h, "POST", d+"/undo", `{"by":"Ada"}`, asJSON, "If-Match: "+one)
	require.Equal(t, 412, w.Code)
	w = call(t, h, "POST", d+"/undo", `{"by":"Ada"}`, asJSON, "If-Match: "+`"draft-1-2"`)
	require.Equal(t, 200, w.Code, "%s", w.Body)
	u := decode[wire.Draft](t, w)
	require.Len(t, u.Steps, 1)
	require.Len(t, u.Undone, 1)
	w = call(t, h, "POST", d+"/redo", `{"by":"Ada"}`, asJSON, "If-Match: "+w.Header().Get("ETag"))
	require.Equal(t, 200, w.Code)
	require.Equal(t, 409, call(t, h, "POST", d+"/redo", `{"by":"Ada"}`, asJSON, "If-Match: "+w.Header().Get("ETag")).Code)
	got := decode[wire.Draft](t, call(t, h, "GET", d, ""))
	assert.Equal(t, 4, got.Version)
	assert.Equal(t, m.Steps, got.Steps, "undone and made again: as it was")

	assert.Equal(t, 428, call(t, h, "DELETE", d, "").Code, "what was seen last is not said")
	w = call(t, h, "DELETE", d, "", `If-Match: "draft-1-3"`)
	require.Equal(t, 412, w.Code)
	assert.Len(t, decode[wire.Problem](t, w).Since, 1)
	assert.Equal(t, 204, call(t, h, "DELETE", d, "", `If-Match: "draft-1-4"`).Code)
	assert.Equal(t, 404, call(t, h, "GET", d, "").Code)
	assert.Equal(t, 404, call(t, h, "POST", d+"/edits", edit("Ada", toR2), asJSON, `If-Match: "draft-1-0"`).Code)
	assert.Equal(t, 404, call(t, h, "POST", "/api/v1/plans/9/drafts", `{"name":"x","by":"Ada"}`, asJSON).Code)
}

func TestDraftCellTryAndFits(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	d, tag := newDraft(t, h)
	before := decode[wire.DraftCell](t, call(t, h, "GET", d+"/cells/LENS", ""))
	plan := decode[wire.Cell](t, call(t, h, "GET", "/api/v1/plans/1/cells/LENS", ""))
	assert.Equal(t, plan.Racks, before.Cell.Racks)
	assert.Equal(t, plan.LanesThere, before.Cell.LanesThere)
	assert.Equal(t, plan.Balance, before.Cell.Balance)
	assert.Empty(t, before.Changes)
	assert.Equal(t, before.Before, before.After)
	assert.Positive(t, before.Before.LanesUsed)

	tried := decode[wire.TriedEdits](t, call(t, h, "POST", d+"/try", `{"edits":[`+toR2+`]}`, asJSON))
	assert.Equal(t, []string{"R1", "R2"}, tried.Racks)
	assert.Equal(t, len(tried.Worse) == 0, tried.Fits)
	assert.Equal(t, 0, tried.Version)
	fits := decode[wire.Fits](t, call(t, h, "POST", "/api/v1/plans/1/fits?part=LE-105&cell=LENS&station=10", "", asJSON))
	require.Len(t, fits.Levels, 4)
	for _, f := range fits.Levels {
		assert.Equal(t, f.Rack == "R1" && f.Level == 2, f.Here)
		assert.Equal(t, len(f.WhyNot) == 0, f.Fits)
		if f.Rack == "R2" && f.Level == 3 {
			assert.Equal(t, tried.Fits, f.Fits)
		}
	}
	w := call(t, h, "POST", d+"/edits", edit("Ada", toR2), asJSON, "If-Match: "+tag)
	require.Equal(t, 200, w.Code, "%s", w.Body)
	after := decode[wire.DraftCell](t, call(t, h, "GET", d+"/cells/LENS", ""))
	assert.Equal(t, 1, after.Version)
	require.NotEmpty(t, after.Changes)
	assert.Equal(t, "LE-105", after.Changes[0].Part)
	assert.Equal(t, "R2", after.Changes[0].After[0].Rack)
	back := decode[wire.TriedEdits](t, call(t, h, "POST", d+"/try", `{"edits":[{"kind":"move","loop":`+le105+`,"to":{"rack":"R1","level":2,"lane":1}}]}`, asJSON))
	assert.Equal(t, "R2", back.Loops[0].Before[0].Rack, "what is tried is compared with the draft, not with the plan")
	fits = decode[wire.Fits](t, call(t, h, "POST", d+"/fits?part=LE-105&cell=LENS&station=10", ""))
	for _, f := range fits.Levels {
		assert.Equal(t, f.Rack == "R2" && f.Level == 3, f.Here)
	}
	// One container of the loop needs one lane, and none is left where it lay before.
	for _, f := range decode[wire.Fits](t, call(t, h, "POST", d+"/fits?part=LE-105&cell=LENS&station=10&from_rack=R2&from_level=3&containers=1", "")).Levels {
		if f.Rack == "R1" {
			assert.Equal(t, 1, f.Lanes, f.Level)
		}
	}
	for _, f := range decode[wire.Fits](t, call(t, h, "POST", d+"/fits?part=LE-105&cell=LENS&station=10&from_rack=R1&from_level=2", "")).Levels {
		assert.Equal(t, f.Rack == "R2" && f.Level == 3, f.Fits, "%+v", f)
	}
	changes := decode[wire.EditedPlan](t, call(t, h, "GET", d+"/changes", ""))
	assert.Equal(t, []string{"R1", "R2"}, changes.Racks)
	other := decode[wire.DraftCell](t, call(t, h, "GET", d+"/cells/WIRE", ""))
	assert.Empty(t, other.Changes)
	assert.Positive(t, other.Before.LanesUsed)
	assert.Equal(t, 404, call(t, h, "GET", d+"/cells/NONE", "").Code)
	assert.Equal(t, 404, call(t, h, "POST", d+"/fits?part=none&cell=LENS&station=10", "").Code)
	assert.Equal(t, 422, call(t, h, "POST", d+"/try", `{"edits":[{"kind":"move"}]}`, asJSON).Code)
}

func TestPublish(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	none := decode[wire.Published](t, call(t, h, "GET", plantPath+"/published", ""))
	assert.Nil(t, none.Current)
	w := call(t, h, "POST", "/api/v1/plans/1/publish", `{"by":"Ada","note":"first"}`, asJSON, "Idempotency-Key: a")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	first := decode[wire.Publication](t, w)
	assert.Equal(t, wire.FloorChange{Racks: 4, Lanes: 16, Loops: 16, Containers: 48}, first.Changed, "all of it is new")
	again := decode[wire.Publication](t, call(t, h, "POST", "/api/v1/plans/1/publish", `{"by":"Ada","note":"first"}`, asJSON, "Idempotency-Key: a"))
	assert.Equal(t, first.ID, again.ID)

	d, tag := newDraft(t, h)
	full := `{"kind":"swap","loop":` + le105 + `,"with":` + le106 + `},{"kind":"close","to":{"rack":"R1","level":2,"lane":1}}`
	w = call(t, h, "POST", d+"/edits", edit("Ben", full), asJSON, "If-Match: "+tag)
	require.Equal(t, 200, w.Code, "%s", w.Body)
	tag = w.Header().Get("ETag")
	assert.Equal(t, 412, call(t, h, "POST", d+"/publish", `{"by":"Ben"}`, asJSON, `If-Match: "draft-1-0"`).Code, "what was seen is published")
	dry := decode[wire.Publication](t, call(t, h, "POST", d+"/publish?dry_run=true", `{"by":"Ben"}`, asJSON, "If-Match: "+tag))
	assert.Zero(t, dry.ID)
	assert.Equal(t, int64(1), dry.Before)
	assert.Equal(t, wire.FloorChange{Racks: 1, Lanes: 2, Loops: 0, Containers: 0}, dry.Changed, "two lanes of one level change places")
	w = call(t, h, "POST", d+"/publish", `{"by":"Ben"}`, asJSON, "If-Match: "+tag)
	require.Equal(t, 409, w.Code)
	p := decode[wire.Problem](t, w)
	assert.Contains(t, p.Accept, "edit.lane-closed")
	assert.NotEmpty(t, p.Findings)
	accept := fmt.Sprintf(`{"by":"Ben","note":"for the new lens","accept":[%q`, p.Accept[0])
	for _, c := range p.Accept[1:] {
		accept += fmt.Sprintf(",%q", c)
	}
	w = call(t, h, "POST", d+"/publish", accept+"]}", asJSON, "If-Match: "+tag)
	require.Equal(t, 200, w.Code, "%s", w.Body)
	second := decode[wire.Publication](t, w)
	assert.Equal(t, p.Accept, second.Accepted)
	assert.Equal(t, int64(2), second.Plan)
	assert.Equal(t, dry.Changed, second.Changed)

	shut := call(t, h, "GET", d, "", "If-None-Match: "+tag)
	assert.Equal(t, 200, shut.Code, "whoever has the draft as it was open is told")
	assert.NotEqual(t, tag, shut.Header().Get("ETag"))
	assert.Equal(t, 409, call(t, h, "POST", d+"/undo", `{"by":"Ben"}`, asJSON, "If-Match: "+shut.Header().Get("ETag")).Code)

	doc := call(t, h, "GET", "/api/v1/plans/2", "")
	made, err := s.LoadPlan(t.Context(), 2)
	require.NoError(t, err)
	var bytesOf bytes.Buffer
	require.NoError(t, wire.WritePlan(&bytesOf, made))
	assert.Equal(t, bytesOf.String(), doc.Body.String())
	plan := decode[wire.Plan](t, doc)
	require.Len(t, plan.Edits, 2)
	require.Len(t, plan.Held, 1)
	summary := decode[wire.PlanHeader](t, call(t, h, "GET", "/api/v1/plans/2/summary", ""))
	assert.Equal(t, int64(1), summary.From)
	assert.Equal(t, int64(1), summary.Draft)
	for _, b := range plan.Bounds.Cells {
		if b.Cell == "LENS" {
			assert.False(t, b.Optimal)
			assert.Equal(t, "by-hand", b.StoppedBy)
		}
	}

	now := decode[wire.Published](t, call(t, h, "GET", plantPath+"/published?limit=1", ""))
	assert.Equal(t, second.ID, now.Current.ID)
	require.Len(t, now.Items, 1)
	require.NotEmpty(t, now.Next)
	older := decode[wire.Published](t, call(t, h, "GET", plantPath+"/published?limit=1&cursor="+now.Next, ""))
	require.Len(t, older.Items, 1)
	assert.Equal(t, first.ID, older.Items[0].ID)
	assert.Equal(t, second.ID, older.Current.ID)
	assert.Equal(t, 409, call(t, h, "POST", d+"/undo", `{"by":"Ben"}`, asJSON, "If-Match: "+tag).Code, "a published draft is closed")
	assert.Equal(t, 409, call(t, h, "DELETE", d, "", "If-Match: "+tag).Code)
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/plants/none/published", "").Code)
}

// The database away is told as everywhere.
func TestDraftsWithoutADatabase(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	h := api.New(api.Options{Store: s})
	d, _ := newDraft(t, h)
	s.SetDown(archive.ErrUnavailable)
	assert.Equal(t, 503, call(t, h, "GET", d, "").Code)
	assert.Equal(t, 503, call(t, h, "GET", plantPath+"/published", "").Code)
}

// What is answered fits the description.
func TestDraftsFitTheDescription(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	dr, tag := newDraft(t, h)
	doc := decode[map[string]any](t, call(t, h, "GET", "/api/v1/openapi.json", ""))
	d := description{doc["components"].(map[string]any)["schemas"].(map[string]any)}
	for _, c := range []struct{ method, path, address, body string }{
		{"post", "/edits", "/edits", edit("Ada", toR2)}, {"get", "", "", ""}, {"get", "/cells/{cell}", "/cells/LENS", ""}, {"get", "/changes", "/changes", ""},
		{"post", "/try", "/try", `{"edits":[` + toR2 + `]}`}, {"post", "/fits", "/fits?part=LE-106&cell=LENS&station=10", ""},
		{"post", "/undo", "/undo", `{"by":"Ada"}`}, {"post", "/publish", "/publish?dry_run=true", `{"by":"Ada"}`},
	} {
		item := doc["paths"].(map[string]any)["/api/v1/drafts/{draft}"+c.path].(map[string]any)
		schema, ok := answerOf(item, c.method)
		require.True(t, ok, c.path)
		w := call(t, h, map[string]string{"get": "GET", "post": "POST"}[c.method], dr+c.address, c.body, asJSON, "If-Match: "+tag)
		require.Equal(t, 200, w.Code, "%s: %s", c.path, w.Body)
		assert.Empty(t, d.misfits(schema, decode[any](t, w), ""), c.path)
		if c.path == "/edits" || c.path == "/undo" {
			tag = w.Header().Get("ETag")
		}
	}
}
