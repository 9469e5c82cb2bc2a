package api_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/wire"
)

// edited makes edits of a draft as it stands.
func edited(t *testing.T, h http.Handler, draft int, by, edits string) {
	t.Helper()
	address := fmt.Sprintf("/api/v1/drafts/%d", draft)
	tag := call(t, h, "GET", address, "").Header().Get("ETag")
	w := call(t, h, "POST", address+"/edits", edit(by, edits), asJSON, "If-Match: "+tag)
	require.Equal(t, 200, w.Code, "%s", w.Body)
}

// TestDraftList: all drafts of a plant, what is in them and who made it.
func TestDraftList(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	newDraft(t, h)
	newDraft(t, h)
	edited(t, h, 1, "Ada", toR2+","+pinTE)
	edited(t, h, 1, "Ben", `{"kind":"close","to":{"rack":"R3","level":2,"lane":1}}`)
	list := decode[wire.Page[wire.DraftSummary]](t, call(t, h, "GET", plantPath+"/drafts", ""))
	require.Len(t, list.Items, 2)
	assert.Equal(t, int64(2), list.Items[0].ID, "the latest first")
	assert.Zero(t, list.Items[0].Edits)
	one := list.Items[1]
	assert.Equal(t, 3, one.Edits)
	assert.Equal(t, []string{"LENS", "TEST/2"}, one.Cells)
	assert.Equal(t, []string{"R3"}, one.Racks)
	assert.Equal(t, []string{"Ada", "Ben"}, one.People)
	page := decode[wire.Page[wire.DraftSummary]](t, call(t, h, "GET", plantPath+"/drafts?limit=1", ""))
	require.NotEmpty(t, page.Next)
	page = decode[wire.Page[wire.DraftSummary]](t, call(t, h, "GET", plantPath+"/drafts?limit=1&cursor="+page.Next, ""))
	require.Len(t, page.Items, 1)
	assert.Equal(t, one, page.Items[0])
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/plants/none/drafts", "").Code)

	story := decode[wire.DraftEdits](t, call(t, h, "GET", "/api/v1/drafts/1/edits", ""))
	require.Len(t, story.Edits, 3)
	assert.Equal(t, 1, story.Edits[1].Version)
	assert.Equal(t, 2, story.Edits[2].Version)
	moved := story.Edits[0].Loops[0]
	assert.Equal(t, "LE-105", moved.Part)
	assert.Equal(t, []wire.Spot{{Rack: "R1", Level: 2, Lane: 1}}, moved.Before.Spots)
	require.Len(t, moved.After.Spots, 1)
	assert.Equal(t, "R2", moved.After.Spots[0].Rack)
	assert.Empty(t, story.Edits[2].Loops, "a closed lane names no loop")
}

// TestCompareDraftAndMoves: what a draft makes is compared with any plan, and listed as
// errands from it.
func TestCompareDraftAndMoves(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	newDraft(t, h)
	edited(t, h, 1, "Ada", toR2)
	c := decode[wire.Comparison](t, call(t, h, "GET", "/api/v1/drafts/1/compare/1", ""))
	assert.Equal(t, int64(1), c.Before.ID)
	assert.Zero(t, c.After.ID)
	require.NotEmpty(t, c.Loops)
	assert.Equal(t, "LE-105", c.Loops[0].Part)
	assert.Equal(t, 3, c.Floor.Containers)
	edits := decode[wire.EditedPlan](t, call(t, h, "GET", "/api/v1/drafts/1/changes", ""))
	came := []string{}
	for _, f := range c.Findings {
		if !f.Gone {
			came = append(came, f.Code)
		}
	}
	for _, f := range edits.Broken {
		assert.Contains(t, came, f.Code)
	}
	list := decode[wire.MoveList](t, call(t, h, "GET", "/api/v1/drafts/1/moves?since=1", ""))
	assert.Equal(t, int64(1), list.Since)
	assert.Equal(t, 3, list.Containers)
	require.Len(t, list.Shifts, 1)
	assert.Equal(t, "LENS", list.Shifts[0].Cell)
	assert.Equal(t, list.Containers, list.Shifts[0].Containers)
	assert.InDelta(t, list.Minutes, list.Shifts[0].Minutes, 1e-9)
	sum := 0.0
	for _, m := range list.Steps {
		assert.Equal(t, "LE-105", m.Part)
		sum += m.Minutes
	}
	assert.InDelta(t, list.Minutes, sum, 1e-9)
	assert.Empty(t, decode[wire.MoveList](t, call(t, h, "GET", "/api/v1/drafts/1/moves", "")).Steps, "the facts have no layout of today")
	steps := decode[wire.MoveList](t, call(t, h, "GET", "/api/v1/plans/1/moves/list", ""))
	assert.Len(t, steps.Steps, len(apitest.Plan().MoveSteps))
	assert.Empty(t, decode[wire.MoveList](t, call(t, h, "GET", "/api/v1/plans/1/moves/list?since=1", "")).Steps)
	w := call(t, h, "POST", "/api/v1/drafts/1/publish", `{"by":"Ada"}`, asJSON, `If-Match: "draft-1-1"`)
	if w.Code == 409 {
		w = call(t, h, "POST", "/api/v1/drafts/1/publish", acceptAll(t, w, "Ada"), asJSON, `If-Match: "draft-1-1"`)
	}
	require.Equal(t, 200, w.Code, "%s", w.Body)
	made := decode[wire.MoveList](t, call(t, h, "GET", "/api/v1/plans/2/moves/list?since=1", ""))
	assert.Equal(t, list.Steps, made.Steps, "the plan that it became has the same list")
	_, err := s.LoadPlan(t.Context(), 2)
	require.NoError(t, err)
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/drafts/1/compare/9", "").Code)
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/drafts/1/moves?since=9", "").Code)
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/drafts/9/moves", "").Code)
}

// published publishes a draft, whatever it breaks.
func published(t *testing.T, h http.Handler, draft, version int, by string) int64 {
	t.Helper()
	address, tag := fmt.Sprintf("/api/v1/drafts/%d/publish", draft), fmt.Sprintf(`If-Match: "draft-%d-%d"`, draft, version)
	w := call(t, h, "POST", address, fmt.Sprintf(`{"by":%q}`, by), asJSON, tag)
	if w.Code == 409 {
		w = call(t, h, "POST", address, acceptAll(t, w, by), asJSON, tag)
	}
	require.Equal(t, 200, w.Code, "%s", w.Body)
	return decode[wire.Publication](t, w).Plan
}

// TestCarry: Ben's draft stands on a plan that Ada's took the place of. What touches
// nothing of hers goes over as it is; the rest is his choice; nothing of hers is lost.
func TestCarry(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	newDraft(t, h)
	newDraft(t, h)
	edited(t, h, 1, "Ada", toR2)
	edited(t, h, 2, "Ben", pinTE)
	edited(t, h, 2, "Cleo", `{"kind":"swap","loop":`+le105+`,"with":`+le106+`},{"kind":"pin","loop":`+le106+`}`)
	require.Equal(t, int64(2), published(t, h, 1, 1, "Ada"))

	c := decode[wire.Carried](t, call(t, h, "GET", "/api/v1/drafts/2/onto/2", ""))
	assert.True(t, c.Related)
	require.Len(t, c.Theirs, 1)
	assert.Equal(t, "Ada", c.Theirs[0].By)
	assert.Equal(t, int64(2), c.Theirs[0].Plan)
	assert.False(t, c.Theirs[0].Undone)
	require.Len(t, c.Edits, 3)
	assert.Nil(t, c.Edits[0].Conflict, "nobody else touched TEST/2")
	require.NotNil(t, c.Edits[1].Conflict)
	assert.Equal(t, "Cleo", c.Edits[1].By)
	assert.Equal(t, "loop", c.Edits[1].Conflict.On)
	assert.Equal(t, "Ada", c.Edits[1].Conflict.By)
	assert.Equal(t, "move", c.Edits[1].Conflict.Theirs.Kind)
	require.NotNil(t, c.Edits[2].Conflict)

	assert.Equal(t, 412, call(t, h, "POST", "/api/v1/drafts/2/onto/2", `{"by":"Ben"}`, asJSON, `If-Match: "draft-2-1"`).Code, "what was seen is carried")
	w := call(t, h, "POST", "/api/v1/drafts/2/onto/2", `{"by":"Ben","take":[1]}`, asJSON, `If-Match: "draft-2-2"`)
	require.Equal(t, 201, w.Code, "%s", w.Body)
	made := decode[wire.Draft](t, w)
	assert.Equal(t, int64(2), made.Plan)
	assert.Equal(t, "Lenses to the right", made.Name)
	require.Len(t, made.Steps, 2)
	assert.Equal(t, "Ben", made.Steps[0].By)
	assert.Equal(t, "Cleo", made.Steps[1].By, "each edit keeps the name of who made it")
	require.Len(t, made.Steps[1].Edits, 1, "the edit that was not taken is left out")
	again := decode[wire.Draft](t, call(t, h, "POST", "/api/v1/drafts/2/onto/2", `{"by":"Ben","take":[1]}`, asJSON, `If-Match: "draft-2-2"`))
	assert.Equal(t, made, again, "asked twice, made once")
	old := decode[wire.Draft](t, call(t, h, "GET", "/api/v1/drafts/2", ""))
	assert.Len(t, old.Steps, 2, "the draft itself stays")

	// Back to the first plan: Ada's edits count as taken back.
	back := decode[wire.Carried](t, call(t, h, "GET", fmt.Sprintf("/api/v1/drafts/%d/onto/1", made.ID), ""))
	assert.True(t, back.Related)
	require.Len(t, back.Theirs, 1)
	assert.True(t, back.Theirs[0].Undone)
	require.NotNil(t, back.Edits[1].Conflict)
	assert.True(t, back.Edits[1].Conflict.Undone)

	// A plan that was made anew: what differs counts.
	other := apitest.Plan()
	for i := range other.Lanes {
		if other.Lanes[i].Loop.Part == "LE-106" {
			other.Lanes[i].Containers--
		}
	}
	_, err := s.SavePlan(t.Context(), apitest.Name, 1, other)
	require.NoError(t, err)
	c = decode[wire.Carried](t, call(t, h, "GET", "/api/v1/drafts/2/onto/3", ""))
	assert.False(t, c.Related)
	assert.Empty(t, c.Theirs)
	assert.Nil(t, c.Edits[0].Conflict)
	require.NotNil(t, c.Edits[1].Conflict)
	require.NotNil(t, c.Edits[1].Differs)
	assert.Equal(t, "LE-106", c.Edits[1].Differs.Part)
	assert.Nil(t, c.Edits[1].Conflict.Theirs)

	assert.Equal(t, 422, call(t, h, "GET", "/api/v1/drafts/2/onto/1", "").Code, "it is of that plan")
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/drafts/2/onto/9", "").Code)
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/drafts/9/onto/1", "").Code)
}

// TestCarryFitsTheDescription: the answer fits its schema.
func TestCarryFitsTheDescription(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	newDraft(t, h)
	newDraft(t, h)
	edited(t, h, 1, "Ada", toR2)
	edited(t, h, 2, "Ben", toR2)
	published(t, h, 1, 1, "Ada")
	doc := decode[map[string]any](t, call(t, h, "GET", "/api/v1/openapi.json", ""))
	d := description{doc["components"].(map[string]any)["schemas"].(map[string]any)}
	for _, c := range []struct{ method, path, address, body string }{
		{"get", "/onto/{other}", "/onto/2", ""}, {"post", "/onto/{other}", "/onto/2", `{"by":"Ben"}`},
		{"get", "/compare/{other}", "/compare/1", ""}, {"get", "/moves", "/moves?since=1", ""}, {"get", "/edits", "/edits", ""},
	} {
		item := doc["paths"].(map[string]any)["/api/v1/drafts/{draft}"+c.path].(map[string]any)
		schema, ok := answerOf(item, c.method)
		if !ok { // 201
			continue
		}
		w := call(t, h, map[string]string{"get": "GET", "post": "POST"}[c.method], "/api/v1/drafts/2"+c.address, c.body, asJSON, `If-Match: "draft-2-1"`)
		require.Less(t, w.Code, 300, "%s: %s", c.path, w.Body)
		assert.Empty(t, d.misfits(schema, decode[any](t, w), ""), c.path)
	}
}

// acceptAll asks for what was refused once more, every broken rule accepted.
func acceptAll(t *testing.T, refusal *httptest.ResponseRecorder, by string) string {
	t.Helper()
	p := decode[wire.Problem](t, refusal)
	accept := ""
	for i, c := range p.Accept {
		if i > 0 {
			accept += ","
		}
		accept += fmt.Sprintf("%q", c)
	}
	return fmt.Sprintf(`{"by":%q,"accept":[%s]}`, by, accept)
}
