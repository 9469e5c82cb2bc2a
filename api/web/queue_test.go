package web_test

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/planner/ticks"
)

// floorDay is the moment at which these tests are on the floor.
var floorDay = time.Date(2026, 10, 19, 4, 0, 0, 0, time.UTC)

// floorRound is a round of that day.
const floorRound = "1.2026-10-19.1.20261019T040000Z.A"

// device is a browser with the queue, and a server that a test may spoil.
type device struct {
	*tab
	store *apitest.Store

	mu sync.Mutex
	// spoil answers in the place of the server; false lets the server answer.
	spoil func(w http.ResponseWriter, r *http.Request, server http.Handler) bool
	sent  int // requests with events
}

func newDevice(t *testing.T) *device {
	t.Helper()
	d := &device{store: apitest.Floor(t, "Europe/Berlin")}
	d.tab = open(t, d.store, 390, 844)
	// The device's own clock is today's, and so must be the server's.
	handler := api.New(api.Options{Store: d.store, Version: "test", Clock: func() time.Time { return floorDay }})
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		d.mu.Lock()
		spoil := d.spoil
		if r.Method == http.MethodPost {
			d.sent++
		} else {
			spoil = nil
		}
		d.mu.Unlock()
		if spoil == nil || !spoil(w, r, handler) {
			handler.ServeHTTP(w, r)
		}
	}))
	t.Cleanup(server.Close)
	d.url = server.URL
	d.start()
	return d
}

func (d *device) spoilWith(f func(w http.ResponseWriter, r *http.Request, server http.Handler) bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.spoil = f
}

func (d *device) requests() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.sent
}

// start opens a page with the queue, or opens it again.
func (d *device) start() {
	d.t.Helper()
	d.do(chromedp.Navigate(d.url + "/docs"))
	d.js(`import("/assets/queue.js").then(async (m) => {
		window.module = m;
		window.seen = [];
		window.queue = await m.openQueue({ first: 50, most: 400, onChange: (c) => { window.last = c; }, onAnswer: (round, state) => seen.push([round, state.state]) });
	})`)
}

// js waits for what an expression promises.
func (d *device) js(expression string) {
	d.t.Helper()
	_, err := chromedp.Run(d.ctx, chromedp.Evaluate[any](expression+`.then(() => true)`, chromedp.EvalAwaitPromise))
	require.NoError(d.t, err, expression)
}

// tick puts an event into the queue; more is what it has beside kind and time.
func (d *device) tick(kind, more string) {
	d.t.Helper()
	d.js(fmt.Sprintf(`queue.add(%q, { kind: %q, at: %q, %s })`, floorRound, kind, floorDay.Format(time.RFC3339), more))
}

// brought ticks a lane of the first stop.
func (d *device) brought(containers int) {
	d.t.Helper()
	d.tick("brought", fmt.Sprintf("stop: 1, level: 2, lane: 1, containers: %d", containers))
}

// count waits until so many events wait on the device.
func (d *device) count(pending int) {
	d.t.Helper()
	d.wait(fmt.Sprintf("queue.pending().then((n) => n === %d)", pending))
}

// kept lists what the server has, containers only.
func (d *device) kept() (list []int) {
	d.t.Helper()
	id, _ := ticks.ParseRoundID(floorRound)
	all, err := d.store.Ticks(d.t.Context(), id)
	require.NoError(d.t, err)
	for _, t := range all {
		list = append(list, t.Containers)
	}
	return list
}

// network cuts the network of the browser, or joins it again.
func (d *device) network(there bool) {
	d.t.Helper()
	type conditions struct {
		Offline bool    `json:"offline"`
		Latency float64 `json:"latency"`
		Down    float64 `json:"downloadThroughput"`
		Up      float64 `json:"uploadThroughput"`
	}
	command := cdp.Command[conditions, cdp.Empty]{Method: "Network.emulateNetworkConditions"}
	d.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, command, conditions{Offline: !there, Down: -1, Up: -1})
		return err
	}))
}

func TestQueueSends(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	d.brought(3)
	d.count(0)
	assert.Equal(t, []int{3}, d.kept())
	d.wait(`seen.length === 1 && seen[0][1] === "under_way" && last.pending === 0 && !last.sending && last.trouble === ""`)
	// Several events are one transaction and one request.
	before := d.requests()
	d.js(fmt.Sprintf(`queue.add(%q, ...Array.from({ length: 150 }, (_, i) => ({ kind: "empties", at: %q, stop: 1, containers: i })))`, floorRound, floorDay.Format(time.RFC3339)))
	d.count(0)
	assert.Len(t, d.kept(), 151)
	assert.LessOrEqual(t, d.requests()-before, 3, "a hundred in a request")
}

// TestQueueWithoutNetwork: what is ticked without a network waits, outlives the page, and
// goes out by itself when the network is back.
func TestQueueWithoutNetwork(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	d.network(false)
	for n := range 3 {
		d.brought(n + 1)
	}
	d.count(3)
	d.wait(`last.trouble === "The server can not be reached."`)
	assert.Empty(t, d.kept())
	d.js(`queue.waiting("` + floorRound + `").then((list) => { window.waiting = list.map((e) => e.containers); })`)
	assert.Equal(t, []int{1, 2, 3}, eval[[]int](d.tab, `waiting`))
	d.network(true)
	d.count(0)
	assert.ElementsMatch(t, []int{1, 2, 3}, d.kept())
}

// TestQueueOutlivesThePage: the server takes the events, and the page is closed before the
// answer comes; the next page sends them again and the server keeps each once.
func TestQueueOutlivesThePage(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	taken := make(chan bool, 100)
	d.spoilWith(func(w http.ResponseWriter, r *http.Request, server http.Handler) bool {
		server.ServeHTTP(httptest.NewRecorder(), r)
		taken <- true
		<-r.Context().Done() // no answer until the page is gone
		return true
	})
	d.brought(4)
	<-taken
	d.brought(5)
	d.count(2)
	assert.Equal(t, []int{4}, d.kept())
	d.spoilWith(nil)
	d.start()
	d.count(0)
	assert.ElementsMatch(t, []int{4, 5}, d.kept())
}

// TestQueueWhenAnswersAreLost: the connection breaks after the server has taken the
// events, several times; each is kept once.
func TestQueueWhenAnswersAreLost(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	lost := 0
	d.spoilWith(func(_ http.ResponseWriter, r *http.Request, server http.Handler) bool {
		if lost++; lost > 3 {
			return false
		}
		server.ServeHTTP(httptest.NewRecorder(), r)
		panic(http.ErrAbortHandler)
	})
	d.brought(6)
	d.brought(7)
	d.count(0)
	assert.Equal(t, []int{6, 7}, sorted(d.kept()))
	assert.Greater(t, d.requests(), 3)
}

func sorted(list []int) []int {
	if len(list) == 2 && list[0] > list[1] {
		list[0], list[1] = list[1], list[0]
	}
	return list
}

// TestQueueAndOtherAnswers: an answer that is not the server's own, or that says "later",
// takes nothing out of the queue.
func TestQueueAndOtherAnswers(t *testing.T) {
	t.Parallel()
	for name, answer := range map[string]func(http.ResponseWriter){
		"a network that wants a sign-in": func(w http.ResponseWriter) {
			w.Header().Set("Content-Type", "text/html")
			_, _ = io.WriteString(w, "<h1>Welcome</h1>")
		},
		"JSON of somebody else": func(w http.ResponseWriter) {
			_, _ = io.WriteString(w, `{"events":[{"id":"other","outcome":"accepted"}]}`)
		},
		"a proxy":         func(w http.ResponseWriter) { http.Error(w, "bad gateway", http.StatusBadGateway) },
		"a wrong address": func(w http.ResponseWriter) { http.NotFound(w, nil) },
		"slowly": func(w http.ResponseWriter) {
			w.Header().Set("Content-Type", "application/problem+json")
			w.WriteHeader(http.StatusTooManyRequests)
			_, _ = io.WriteString(w, `{"status":429,"detail":"Later."}`)
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			d := newDevice(t)
			d.spoilWith(func(w http.ResponseWriter, _ *http.Request, _ http.Handler) bool {
				answer(w)
				return true
			})
			d.brought(8)
			d.wait(`last.pending === 1 && last.trouble !== "" && !last.sending`)
			require.Eventually(t, func() bool { return d.requests() > 2 }, 20*time.Second, 20*time.Millisecond, "it tries again")
			d.count(1)
			assert.Empty(t, d.kept())
			d.spoilWith(nil)
			d.count(0)
			assert.Equal(t, []int{8}, d.kept())
		})
	}
}

// TestQueueAndRefusals: an event that the server does not keep holds up no other one, and
// stays where a person can see it.
func TestQueueAndRefusals(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	const id = "00000000-0000-4000-8000-000000000001"
	d.tick("brought", `id: "`+id+`", stop: 1, level: 2, lane: 1, containers: 1`)
	d.count(0)
	d.js(fmt.Sprintf(`queue.add(%q, { kind: "brought", at: %q, stop: 1, level: 2, lane: 1, containers: 2 }, { id: %q, kind: "ended", at: %[2]q },
		{ kind: "brought", at: %[2]q, stop: 9, level: 2, lane: 1, containers: 3 }, { kind: "started", at: "noon" }, { kind: "empties", at: %[2]q, stop: 1, containers: 4 })`,
		floorRound, floorDay.Format(time.RFC3339), id))
	d.count(0)
	assert.ElementsMatch(t, []int{1, 2, 4}, d.kept())
	d.js(`queue.refused().then((list) => { window.refused = list.map((x) => x.event.kind + ": " + x.reason).sort(); })`)
	refused := eval[[]string](d.tab, `refused`)
	require.Len(t, refused, 3)
	assert.Contains(t, refused[0], "brought: the round has no such stop")
	assert.Contains(t, refused[1], "ended: this id is that of another event")
	assert.Contains(t, refused[2], "started: ")
	d.wait(`last.refused === 3`)
	d.js(`queue.forget("` + id + `")`)
	d.wait(`last.refused === 2`)
}

// TestQueueFindsTheOneAtFault: where the server does not say which event of many it can
// not take, the others get through.
func TestQueueFindsTheOneAtFault(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	d.spoilWith(func(w http.ResponseWriter, r *http.Request, server http.Handler) bool {
		body, err := io.ReadAll(r.Body)
		require.NoError(t, err)
		r.Body = io.NopCloser(strings.NewReader(string(body)))
		if !strings.Contains(string(body), `"containers":13`) {
			return false
		}
		w.Header().Set("Content-Type", "application/problem+json")
		w.WriteHeader(http.StatusBadRequest)
		return json.NewEncoder(w).Encode(map[string]any{"status": 400, "detail": "Something is wrong."}) == nil
	})
	d.js(fmt.Sprintf(`queue.add(%q, ...Array.from({ length: 20 }, (_, i) => ({ kind: "empties", at: %q, stop: 1, containers: i })))`, floorRound, floorDay.Format(time.RFC3339)))
	d.count(0)
	assert.Len(t, d.kept(), 19)
	assert.NotContains(t, d.kept(), 13)
	d.wait(`last.refused === 1`)
}

// TestQueueOfARoundThatFails: a round on which the server fails holds up no other one.
func TestQueueOfARoundThatFails(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	d.spoilWith(func(w http.ResponseWriter, r *http.Request, _ http.Handler) bool {
		if !strings.Contains(r.URL.Path, "0.bad") {
			return false
		}
		http.Error(w, "no", http.StatusInternalServerError)
		return true
	})
	d.js(`queue.add("0.bad", { kind: "started" })`)
	d.brought(9)
	d.count(1)
	assert.Equal(t, []int{9}, d.kept())
}

// TestQueueOfTwoWindows: two windows of one device share the queue; each event is kept
// once, and both know how many wait.
func TestQueueOfTwoWindows(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	d.js(`module.openQueue({ first: 50, most: 400, onChange: (c) => { window.lastOther = c; } }).then((q) => { window.other = q; })`)
	at := floorDay.Format(time.RFC3339)
	d.js(fmt.Sprintf(`Promise.all(Array.from({ length: 30 }, (_, i) => (i %% 2 ? queue : other).add(%q, { kind: "empties", at: %q, stop: 1, containers: i })))`, floorRound, at))
	d.count(0)
	assert.Len(t, d.kept(), 30)
	d.wait(`last.pending === 0 && lastOther.pending === 0`)
}

// TestNewID: ids are UUIDs of version 4 (RFC 9562, section 5.4), also where the browser
// does not make them.
func TestNewID(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	const four = `^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`
	assert.Regexp(t, four, eval[string](d.tab, `module.newID()`))
	ids := eval[[]string](d.tab, `(Object.defineProperty(crypto, "randomUUID", { value: undefined }), Array.from({ length: 50 }, module.newID))`)
	seen := map[string]bool{}
	for _, id := range ids {
		assert.Regexp(t, four, id)
		seen[id] = true
	}
	assert.Len(t, seen, 50)
}

// TestQueueOfTheVersionBefore: what waited in the queue of an older page is sent.
func TestQueueOfTheVersionBefore(t *testing.T) {
	t.Parallel()
	d := newDevice(t)
	d.do(chromedp.Navigate(d.url + "/robots.txt"))
	d.js(fmt.Sprintf(`new Promise((done, fail) => {
		const removed = indexedDB.deleteDatabase("lanewright-rounds");
		removed.onsuccess = () => {
			const opened = indexedDB.open("lanewright-rounds", 1);
			opened.onupgradeneeded = () => {
				const events = opened.result.createObjectStore("events", { keyPath: "number", autoIncrement: true });
				events.createIndex("id", "event.id", { unique: true });
				events.createIndex("round", "round");
				opened.result.createObjectStore("refused", { keyPath: "event.id" });
				events.add({ round: %q, event: { id: "00000000-0000-4000-8000-000000000009", at: %q, kind: "empties", stop: 1, containers: 7 } });
			};
			opened.onsuccess = () => { opened.result.close(); done(); };
			opened.onerror = fail;
		};
		removed.onerror = fail;
	})`, floorRound, floorDay.Format(time.RFC3339)))
	d.start()
	d.count(0)
	assert.Equal(t, []int{7}, d.kept())
	d.js(`queue.made("` + floorRound + `").then((list) => { window.made = list.map((e) => e.containers); })`)
	assert.Equal(t, []int{7}, eval[[]int](d.tab, `made`), "what was sent is remembered")
}
