package api_test

import (
	"bufio"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner/archive"
)

const jsonBody = "Content-Type: application/json"

func TestMakePlan(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	for _, c := range []struct {
		name, body string
		settings   map[string]string
	}{
		{"nothing said", ``, map[string]string{}},
		{"empty", `{}`, map[string]string{}},
		{"settings as text and number", `{"revision":1,"settings":{"seed":18446744073709551615,"service_level":"99.5"}}`,
			map[string]string{"seed": "18446744073709551615", "service_level": "99.5"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := call(t, h, "POST", plantPath+"/plans", c.body, jsonBody)
			require.Equal(t, 202, w.Code, "%s", w.Body)
			run := decode[wire.Run](t, w)
			assert.Equal(t, "/api/v1/runs/"+run.ID, w.Header().Get("Location"))
			assert.Equal(t, "queued", run.State)
			assert.Equal(t, c.settings, run.Settings)
			kept, err := s.Run(t.Context(), run.ID)
			require.NoError(t, err)
			assert.Equal(t, 1, kept.Revision)
			assert.Equal(t, 200, call(t, h, "GET", w.Header().Get("Location"), "").Code)
		})
	}
}

func TestAskingTwice(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	ask := func(body string) *httptest.ResponseRecorder {
		return call(t, h, "POST", plantPath+"/plans", body, jsonBody, "Idempotency-Key: k1")
	}
	first, second := ask(`{}`), ask(`{}`)
	assert.Equal(t, 202, second.Code)
	assert.Equal(t, first.Header().Get("Location"), second.Header().Get("Location"))
	other := ask(`{"settings":{"seed":2}}`)
	assert.Equal(t, 409, other.Code)
	assert.Contains(t, other.Body.String(), "Idempotency-Key was used before")
}

func TestCancel(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	at := call(t, h, "POST", plantPath+"/plans", `{}`, jsonBody).Header().Get("Location")
	w := call(t, h, "DELETE", at, "")
	assert.Equal(t, 200, w.Code)
	assert.Equal(t, "cancelled", decode[wire.Run](t, w).State)
	again := call(t, h, "DELETE", at, "")
	assert.Equal(t, 200, again.Code, "asking twice is harmless")
	assert.Equal(t, "cancelled", decode[wire.Run](t, again).State)
}

// listener reads the events of a run from a running server.
type listener struct {
	t     *testing.T
	lines *bufio.Reader
}

func listen(t *testing.T, s *apitest.Store, run string, beat time.Duration, headers ...string) *listener {
	t.Helper()
	server := httptest.NewUnstartedServer(api.New(api.Options{Store: s, Heartbeat: beat}))
	server.Config.WriteTimeout = time.Nanosecond // a stream must clear it
	server.Start()
	t.Cleanup(server.Close)
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, server.URL+"/api/v1/runs/"+run+"/events", nil)
	require.NoError(t, err)
	for _, line := range headers {
		name, value, _ := strings.Cut(line, ": ")
		r.Header.Set(name, value)
	}
	w, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	t.Cleanup(func() { _ = w.Body.Close() })
	require.Equal(t, "text/event-stream", w.Header.Get("Content-Type"))
	require.Empty(t, w.Header.Get("Content-Encoding"), "a compressed stream would be held back")
	return &listener{t, bufio.NewReader(w.Body)}
}

// next returns the next event's fields, or an error at the end of the stream.
func (l *listener) next() (id string, run wire.Run, comment bool, err error) {
	l.t.Helper()
	for {
		line, err := l.lines.ReadString('\n')
		if err != nil {
			return "", run, false, err
		}
		switch name, value, _ := strings.Cut(strings.TrimSpace(line), ": "); name {
		case "id":
			id = value
		case "data":
			require.NoError(l.t, json.Unmarshal([]byte(value), &run))
			return id, run, false, nil
		case "":
			if value != "" {
				return "", run, true, nil
			}
		}
	}
}

func (l *listener) wants(state, stage string) string {
	l.t.Helper()
	for {
		id, run, comment, err := l.next()
		require.NoError(l.t, err)
		if comment {
			continue
		}
		assert.Equal(l.t, state+" "+stage, run.State+" "+run.Stage)
		return id
	}
}

// TestEvents follows a run from queued to done, after which the stream ends.
func TestEvents(t *testing.T) {
	t.Parallel()
	_, s := filled(t)
	run, _, err := s.CreateRun(t.Context(), archive.NewRun{Plant: apitest.Name})
	require.NoError(t, err)
	l := listen(t, s, run.ID, time.Minute)
	assert.Equal(t, "1", l.wants("queued", ""))
	_, _, err = s.ClaimRun(t.Context(), "w", time.Minute)
	require.NoError(t, err)
	assert.Equal(t, "2", l.wants("running", ""))
	_, err = s.ReportRun(t.Context(), run.ID, 1, "sizing", 1, 2, time.Minute)
	require.NoError(t, err)
	l.wants("running", "sizing")
	_, err = s.FinishRun(t.Context(), run.ID, 1, archive.Made{Plan: apitest.Plan()}, archive.Done, "")
	require.NoError(t, err)
	l.wants("done", "sizing")
	_, _, _, err = l.next()
	assert.ErrorIs(t, err, io.EOF)
}

// TestEventsAgain: who comes back says what was seen and gets only what is new.
func TestEventsAgain(t *testing.T) {
	t.Parallel()
	_, s := filled(t)
	run, _, err := s.CreateRun(t.Context(), archive.NewRun{Plant: apitest.Name})
	require.NoError(t, err)
	l := listen(t, s, run.ID, time.Minute, "Last-Event-ID: 1")
	_, err = s.CancelRun(t.Context(), run.ID)
	require.NoError(t, err)
	assert.Equal(t, "2", l.wants("cancelled", ""))
}

// TestEventsHead: a question for the headers is not kept waiting.
func TestEventsHead(t *testing.T) {
	t.Parallel()
	h, s := filled(t)
	run, _, err := s.CreateRun(t.Context(), archive.NewRun{Plant: apitest.Name})
	require.NoError(t, err)
	assert.Equal(t, "text/event-stream", call(t, h, "HEAD", "/api/v1/runs/"+run.ID+"/events", "").Header().Get("Content-Type"))
}

// TestHeartbeat: an idle stream says that it is alive.
func TestHeartbeat(t *testing.T) {
	t.Parallel()
	_, s := filled(t)
	run, _, err := s.CreateRun(t.Context(), archive.NewRun{Plant: apitest.Name})
	require.NoError(t, err)
	l := listen(t, s, run.ID, time.Millisecond)
	l.wants("queued", "")
	_, _, comment, err := l.next()
	require.NoError(t, err)
	assert.True(t, comment)
}
