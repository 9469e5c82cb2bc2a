package api_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
)

const editsOfOne = "/api/v1/plans/1/edits"

// codesOf lists the codes of findings.
func codesOf(list []wire.Finding) []string {
	codes := []string{}
	for _, f := range list {
		codes = append(codes, f.Code)
	}
	return codes
}

func TestTryEdits(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	const a, b = `{"part":"LE-105","cell":"LENS","station":"10"}`, `{"part":"LE-106","cell":"LENS","station":"10"}`
	one := decode[wire.EditedPlan](t, call(t, h, "POST", editsOfOne, `{"edits":[{"kind":"swap","loop":`+a+`,"with":`+b+`}]}`, "Content-Type: application/json"))
	assert.Equal(t, wire.EditsFormat, one.Format)
	assert.Equal(t, []string{"R1"}, one.Racks)
	require.Len(t, one.Cells, 1)
	assert.Equal(t, "LENS", one.Cells[0].Cell)
	twice := decode[wire.EditedPlan](t, call(t, h, "POST", editsOfOne, `{"edits":[{"kind":"swap","loop":`+a+`,"with":`+b+`},{"kind":"swap","loop":`+b+`,"with":`+a+`}]}`, "Content-Type: application/json"))
	assert.Empty(t, twice.Racks)
	assert.Empty(t, twice.Loops)
	closed := decode[wire.EditedPlan](t, call(t, h, "POST", editsOfOne, `{"edits":[{"kind":"close","to":{"rack":"R1","level":2,"lane":1}},{"kind":"move","loop":`+a+`,"to":{"rack":"R9","level":1}}]}`, "Content-Type: application/json"))
	assert.Equal(t, []string{"edit.lane-closed", "edit.not-possible"}, codesOf(closed.Broken))
	assert.Equal(t, []wire.Spot{{Rack: "R1", Level: 2, Lane: 1}}, closed.Closed)
	for _, kind := range []string{
		`"kind":"pin","loop":` + a, `"kind":"unpin","loop":` + a, `"kind":"interval","loop":` + a + `,"interval_min":20`,
		`"kind":"container","loop":` + a + `,"container":"SLC-4315","pack":10`,
		`"kind":"move","loop":` + a + `,"from":{"rack":"R1","level":2},"to":{"rack":"R2","level":3},"containers":1,"flow_side":"width"`,
	} {
		w := call(t, h, "POST", editsOfOne, `{"edits":[{`+kind+`}]}`, "Content-Type: application/json")
		require.Equal(t, 200, w.Code, "%s: %s", kind, w.Body)
		assert.NotContains(t, codesOf(decode[wire.EditedPlan](t, w).Broken), "edit.not-possible", kind)
	}
}

// The answer of edits fits its schema too; bad edits say what is wrong with them.
func TestEditsFitTheDescription(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	doc := decode[map[string]any](t, call(t, h, "GET", "/api/v1/openapi.json", ""))
	d := description{doc["components"].(map[string]any)["schemas"].(map[string]any)}
	item := doc["paths"].(map[string]any)["/api/v1/plans/{plan}/edits"].(map[string]any)
	schema, ok := answerOf(item, "post")
	require.True(t, ok)
	w := call(t, h, "POST", editsOfOne, `{"edits":[{"kind":"interval","loop":{"part":"LE-105","cell":"LENS","station":"10"},"interval_min":240},{"kind":"unpin","loop":{"part":"none","cell":"LENS","station":"10"}}]}`, "Content-Type: application/json")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	assert.Empty(t, d.misfits(schema, decode[any](t, w), ""))
	for body, want := range map[string]string{
		`{"edits":[]}`:                 "minItems",
		`{"edits":[{"kind":"turn"}]}`:  "body.edits[0].kind",
		`{"edits":[{"kind":"move"}]}`:  "an edit of kind move needs loop",
		`{"edits":[{"kind":"close"}]}`: "an edit of kind close needs to",
		`{"edits":[{"kind":"close","to":{"rack":"R1"}},{"kind":"swap","loop":{"part":"LE-105","cell":"LENS","station":"10"}}]}`:      "an edit of kind swap needs with",
		`{"edits":[{"kind":"interval","loop":{"part":"LE-105","cell":"LENS","station":"10"}}]}`:                                      "needs interval_min",
		`{"edits":[{"kind":"container","loop":{"part":"LE-105","cell":"LENS","station":"10"}}]}`:                                     "needs container",
		`{"edits":[{"kind":"move","loop":{"part":"LE-105","cell":"LENS","station":"10"},"to":{"rack":"R1","level":2},"shade":"x"}]}`: "shade",
	} {
		w := call(t, h, "POST", editsOfOne, body, "Content-Type: application/json")
		assert.Equal(t, 422, w.Code, "%s: %s", body, w.Body)
		if want != "minItems" {
			assert.Contains(t, w.Body.String(), want)
		}
	}
	assert.Equal(t, 404, call(t, h, "POST", "/api/v1/plans/7/edits", `{"edits":[{"kind":"close","to":{"rack":"R1"}}]}`, "Content-Type: application/json").Code)
}

func TestWhy(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	placed := decode[wire.Why](t, call(t, h, "GET", "/api/v1/plans/1/why?part=LE-105&cell=LENS&station=10", ""))
	assert.Equal(t, wire.WhyFormat, placed.Format)
	assert.NotEmpty(t, placed.Lanes)
	assert.Nil(t, placed.Missing)
	assert.Empty(t, placed.Changes)
	require.Len(t, placed.Places, 3)
	for _, p := range placed.Places {
		assert.NotEmpty(t, p.Text)
		if p.Possible {
			assert.NotEmpty(t, p.Edits)
			for _, e := range p.Edits {
				_, err := e.Edit()
				assert.NoError(t, err, "what is told can be asked")
			}
		}
	}
	left := decode[wire.Why](t, call(t, h, "GET", "/api/v1/plans/1/why?part=WR-901&cell=WIRE&station=20", ""))
	require.NotNil(t, left.Missing)
	assert.Empty(t, left.Lanes)
	assert.NotEmpty(t, left.Missing.Detail)
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/plans/1/why?part=none&cell=WIRE&station=20", "").Code)
	assert.Equal(t, 422, call(t, h, "GET", "/api/v1/plans/1/why?part=LE-105", "").Code)
}
