package api_test

import (
	"fmt"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/planner/archive"
)

// TestAnswersFitTheDescription asks for everything the OpenAPI document offers
// to read and holds each answer against its schema: no field is missing, of
// another kind, or there without being described.
func TestAnswersFitTheDescription(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	run, _, err := s.CreateRun(t.Context(), archive.NewRun{Plant: apitest.Facts().Name})
	require.NoError(t, err)
	_, _, err = s.CreateDraft(t.Context(), archive.NewDraft{Plan: 1, Name: "a", By: "Ada"})
	require.NoError(t, err)
	_, _, err = s.Publish(t.Context(), archive.NewPublication{Plant: apitest.Facts().Name, Plan: 1, By: "Ada"})
	require.NoError(t, err)
	_, err = s.SavePlan(t.Context(), apitest.Facts().Name, 1, apitest.Plan())
	require.NoError(t, err)
	doc := decode[map[string]any](t, call(t, h, "GET", "/api/v1/openapi.json", ""))
	d := description{doc["components"].(map[string]any)["schemas"].(map[string]any)}
	address := strings.NewReplacer("{plant}", url.PathEscape(apitest.Facts().Name), "{number}", "1", "{plan}", "1",
		"{run}", run.ID, "{cell}", "WIRE", "{rack}", "R3", "{route}", "B", "{simulation}", "1", "{other}", "2", "{draft}", "1")
	const loop = "?part=LE-105&cell=LENS&station=10"
	asks := map[string]string{"/api/v1/plans/{plan}/trace": loop, "/api/v1/plans/{plan}/explanation": loop, "/api/v1/plans/{plan}/why": loop,
		"/api/v1/plans/{plan}/routes/{route}/rounds": "?day=2026-10-26",
		"/api/v1/rounds": "?day=2026-10-19&plant=" + url.QueryEscape(apitest.FloorName), "/api/v1/plants/{plant}/rounds/summary": "?day=2026-10-19"}
	now := monday.AddDate(0, 0, 1)
	floor, _ := onFloor(t, "Europe/Berlin", &now)
	round := tickedRound(t, floor)
	onTheFloor := strings.NewReplacer("{plant}", url.PathEscape(apitest.FloorName), "{round}", url.PathEscape(round))
	asked := 0
	for path, item := range doc["paths"].(map[string]any) {
		schema, ok := answerOf(item.(map[string]any), "get")
		if !ok {
			continue
		}
		w := call(t, h, "GET", address.Replace(path)+asks[path], "")
		if strings.Contains(path, "/rounds") && !strings.Contains(path, "{plan}") {
			w = call(t, floor, "GET", onTheFloor.Replace(path)+asks[path], "")
		}
		require.Equal(t, 200, w.Code, "%s: %s", path, w.Body)
		assert.Empty(t, d.misfits(schema, decode[any](t, w), ""), path)
		asked++
	}
	assert.Equal(t, 62, asked)
	schema, ok := answerOf(doc["paths"].(map[string]any)["/api/v1/rounds/{round}/ticks"].(map[string]any), "post")
	require.True(t, ok)
	w := call(t, floor, "POST", roundPath(round)+"/ticks", `{"events":[`+event(8, monday, `"kind":"ended"`)+`]}`, jsonBody)
	assert.Empty(t, d.misfits(schema, decode[any](t, w), ""))
}

// answerOf returns the schema of an operation's JSON answer, if it has one.
func answerOf(item map[string]any, method string) (schema map[string]any, ok bool) {
	at := any(item)
	for _, key := range []string{method, "responses", "200", "content", "application/json", "schema"} {
		if at, ok = at.(map[string]any)[key]; !ok {
			return nil, false
		}
	}
	return at.(map[string]any), true
}

// description is the schemas of the OpenAPI document by name.
type description struct{ schemas map[string]any }

// misfits lists where a value is not as its schema says.
func (d description) misfits(schema map[string]any, v any, at string) []string {
	if ref, ok := schema["$ref"].(string); ok {
		return d.misfits(d.schemas[strings.TrimPrefix(ref, "#/components/schemas/")].(map[string]any), v, at)
	}
	if choices, ok := schema["anyOf"].([]any); ok {
		return d.fitsNone(choices, v, at)
	}
	if kinds := kindsOf(schema); len(kinds) > 0 && !slices.Contains(kinds, kindOf(v)) && (kindOf(v) != "number" || !slices.Contains(kinds, "integer")) {
		return []string{fmt.Sprintf("%s is %s, described as %v", at, kindOf(v), kinds)}
	}
	switch v := v.(type) {
	case []any:
		return d.list(schema, v, at)
	case map[string]any:
		return d.object(schema, v, at)
	}
	return nil
}

func (d description) fitsNone(choices []any, v any, at string) (wrong []string) {
	for _, c := range choices {
		misfits := d.misfits(c.(map[string]any), v, at)
		if len(misfits) == 0 {
			return nil
		}
		wrong = append(wrong, misfits...)
	}
	return wrong
}

func (d description) list(schema map[string]any, list []any, at string) (wrong []string) {
	items, _ := schema["items"].(map[string]any)
	for i, v := range list {
		wrong = append(wrong, d.misfits(items, v, fmt.Sprintf("%s[%d]", at, i))...)
	}
	return wrong
}

func (d description) object(schema, object map[string]any, at string) (wrong []string) {
	required, _ := schema["required"].([]any)
	for _, name := range required {
		if _, ok := object[name.(string)]; !ok {
			wrong = append(wrong, fmt.Sprintf("%s.%s is missing", at, name))
		}
	}
	fields, _ := schema["properties"].(map[string]any)
	rest, open := schema["additionalProperties"].(map[string]any)
	for name, v := range object {
		field, ok := fields[name].(map[string]any)
		switch {
		case ok:
			wrong = append(wrong, d.misfits(field, v, at+"."+name)...)
		case open:
			wrong = append(wrong, d.misfits(rest, v, at+"."+name)...)
		case len(fields) > 0:
			wrong = append(wrong, fmt.Sprintf("%s.%s is not described", at, name))
		}
	}
	return wrong
}

func kindsOf(schema map[string]any) (kinds []string) {
	switch t := schema["type"].(type) {
	case string:
		kinds = append(kinds, t)
	case []any:
		for _, k := range t {
			kinds = append(kinds, k.(string))
		}
	}
	return kinds
}

func kindOf(v any) string {
	switch v.(type) {
	case nil:
		return "null"
	case bool:
		return "boolean"
	case string:
		return "string"
	case float64:
		return "number"
	case []any:
		return "array"
	}
	return "object"
}
