package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/testdata/sheets"
)

// mostTime is the longest that a small file may take, on a busy machine too.
const mostTime = 10 * time.Second

// did is what the program did with its arguments.
func did(t *testing.T, args ...string) (code int, out, said string) {
	t.Helper()
	var o, e bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &o, err: &e, env: func(string) (string, bool) { return "", false }}
	began := time.Now()
	code = p.main(t.Context(), args)
	assert.Less(t, time.Since(began), mostTime, "%v", args)
	assert.NotContains(t, e.String(), "a mistake in the program itself", "%v", args)
	return code, o.String(), e.String()
}

// handIn hands a file in over HTTP, as a dry run.
func handIn(t *testing.T, h http.Handler, f sheets.File) *httptest.ResponseRecorder {
	t.Helper()
	w := httptest.NewRecorder()
	r := httptest.NewRequest(http.MethodPost, "/api/v1/plants/Odd/imports?dry_run=true&name="+url.QueryEscape(f.Name), bytes.NewReader(f.Data))
	r.Header.Set("Content-Type", "application/octet-stream")
	began := time.Now()
	h.ServeHTTP(w, r)
	assert.Less(t, time.Since(began), mostTime, f.Name)
	return w
}

// written writes a file into a directory of its own.
func written(t *testing.T, f sheets.File) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), f.Name)
	require.NoError(t, os.WriteFile(name, f.Data, 0o600))
	return name
}

// TestOddFilesAsPeopleHandThemIn: odd files are read by inspect, by check and
// over HTTP.
func TestOddFilesAsPeopleHandThemIn(t *testing.T) {
	t.Parallel()
	h := api.New(api.Options{Store: apitest.Filled(t)})
	for _, f := range sheets.Odd() {
		t.Run(f.Name, func(t *testing.T) {
			t.Parallel()
			name := written(t, f)
			code, out, said := did(t, "inspect", name, "--json")
			assert.Equal(t, exitDone, code, "%s: %s%s", f.What, out, said)
			var in struct{ Sheets []struct{ Rows int } }
			require.NoError(t, json.Unmarshal([]byte(out), &in))
			require.NotEmpty(t, in.Sheets, f.What)
			assert.GreaterOrEqual(t, in.Sheets[0].Rows, len(sheets.Table()), f.What)
			code, out, said = did(t, "check", name)
			assert.Equal(t, exitDone, code, "%s: %s%s", f.What, out, said)
			assert.Contains(t, out, "0 errors", f.What)
			w := handIn(t, h, f)
			assert.Equal(t, http.StatusOK, w.Code, "%s: %s", f.What, w.Body)
		})
	}
}

// TestBrokenFilesAsPeopleHandThemIn: what is refused is refused in words, with
// its code and what to do; what is only said is said.
func TestBrokenFilesAsPeopleHandThemIn(t *testing.T) {
	t.Parallel()
	h := api.New(api.Options{Store: apitest.Filled(t)})
	for _, f := range sheets.Broken() {
		t.Run(f.Name, func(t *testing.T) {
			t.Parallel()
			name := written(t, f)
			code, out, _ := did(t, "inspect", name)
			assert.Contains(t, []int{exitDone, exitInput}, code, f.What)
			assert.NotEmpty(t, out)
			code, out, said := did(t, "check", name)
			assert.Contains(t, []int{exitDone, exitInput}, code, f.What)
			assert.Contains(t, out, f.Code, "%s: %s%s", f.What, out, said)
			w := handIn(t, h, f)
			assert.Contains(t, []int{http.StatusOK, http.StatusUnprocessableEntity, http.StatusRequestEntityTooLarge, http.StatusBadRequest}, w.Code, "%s: %s", f.What, w.Body)
			if w.Code == http.StatusUnprocessableEntity || w.Code == http.StatusOK {
				assert.Contains(t, w.Body.String(), f.Code, f.What)
			}
		})
	}
}
