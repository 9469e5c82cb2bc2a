package api_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner/archive"
)

const plantPath = "/api/v1/plants/Skerrow%20Lantern%20Works"

// call asks a handler; headers are "Name: value".
func call(t *testing.T, h http.Handler, method, path, body string, headers ...string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	for _, line := range headers {
		name, value, _ := strings.Cut(line, ": ")
		r.Header.Set(name, value)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func decode[T any](t *testing.T, w *httptest.ResponseRecorder) (v T) {
	t.Helper()
	require.NoError(t, json.Unmarshal(w.Body.Bytes(), &v), "%s", w.Body)
	return v
}

func filled(t *testing.T) (http.Handler, *apitest.Store) {
	t.Helper()
	s := apitest.Filled(t)
	return api.New(api.Options{Store: s, Version: "test", Trace: apitest.Trace}), s
}

func TestReads(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	for _, c := range []struct{ name, path, want string }{
		{"plants", "/api/v1/plants", `"items":[{"plant":"Skerrow Lantern Works","created":"2026-03-02T07:30:01Z","revisions":1,"plans":1,"latest_plan":1}]`},
		{"plant", plantPath, `"latest_plan":1`},
		{"revisions", plantPath + "/revisions", `"sheets":[{"file":"skerrow.xlsx","sheet":"Parts","rows":14,"used":12,"reported":1,"skipped":1}]`},
		{"revision", plantPath + "/revisions/1", `"number":1`},
		{"findings of a revision", plantPath + "/revisions/1/findings", `"total":1,"errors":1`},
		{"plans", plantPath + "/plans", `"id":1,"plant":"Skerrow Lantern Works","revision_number":1`},
		{"runs", plantPath + "/runs", `{"items":[]}`},
		{"document", "/api/v1/plans/1", `"format": "lanewright.plan/1"`},
		{"summary", "/api/v1/plans/1/summary", `"loops":18,"loops_placed":16`},
		{"cells", "/api/v1/plans/1/cells", `"lanes_needed":6,"lanes_there":6,"lanes_used":4,"lanes_free":2,"lanes_short":2`},
		{"cell with a slash", "/api/v1/plans/1/cells/TEST%2F2", `"cell":"TEST/2","name":"Test & <seal>"`},
		{"lanes of a cell", "/api/v1/plans/1/cells/WIRE/lanes", `"total":7`},
		{"reliefs", "/api/v1/plans/1/cells/WIRE/reliefs", `"cell":"WIRE","unplaced":8,"reliefs":[`},
		{"trade", "/api/v1/plans/1/cells/LENS/trade?frontage_price=8", `"fill_limit":100,"undominated":`},
		{"trade drawn", "/api/v1/plans/1/cells/LENS/trade.svg?frontage_price=8", `class="plan"`},
		{"racks", "/api/v1/plans/1/racks?proposed=true", `"total":1`},
		{"racks of a cell", "/api/v1/plans/1/racks?cell=LENS", `"total":2`},
		{"rack", "/api/v1/plans/1/racks/R3", `"stops":[{"route":"B","order":1`},
		{"rack as it is built", "/api/v1/plans/1/racks/R3", `"members":[{"mark":"U1","role":"upright","level":0`},
		{"build list of a cell", "/api/v1/plans/1/build?cell=LENS", `"format":"lanewright.build/1"`},
		{"cut list of the proposed racks", "/api/v1/plans/1/build?proposed=true", `"proved":`},
		{"build list of one rack", "/api/v1/plans/1/build?rack=R3", `"groups":[{"count":`},
		{"cut list with what lies in the store", "/api/v1/plans/1/build?rack=R3&on_hand=tube+30+x+30+x+2.5%3D5000,5000&on_hand=tube+30+x+30+x+2.5%3D4000", `"stock_mm":5000,"on_hand":true`},
		{"free lanes", "/api/v1/plans/1/lanes?free=true", `"total":8`},
		{"lanes of a part", "/api/v1/plans/1/lanes?part=LE-105", `"rack":"R1","level":2,"lane":1`},
		{"loops", "/api/v1/plans/1/loops?cell=WIRE&limit=1", `"total":6,"next":"MQ"`},
		{"unplaced", "/api/v1/plans/1/unplaced", `"reason":"placement.no-width"`},
		{"routes", "/api/v1/plans/1/routes", `"departures":["06:00","06:30","22:00","00:15"]`},
		{"route", "/api/v1/plans/1/routes/B", `"round_min":13.5`},
		{"findings", "/api/v1/plans/1/findings?severity=warning", `"total":1,"errors":1,"warnings":1,"notes":1,"codes":[{"code":"parts.unknown-container"`},
		{"findings of a cell by its rack", "/api/v1/plans/1/findings?cell=LENS", `"code":"racks.slope"`},
		{"findings by code", "/api/v1/plans/1/findings?code=racks.slope", `"total":1`},
		{"moves", "/api/v1/plans/1/moves", `"from":null,"to":{"rack":"R4","level":2,"lane":1}`},
		{"move list", "/api/v1/plans/1/moves/steps?cell=TEST%2F2", `"kind":"bring","part":"TE-100","station":"10","containers":4,"from":null,"to":{"rack":"R4","level":2,"lane":1},"minutes":3`},
		{"plays", "/api/v1/plans/1/simulations", `"id":1,"plan":1,"proof":true`},
		{"play", "/api/v1/simulations/1", `"settings":{"weeks":4,"warm_up_weeks":1,"replications":10,"use":"model","from":""},"verdicts":{"proved":15,"short":1,"not_played":2}`},
		{"loops of a play", "/api/v1/simulations/1/loops?verdict=short", `"short_rate":1,"short_rate_low":0.75,"short_rate_high":1.25,"short_rate_allowed":0.5`},
		{"loops of a cell in a play", "/api/v1/simulations/1/loops?cell=WIRE&limit=1", `"total":6,"next":"MQ"`},
		{"loop of a play", "/api/v1/simulations/1/loops?cell=LENS&part=LE-105&station=10", `"short_mean_min":1.5,"short_longest_min":4`},
		{"routes of a play", "/api/v1/simulations/1/routes", `"round_mean_min":11,"round_95_min":14,"round_most_min":16.5`},
		{"racks of a play", "/api/v1/simulations/1/racks?limit=1", `"rack":"R1","visits":3200,"overfull":2`},
		{"findings of a play by the rack's cell", "/api/v1/simulations/1/findings?cell=LENS", `"total":1,"errors":0,"warnings":1`},
		{"trace", "/api/v1/plans/1/trace?part=LE-105&cell=LENS&station=10", `"zone":"Europe/London","points":[{"at":"2026-03-02T06:00:00Z","event":"start"`},
		{"alive", "/healthz", `"status":"running"`},
		{"ready", "/readyz", `"status":"ready"`},
		{"figures", "/metrics", "lanewright_http_requests_total"},
		{"description", "/api/v1/openapi.json", `"openapi": "3.1.0"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := call(t, h, "GET", c.path, "")
			require.Equal(t, 200, w.Code, "%s", w.Body)
			assert.Contains(t, w.Body.String(), c.want)
			assert.Empty(t, call(t, h, "HEAD", c.path, "").Header().Get("Content-Encoding"))
		})
	}
}

func TestProblems(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	const form = "Content-Type: application/json"
	for _, c := range []struct {
		name, method, path, body string
		headers                  []string
		status                   int
		want                     string
	}{
		{"unknown address", "GET", "/nothing", "", nil, 404, "nothing at this address"},
		{"unknown API address", "GET", "/api/v1/nothing", "", nil, 404, "nothing at this address"},
		{"method", "PUT", "/api/v1/plants", "", nil, 405, "Allow header"},
		{"invented method", "BREW", "/api/v1/plants", "", nil, 405, "Allow header"},
		{"method of a page", "POST", "/", "", nil, 405, "Allow header"},
		{"plant", "GET", "/api/v1/plants/Nowhere", "", nil, 404, "Nowhere"},
		{"plan", "GET", "/api/v1/plans/99", "", nil, 404, "Plan 99"},
		{"plan that is no number", "GET", "/api/v1/plans/latest", "", nil, 422, "path.plan"},
		{"cell", "GET", "/api/v1/plans/1/cells/NONE", "", nil, 404, "no cell “NONE”"},
		{"trade of no cell", "GET", "/api/v1/plans/1/cells/NONE/trade", "", nil, 404, "no cell “NONE”"},
		{"price of a metre below 0", "GET", "/api/v1/plans/1/cells/LENS/trade.svg?frontage_price=-1", "", nil, 422, "query.frontage_price"},
		{"rack", "GET", "/api/v1/plans/1/racks/NONE", "", nil, 404, "no rack"},
		{"rack to build", "GET", "/api/v1/plans/1/build?rack=NONE", "", nil, 404, "no rack"},
		{"rack of another cell", "GET", "/api/v1/plans/1/build?rack=R3&cell=LENS", "", nil, 404, "no rack"},
		{"no length in the store", "GET", "/api/v1/plans/1/build?on_hand=tube%3Dlong", "", nil, 422, "is no length"},
		{"cell to build", "GET", "/api/v1/plans/1/build?cell=NONE", "", nil, 404, "no cell"},
		{"route", "GET", "/api/v1/plans/1/routes/Z", "", nil, 404, "no route"},
		{"play", "GET", "/api/v1/simulations/99", "", nil, 404, "Simulation 99"},
		{"loops of a play", "GET", "/api/v1/simulations/99/loops", "", nil, 404, "Simulation 99"},
		{"plays of no plan", "GET", "/api/v1/plans/99/simulations", "", nil, 404, "Plan 99"},
		{"verdict", "GET", "/api/v1/simulations/1/loops?verdict=good", "", nil, 422, "query.verdict"},
		{"play of no plan", "POST", "/api/v1/plans/99/simulations", `{}`, []string{form}, 404, "Plan 99"},
		{"setting of the plan in a play", "POST", "/api/v1/plans/1/simulations", `{"settings":{"service_level":99}}`, []string{form}, 422, "body.settings.service_level"},
		{"bad setting of a play", "POST", "/api/v1/plans/1/simulations", `{"settings":{"simulation_weeks":0}}`, []string{form}, 422, "body.settings.simulation_weeks"},
		{"unknown field of a play", "POST", "/api/v1/plans/1/simulations", `{"weeks":1}`, []string{form}, 422, "body.weeks"},
		{"trace without a loop", "GET", "/api/v1/plans/1/trace?part=LE-105&cell=LENS", "", nil, 422, "query.station"},
		{"trace of no loop", "GET", "/api/v1/plans/1/trace?part=LE-105&cell=LENS&station=99", "", nil, 404, "no loop"},
		{"trace of many weeks", "GET", "/api/v1/plans/1/trace?part=LE-105&cell=LENS&station=10&weeks=5", "", nil, 422, "query.weeks"},
		{"run", "GET", "/api/v1/runs/none", "", nil, 404, "none"},
		{"events of no run", "GET", "/api/v1/runs/none/events", "", nil, 404, "none"},
		{"unknown query", "GET", "/api/v1/plants?page=2", "", nil, 422, "this address knows limit, cursor"},
		{"limit", "GET", "/api/v1/plants?limit=0", "", nil, 422, "query.limit"},
		{"cursor", "GET", "/api/v1/plans/1/loops?cursor=%21", "", nil, 422, "query.cursor"},
		{"cursor of another list", "GET", "/api/v1/plans/1/loops?cursor=eA", "", nil, 422, "query.cursor"},
		{"severity", "GET", "/api/v1/plans/1/findings?severity=bad", "", nil, 422, "query.severity"},
		{"setting nobody knows", "POST", plantPath + "/plans", `{"settings":{"colour":"red"}}`, []string{form}, 422, "body.settings.colour"},
		{"bad value of a setting", "POST", plantPath + "/plans", `{"settings":{"service_level":100}}`, []string{form}, 422, "body.settings.service_level"},
		{"unknown field", "POST", plantPath + "/plans", `{"revison":1}`, []string{form}, 422, "body.revison"},
		{"revision", "POST", plantPath + "/plans", `{"revision":9}`, []string{form}, 404, "9"},
		{"not JSON", "POST", plantPath + "/plans", `{`, []string{form}, 400, "can not be read; errors says where"},
		{"key that is no text", "POST", plantPath + "/plans", `{}`, []string{form, "Idempotency-Key: \xff"}, 422, "header.Idempotency-Key"},
		{"cursor that is no text", "GET", "/api/v1/plants?cursor=_w", "", nil, 422, "query.cursor"},
		{"cursor with a NUL", "GET", "/api/v1/plants?cursor=AA", "", nil, 422, "query.cursor"},
		{"other media type", "POST", plantPath + "/plans", `a`, []string{"Content-Type: text/plain"}, 415, ""},
		{"file of another kind", "POST", plantPath + "/imports", `a`, []string{"Content-Type: image/png"}, 415, "workbook"},
		{"nothing sent", "POST", plantPath + "/imports?name=a.csv", "", []string{"Content-Type: application/octet-stream"}, 400, "There is no file in the request"},
		{"form without a file", "POST", plantPath + "/imports", "--x--\r\n", []string{"Content-Type: multipart/form-data; boundary=x"}, 422, "no file"},
		{"form with two files of one name", "POST", plantPath + "/imports", "--x\r\nContent-Disposition: form-data; name=\"a\"; filename=\"a.csv\"\r\n\r\n1\r\n" +
			"--x\r\nContent-Disposition: form-data; name=\"b\"; filename=\"a.csv\"\r\n\r\n2\r\n--x--\r\n", []string{"Content-Type: multipart/form-data; boundary=x"}, 422, "two files of the name a.csv"},
		{"name of a plant", "POST", "/api/v1/plants/a%2Fb/imports", `a`, nil, 422, "path.plant"},
		{"name nobody can see", "POST", "/api/v1/plants/%E2%80%8B/imports", `a`, nil, 422, "path.plant"},
		{"page of another origin", "POST", plantPath + "/plans", `{}`, []string{form, "Sec-Fetch-Site: cross-site"}, 403, "another origin"},
		{"body too large", "POST", plantPath + "/plans", `{"settings":{"a":"` + strings.Repeat("x", 1<<20) + `"}}`, []string{form}, 413, "too large"},
		{"file too large", "POST", plantPath + "/imports", strings.Repeat("x", 32<<20+1), nil, 413, "32 MiB"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := call(t, h, c.method, c.path, c.body, c.headers...)
			assert.Equal(t, c.status, w.Code, "%s", w.Body)
			assert.Equal(t, "application/problem+json", w.Header().Get("Content-Type"))
			p := decode[wire.Problem](t, w)
			assert.Equal(t, c.status, p.Status)
			assert.Equal(t, http.StatusText(c.status), p.Title)
			assert.NotEmpty(t, p.Detail)
			assert.Contains(t, w.Body.String(), c.want)
			assert.NotContains(t, w.Body.String(), `"value"`, "what was sent must not be echoed")
			assert.Equal(t, "nosniff", w.Header().Get("X-Content-Type-Options"))
		})
	}
}

func TestAllowHeader(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	assert.Equal(t, "GET, HEAD, POST", call(t, h, "DELETE", plantPath+"/plans", "").Header().Get("Allow"))
}

func TestWorldProblems(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		err    error
		status int
	}{
		{"away", archive.ErrUnavailable, 503},
		{"too old", archive.ErrUnsuitable, 503},
		{"unknown", errors.New("secret inner detail"), 500},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			h, s := filled(t)
			s.SetDown(c.err)
			w := call(t, h, "GET", "/api/v1/plants", "")
			assert.Equal(t, c.status, w.Code)
			assert.Equal(t, c.status, decode[wire.Problem](t, w).Status)
			assert.Equal(t, c.status == 503, w.Header().Get("Retry-After") != "", "when to ask again")
			assert.Equal(t, "no-store", w.Header().Get("Cache-Control"))
			assert.NotContains(t, w.Body.String(), "secret")
			assert.Equal(t, 503, call(t, h, "GET", "/readyz", "").Code)
			assert.Equal(t, 200, call(t, h, "GET", "/healthz", "").Code)
		})
	}
}

func TestEntityTags(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	for _, path := range []string{
		"/", "/assets/app.css", "/api/v1/plants", plantPath, plantPath + "/revisions/1", "/api/v1/plans/1", "/api/v1/plans/1/cells", "/api/v1/plans/1/report.xlsx", "/api/v1/openapi.json",
	} {
		t.Run(path, func(t *testing.T) {
			first := call(t, h, "GET", path, "")
			tag := first.Header().Get("ETag")
			require.Regexp(t, `^"[0-9a-f]{24}"$`, tag)
			assert.NotEmpty(t, first.Body.Bytes())
			for _, header := range []string{tag, "W/" + tag, `"other", ` + tag, "*"} {
				again := call(t, h, "GET", path, "", "If-None-Match: "+header)
				assert.Equal(t, 304, again.Code)
				assert.Empty(t, again.Body.Bytes())
				assert.Equal(t, tag, again.Header().Get("ETag"))
				assert.Empty(t, again.Header().Get("Content-Type"))
			}
			assert.Equal(t, 200, call(t, h, "GET", path, "", `If-None-Match: "other"`).Code)
			zipped := call(t, h, "GET", path, "", "Accept-Encoding: gzip").Header().Get("ETag")
			assert.NotEqual(t, tag, zipped, "other bytes need another tag")
			assert.Equal(t, 304, call(t, h, "GET", path, "", "Accept-Encoding: gzip", "If-None-Match: "+zipped).Code)
		})
	}
}

func TestCompressed(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	plain := call(t, h, "GET", "/api/v1/plans/1", "")
	w := call(t, h, "GET", "/api/v1/plans/1", "", "Accept-Encoding: gzip")
	require.Equal(t, "gzip", w.Header().Get("Content-Encoding"))
	r, err := gzip.NewReader(w.Body)
	require.NoError(t, err)
	body, err := io.ReadAll(r)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(plain.Body.Bytes(), body))
}

// TestPaging walks a list page by page and gets each item once.
func TestPaging(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	seen := map[wire.LoopKey]bool{}
	for at, pages := "", 0; ; pages++ {
		require.Less(t, pages, 10)
		p := decode[wire.Page[wire.Loop]](t, call(t, h, "GET", "/api/v1/plans/1/loops?limit=5&cursor="+url.QueryEscape(at), ""))
		assert.Equal(t, 18, p.Total)
		for _, l := range p.Items {
			k := wire.LoopKey{Part: l.Part, Cell: l.Cell, Station: l.Station}
			assert.False(t, seen[k], "%v twice", k)
			seen[k] = true
		}
		if at = p.Next; at == "" {
			break
		}
	}
	assert.Len(t, seen, 18)
}

func TestPlansAreLoadedOnce(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	for range 3 {
		call(t, h, "GET", "/api/v1/plans/1/lanes", "")
		call(t, h, "GET", "/api/v1/plans/1", "")
	}
	assert.Equal(t, 1, s.Loads)
}

// TestHosts: on a loopback address only loopback names are answered, so that a
// page elsewhere can not have its own name resolve to this machine.
func TestHosts(t *testing.T) {
	t.Parallel()
	server := httptest.NewServer(api.New(api.Options{Store: apitest.Filled(t), Hosts: []string{"lanes.example"}}))
	t.Cleanup(server.Close)
	for host, status := range map[string]int{
		"localhost": 200, "LOCALHOST:80": 200, "127.0.0.1:9": 200, "[::1]:9": 200, "lanes.example": 200,
		"evil.example": 421, "127.0.0.1.evil.example": 421, "localhost.evil.example:80": 421,
	} {
		r, err := http.NewRequest(http.MethodGet, server.URL+"/healthz", nil)
		require.NoError(t, err)
		r.Host = host
		w, err := http.DefaultClient.Do(r)
		require.NoError(t, err)
		_ = w.Body.Close()
		assert.Equal(t, status, w.StatusCode, host)
	}
}

func TestSecurityHeaders(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	header := call(t, h, "GET", "/", "").Header()
	assert.NotContains(t, header.Get("Content-Security-Policy"), "unsafe")
	assert.Contains(t, header.Get("Content-Security-Policy"), "default-src 'none'")
	assert.Equal(t, "DENY", header.Get("X-Frame-Options"))
	assert.Equal(t, "same-origin", header.Get("Cross-Origin-Opener-Policy"))
}

// TestOpenAPI: every operation has an id of its own and names its problems.
func TestOpenAPI(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	doc := decode[struct {
		Paths map[string]map[string]struct {
			OperationID string         `json:"operationId"`
			Responses   map[string]any `json:"responses"`
		} `json:"paths"`
		Components struct {
			Schemas map[string]any `json:"schemas"`
		} `json:"components"`
	}](t, call(t, h, "GET", "/api/v1/openapi.json", ""))
	ids := map[string]bool{}
	for path, methods := range doc.Paths {
		for method, op := range methods {
			assert.NotEmpty(t, op.OperationID, "%s %s", method, path)
			assert.False(t, ids[op.OperationID], "%s twice", op.OperationID)
			ids[op.OperationID] = true
			assert.Contains(t, op.Responses, "default", "%s %s", method, path)
			assert.Greater(t, len(op.Responses), 1, "%s %s", method, path)
		}
	}
	assert.Len(t, ids, 98)
	assert.NotNil(t, doc.Components.Schemas["Problem"])
	assert.NotNil(t, doc.Components.Schemas["Plan"])
	assert.Nil(t, doc.Components.Schemas["ErrorModel"])
}
