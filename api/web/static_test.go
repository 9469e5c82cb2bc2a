package web_test

import (
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
)

// fetch asks for a file of the pages.
func fetch(t *testing.T, path, accept string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, path, nil)
	r.Header.Set("Accept-Encoding", accept)
	w := httptest.NewRecorder()
	api.New(api.Options{Store: apitest.NewStore()}).ServeHTTP(w, r)
	require.Equal(t, http.StatusOK, w.Code, path)
	return w
}

// TestFiles: files in folders are served with their type; what lies in root is
// served at the top.
func TestFiles(t *testing.T) {
	t.Parallel()
	for path, kind := range map[string]string{
		"/":                      "text/html; charset=utf-8",
		"/assets/app.css":        "text/css; charset=utf-8",
		"/assets/cells/cell.css": "text/css; charset=utf-8",
		"/assets/cells/cells.js": "text/javascript; charset=utf-8",
		"/assets/words/de.js":    "text/javascript; charset=utf-8",
		"/assets/mark.svg":       "image/svg+xml",
		"/robots.txt":            "text/plain; charset=utf-8",
		"/rounds-worker.js":      "text/javascript; charset=utf-8",
		"/rounds.webmanifest":    "application/manifest+json",
	} {
		w := fetch(t, path, "")
		assert.Equal(t, kind, w.Header().Get("Content-Type"), path)
		assert.Equal(t, "Accept-Encoding", w.Header().Get("Vary"), path)
		assert.Empty(t, w.Header().Get("Content-Encoding"), path)
	}
}

// TestZipped: who takes gzip gets the same bytes compressed, under another tag.
func TestZipped(t *testing.T) {
	t.Parallel()
	plain := fetch(t, "/assets/app.css", "")
	assert.Empty(t, plain.Header().Get("Content-Encoding"))
	small := fetch(t, "/assets/app.css", "br, gzip")
	assert.Equal(t, "gzip", small.Header().Get("Content-Encoding"))
	assert.Equal(t, "Accept-Encoding", small.Header().Get("Vary"))
	assert.NotEqual(t, plain.Header().Get("ETag"), small.Header().Get("ETag"))
	assert.Less(t, small.Body.Len(), plain.Body.Len()/2)
	r, err := gzip.NewReader(small.Body)
	require.NoError(t, err)
	body, err := io.ReadAll(r)
	require.NoError(t, err)
	assert.Equal(t, plain.Body.Bytes(), body)
}

// TestSmall: script and style of the first page, as they come over the wire,
// stay under 100 KB.
func TestSmall(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 800)
	tb.visit("/")
	total := eval[int](tb, `performance.getEntriesByType("resource").filter((e) => e.name.includes("/assets/")).reduce((n, e) => n + e.encodedBodySize, 0)`)
	assert.Greater(t, total, 10_000, "what was counted?")
	assert.Less(t, total, 100_000)
	t.Log(total, "bytes")
	assert.Empty(t, eval[[]string](tb, `performance.getEntriesByType("resource").map((e) => e.name).filter((n) => !n.startsWith(location.origin))`), "files of others")
}
