package web_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/api/wire"
)

// phone is a handler's phone and a server that can be cut off; both have the same clock,
// which stands still.
type phone struct {
	*tab
	store   *apitest.Store
	handler http.Handler
	address string
	server  *http.Server
}

// newPhone begins twelve minutes before the first round of floorDay.
func newPhone(t *testing.T, width, height int64) *phone {
	t.Helper()
	p := &phone{store: apitest.Floor(t, "Europe/Berlin"), address: "127.0.0.1:0"}
	p.tab = open(t, p.store, width, height)
	now := floorDay.Add(-12 * time.Minute)
	p.handler = api.New(api.Options{Store: p.store, Version: "test", Clock: func() time.Time { return now }, Hosts: []string{"floor.test"}})
	p.join()
	t.Cleanup(p.cut)
	p.url = "http://" + p.address
	p.do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: fmt.Sprintf(`(() => {
			const real = Date, now = () => %d + Number(sessionStorage.getItem("later") ?? 0);
			globalThis.Date = class extends real {
				constructor(...a) { if (a.length) super(...a); else super(now()); }
				static now() { return now(); }
			};
		})()`, now.UnixMilli())})
		return err
	}))
	return p
}

// cut takes the server away, and all connections with it; join gives it back.
func (p *phone) cut() { _ = p.server.Close() }

func (p *phone) join() {
	p.t.Helper()
	l, err := net.Listen("tcp", p.address)
	require.NoError(p.t, err)
	p.address = l.Addr().String()
	p.server = &http.Server{Handler: p.handler, ReadHeaderTimeout: time.Minute}
	go func(s *http.Server) {
		if err := s.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			p.t.Error(err)
		}
	}(p.server)
}

// later moves the clock of the phone on.
func (p *phone) later(d time.Duration) {
	p.t.Helper()
	eval[bool](p.tab, fmt.Sprintf(`sessionStorage.setItem("later", Number(sessionStorage.getItem("later") ?? 0) + %d), true`, d.Milliseconds()))
}

// tap presses what stands at a selector, once it is there, and not under what stands at the
// bottom.
func (p *phone) tap(selectors ...string) {
	p.t.Helper()
	for _, s := range selectors {
		p.wait(fmt.Sprintf(`!!document.querySelector(%q) && !document.querySelector(%[1]q).disabled`, s))
		eval[bool](p.tab, fmt.Sprintf(`((e) => { if (!e?.closest(".act")) e?.scrollIntoView({ block: "center" }); return true; })(document.querySelector(%q))`, s))
		err := chromedp.Do(p.ctx, chromedp.Click(chromedp.CSS(s)))
		if err != nil && strings.Contains(err.Error(), "node") { // drawn anew between looking and pressing
			err = chromedp.Do(p.ctx, chromedp.Click(chromedp.CSS(s)))
		}
		require.NoError(p.t, err, s)
	}
}

// tapUntil taps until another stop stands there: on a busy machine a page that is drawn
// anew at that moment loses a tap, and a person taps again.
func (p *phone) tapUntil(selector, heading string) {
	p.t.Helper()
	for range 8 {
		p.tap(selector)
		for range 20 {
			if time.Sleep(100 * time.Millisecond); strings.Contains(p.text("h1"), heading) {
				return
			}
		}
	}
	p.reads("h1", heading)
}

// reads waits until a person reads a text at a selector.
func (p *phone) reads(selector, text string) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`(document.querySelector(%q)?.innerText ?? "").replace(/\s+/g, " ").includes(%q)`, selector, text))
}

// chooseRounds tells a phone that is new what it is for.
func (p *phone) chooseRounds(who string) {
	p.t.Helper()
	p.visit("/rounds")
	p.choose("#route", "A")
	p.choose("#shift", "early")
	p.do(chromedp.SendKeys(chromedp.CSS("#who"), who))
	p.tap("#choose")
	p.reads("#next", "06:00")
}

// kept waits until the service worker serves the page and has kept a round for it.
func (p *phone) kept(round string) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`!!navigator.serviceWorker.controller && caches.open("lanewright-rounds-data").then((c) => c.keys()).then((all) =>
		["/api/v1/plants", %q, %q].every((part) => all.some((r) => r.url.includes(part))))`, round+"/ticks", "day=2026-10-19"))
}

// get asks the server, whether the phone can reach it or not.
func get[T any](p *phone, path string) (v T) {
	p.t.Helper()
	w := httptest.NewRecorder()
	p.handler.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "http://localhost"+path, nil))
	require.Equal(p.t, http.StatusOK, w.Code, w.Body)
	require.NoError(p.t, json.Unmarshal(w.Body.Bytes(), &v))
	return v
}

// entries lists what the server has of a round, one line each, what was undone marked.
func (p *phone) entries(round string) (list []string) {
	p.t.Helper()
	ids := map[string]bool{}
	for _, x := range get[wire.Ticks](p, "/api/v1/rounds/"+url.PathEscape(round)+"/ticks").Ticks {
		require.False(p.t, ids[x.ID], "twice: %s", x.ID)
		ids[x.ID] = true
		mark := ""
		if x.Undone {
			mark = " (undone)"
		}
		line := fmt.Sprintf("%s %d/%d-%d %s%d %s%s%s", x.Kind, x.Stop, x.Level, x.Lane, x.Part, x.Containers, x.Reason, x.Text, mark)
		list = append(list, line)
		assert.Equal(p.t, "Ida", x.Who)
	}
	return list
}

// TestHandlersRound: a whole round on a phone, with another number, a shortage, skips and
// an undo; the server has what was done, and the page says what the server says.
func TestHandlersRound(t *testing.T) {
	t.Parallel()
	p := newPhone(t, 390, 844)
	p.visit("/rounds")
	p.clean()
	p.accessible()
	p.screenshot("rounds-setup")
	p.chooseRounds("Ida")
	assert.Contains(t, p.text("#next"), "load in 12:00")
	p.later(90 * time.Second)
	p.reads("#next", "load in 10:30")
	p.accessible()
	p.targets()
	p.screenshot("rounds-next")
	p.tap("#open")
	p.reads("h1", "Take from the market")
	p.reads("#countdown", "10:30")
	assert.Contains(t, p.text(".takes li"), "2 M-4")
	p.later(14 * time.Minute)
	p.reads("#countdown", "late by 3:30")
	p.targets()
	p.screenshot("round-market")
	p.tap("#take-0")
	p.reads("#take-0", "taken")
	p.tap("#other-1", `.stepper button[aria-label$="less"]`)
	p.accessible()
	p.targets()
	p.screenshot("round-number")
	p.tap(".question .main")
	p.reads("#take-1", "taken: 1 of 2")
	p.tap("#all")
	p.reads("#take-7", "taken")
	p.tap("#take-7")
	p.reads("#take-7", "24 pieces each")
	p.accessible()
	p.screenshot("round-market-taken")
	p.tap("#start")
	p.reads("h1", "Rack R1")
	p.clean()
	p.accessible()
	p.targets()
	p.large(".lane .code")
	p.large("h1 .code")
	p.screenshot("round-stop")
	p.tapUntil("#planned", "Rack R2")
	p.tap("#undo")
	p.reads("h1", "Rack R1")
	p.reads("#steps", "0 of 2 done")
	p.tapUntil("#planned", "Rack R2")
	// Short by one, and what is skipped for another reason needs words.
	p.tap("#short", ".question .choice:nth-of-type(1)")
	p.accessible()
	p.targets()
	p.screenshot("round-short")
	p.tap(".question .main")
	p.reads("#lane-2-1", "short by 1")
	p.tap("#skip", ".question .choice:nth-of-type(3)", "#reason-other")
	p.reads(".missing", "in a word or two")
	p.accessible()
	p.targets()
	p.screenshot("round-skip")
	p.do(chromedp.SendKeys(chromedp.CSS("#reason-text"), "wet floor"))
	p.tap("#reason-other")
	p.reads("#lane-2-2", "skipped: something else wet floor")
	p.tap("#lane-3-1", ".question .choice:nth-of-type(1)", `.stepper button[aria-label$="more"]`, ".question .main")
	p.reads("#lane-3-1", "3")
	// Told wrongly, then rightly: the shortage was of two.
	p.tap("#lane-2-1", ".question .choice:nth-of-type(2)", `.stepper button[aria-label$="Brought: one less"]`, ".question .main")
	p.reads("#lane-2-1", "short by 2")
	p.accessible()
	p.screenshot("round-stop-gaps")
	p.tap("#planned")
	p.reads("h1", "All stops done")
	p.tap("#end")
	p.reads("h1", "Round ended")
	p.reads("#next", "Next round 07:30")
	p.clean()
	p.accessible()
	p.targets()
	p.screenshot("round-ended")

	p.wait(`!document.querySelector(".outbox").innerText`)
	assert.ElementsMatch(t, []string{
		"took 0/0-0 LE-1052 ", "took 0/0-0 LE-1061 ", "took 0/0-0 LE-1072 ", "took 0/0-0 LE-1082 ", "took 0/0-0 LE-1152 ", "took 0/0-0 LE-1162 ", "took 0/0-0 LE-1172 ",
		"took 0/0-0 LE-1182  (undone)", "undone 0/0-0 0 ", "started 0/0-0 0 ",
		"brought 1/2-1 2  (undone)", "brought 1/2-2 2  (undone)", "brought 1/3-1 2  (undone)", "brought 1/3-2 2  (undone)", "empties 1/0-0 5  (undone)",
		"undone 0/0-0 0 ", "undone 0/0-0 0 ", "undone 0/0-0 0 ", "undone 0/0-0 0 ", "undone 0/0-0 0 ",
		"brought 1/2-1 2 ", "brought 1/2-2 2 ", "brought 1/3-1 2 ", "brought 1/3-2 2 ", "empties 1/0-0 5 ",
		"brought 2/2-1 1  (undone)", "short 2/2-1 1  (undone)", "skipped 2/2-2 0 otherwet floor", "brought 2/3-1 3 ",
		"undone 0/0-0 0 ", "undone 0/0-0 0 ", "brought 2/2-1 0 ", "short 2/2-1 2 ", "brought 2/3-2 2 ", "empties 2/0-0 5 ", "ended 0/0-0 0 ",
	}, p.entries(floorRound))
	s := get[wire.RoundSheet](p, "/api/v1/rounds/"+floorRound)
	assert.Equal(t, []any{"done", 2, 2, 1}, []any{s.State, s.StopsTicked, s.Short, s.Skipped})
	for _, want := range []string{"Brought 13 of 16 expected", "Empties back 10", "Short 2", "Skipped 1", "short by 2", "skipped: something else wet floor"} {
		assert.Contains(t, p.text(".round"), want)
	}
	p.tap("#next")
	p.reads("h1", "Take from the market")
	p.visit("/rounds")
	p.reads("#next", "07:30")
	p.reads("#others", "06:00 done 2 short, 1 skipped")
	p.reads("#day", "Rounds done 1 of 14")
	p.reads("#day", "Skipped 1 something else 1")
	p.screenshot("rounds-day")
}

// accessible is that of the tab at the end of the page, where what stands at the bottom
// covers nothing.
func (p *phone) accessible() {
	p.t.Helper()
	eval[bool](p.tab, `scrollTo(0, document.documentElement.scrollHeight), true`)
	p.tab.accessible()
	assert.Empty(p.t, eval[[]string](p.tab, `[...document.querySelectorAll(".round button, .question button")].filter((e) => e.scrollWidth > e.clientWidth).map((e) => e.innerText)`), "words wider than their button")
	eval[bool](p.tab, `scrollTo(0, 0), true`)
}

// targets are 56 px high or more, what the header has aside.
func (p *phone) targets() {
	p.t.Helper()
	assert.Empty(p.t, eval[[]string](p.tab, `[...(document.querySelector("dialog[open]") ?? document.querySelector(".round")).querySelectorAll("button, a.button, select, input, .hours a")]
		.filter((e) => e.checkVisibility()).filter((e) => e.getBoundingClientRect().height < 55.9 || e.getBoundingClientRect().width < 55.9).map((e) => e.outerHTML)`))
	assert.True(p.t, eval[bool](p.tab, `[...document.querySelectorAll(".act .main")].every((e) => { const r = e.getBoundingClientRect(); return r.bottom <= innerHeight && r.top > innerHeight / 2; })`), "what is done next stands where the thumb is")
}

// large is what can be read from 2 m: a capital letter of 10 mm, 0.7 of the size of the
// letters, on a phone of 390 px on 66 mm.
func (p *phone) large(selector string) {
	p.t.Helper()
	const least = 10 / 0.7 * 390 / 66
	assert.GreaterOrEqual(p.t, eval[float64](p.tab, fmt.Sprintf(`parseFloat(getComputedStyle(document.querySelector(%q)).fontSize)`, selector)), least-5)
}

// TestHandlersRoundWithoutNetwork: the network goes in the middle of a round, the page is
// opened again without it, and what was done before, meanwhile and after comes to the
// server once each. It runs beside no other test: a page without network is slow then.
func TestHandlersRoundWithoutNetwork(t *testing.T) {
	p := newPhone(t, 390, 844)
	p.chooseRounds("Ida")
	p.kept(floorRound)
	p.tap("#open")
	p.tap("#all")
	p.reads("#take-7", "taken")
	p.tap("#start")
	p.reads("h1", "Rack R1")
	p.kept(floorRound)
	require.Eventually(t, func() bool { return len(p.entries(floorRound)) == 9 }, 20*time.Second, 10*time.Millisecond, "what was taken, and the start")
	p.cut()
	p.tapUntil("#planned", "Rack R2")
	p.reads(".outbox", "5 entries wait for the network")
	p.visit("/rounds/" + floorRound)
	p.reads("h1", "Rack R2")
	p.reads("#steps", "1 of 2 done")
	p.reads(".outbox", "5 entries wait for the network")
	p.reads("#stale", "No network. As of")
	p.accessible()
	p.targets()
	p.screenshot("round-without-network")
	p.tap("#undo")
	p.reads("h1", "Rack R1")
	p.tapUntil("#planned", "Rack R2")
	p.tap("#skip", ".question .choice:nth-of-type(1)", "#reason-rack_blocked")
	p.reads("h1", "All stops done")
	p.tap("#end")
	p.reads("h1", "Round ended")
	p.visit("/rounds")
	p.reads("#others", "06:00 done")
	p.reads("#next", "07:30")
	p.reads(".outbox", "17 entries wait for the network")
	p.tap("#open")
	p.reads("h1", "Take from the market")
	p.tap("#take-0")
	p.reads(".outbox", "18 entries wait for the network")
	before := p.entries(floorRound)
	assert.Len(t, before, 9, "nothing since")
	p.join()
	p.tap("#send")
	p.wait(`!document.querySelector(".outbox").innerText`)
	assert.ElementsMatch(t, append(before,
		"brought 1/2-1 2  (undone)", "brought 1/2-2 2  (undone)", "brought 1/3-1 2  (undone)", "brought 1/3-2 2  (undone)", "empties 1/0-0 5  (undone)",
		"undone 0/0-0 0 ", "undone 0/0-0 0 ", "undone 0/0-0 0 ", "undone 0/0-0 0 ", "undone 0/0-0 0 ",
		"brought 1/2-1 2 ", "brought 1/2-2 2 ", "brought 1/3-1 2 ", "brought 1/3-2 2 ", "empties 1/0-0 5 ",
		"skipped 2/0-0 0 rack_blocked", "ended 0/0-0 0 "), p.entries(floorRound))
	assert.Equal(t, []string{"took 0/0-0 LE-1052 "}, p.entries("1.2026-10-19.1.20261019T053000Z.A"))
	p.wait(`!document.querySelector("#stale")`)
}

// TestWorkerKeepsRoundsOnly: the service worker keeps the pages of the rounds, what they
// load and what the API says of rounds; another page is not its business.
func TestWorkerKeepsRoundsOnly(t *testing.T) {
	t.Parallel()
	p := newPhone(t, 390, 844)
	p.chooseRounds("Ida")
	p.kept(floorRound)
	kept := awaited[[]string](p.tab, `caches.keys().then((names) => Promise.all(names.map((n) => caches.open(n).then((c) => c.keys())))).then((lists) => lists.flat().map((r) => new URL(r.url).pathname))`)
	assert.Contains(t, kept, "/assets/rounds/round.js")
	assert.Contains(t, kept, "/assets/words/de.js")
	for _, path := range kept {
		assert.Regexp(t, `^(/rounds(/-)?|/assets/.*|/api/v1/plants|/api/v1/rounds(/.*)?)$`, path)
		assert.NotRegexp(t, `^/assets/(map|cells|plant|docs|data)/`, path)
	}
	assert.Equal(t, p.url+"/rounds", awaited[string](p.tab, `navigator.serviceWorker.ready.then((r) => r.scope)`))
	p.visit("/")
	assert.True(t, eval[bool](p.tab, `navigator.serviceWorker.controller === null`))
}

// plainHTTP has the phone come by a name that is not localhost.
func (p *phone) plainHTTP() {
	p.t.Helper()
	_, port, err := net.SplitHostPort(p.address)
	require.NoError(p.t, err)
	p.url = "http://floor.test:" + port
}

// TestRoundsOverPlainHTTP: beyond localhost a browser opens nothing without a network, and
// the page says so; it works and queues all the same.
func TestRoundsOverPlainHTTP(t *testing.T) {
	t.Parallel()
	p := newPhone(t, 390, 844)
	p.plainHTTP()
	p.chooseRounds("Ida")
	assert.Contains(t, p.text("#insecure"), "HTTPS")
	p.accessible()
	p.tap("#open")
	p.reads("h1", "Take from the market")
	assert.Contains(t, p.text("#insecure"), "HTTPS")
	p.cut()
	p.tap("#take-0")
	p.reads(".outbox", "1 entry waits for the network")
	p.join()
	p.tap("#send")
	p.wait(`!document.querySelector(".outbox").innerText`)
	assert.Equal(t, []string{"took 0/0-0 LE-1052 "}, p.entries(floorRound))
}

// TestRoundOfTwo: what another person ticks on the round is shown, by whom, and is not
// undone by this phone; nor does it ask for it again.
func TestRoundOfTwo(t *testing.T) {
	t.Parallel()
	p := newPhone(t, 390, 844)
	p.chooseRounds("Ida")
	p.post(`{"id":"00000000-0000-4000-8000-000000000001","at":"2026-10-19T03:50:00Z","kind":"started","who":"Jon"},` +
		`{"id":"00000000-0000-4000-8000-000000000002","at":"2026-10-19T03:51:00Z","kind":"skipped","stop":1,"reason":"damaged","who":"Jon"}`)
	p.tap("#open")
	p.reads("#others", "Also on this round: Jon. Last: skipped stop 1, 05:51.")
	p.reads("h1", "Rack R2")
	assert.True(t, eval[bool](p.tab, `document.querySelector("#undo").disabled`))
	p.tap("#planned")
	p.reads("h1", "All stops done")
	p.accessible()
	p.screenshot("round-of-two")
}

// post hands in events of somebody else.
func (p *phone) post(events string) {
	p.t.Helper()
	r := httptest.NewRequest(http.MethodPost, "http://localhost/api/v1/rounds/"+floorRound+"/ticks", strings.NewReader(`{"events":[`+events+`]}`))
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	p.handler.ServeHTTP(w, r)
	require.Equal(p.t, http.StatusOK, w.Code, w.Body)
}

// TestRefusedEntries: what the server does not keep is said, and a person settles it.
func TestRefusedEntries(t *testing.T) {
	t.Parallel()
	p := newPhone(t, 390, 844)
	p.chooseRounds("Ida")
	p.post(`{"id":"00000000-0000-4000-8000-000000000001","at":"2026-10-19T03:50:00Z","kind":"started","who":"Ida"}`)
	// An id that is another entry's (409), and a stop that is not there (refused).
	_ = awaited[bool](p.tab, fmt.Sprintf(`import("/assets/queue.js").then((m) => m.openQueue({})).then((q) => q.add(%q,
		{ id: "00000000-0000-4000-8000-000000000001", kind: "empties", stop: 1, containers: 4, who: "Ida" }, { kind: "brought", stop: 9, level: 1, lane: 1, containers: 1, who: "Ida" }).then(() => true))`, floorRound))
	p.reads(".outbox", "2 entries were not taken")
	p.tap("#settle")
	p.reads("dialog", "4 empties stop 1")
	p.reads("dialog", "this id is that of another event")
	p.accessible()
	p.screenshot("round-refused")
	p.tap(`dialog button[value="again"]`)
	p.reads("dialog", "brought 1 stop 9 1-1")
	p.reads("dialog", "no such stop")
	p.tap(`dialog button[value="drop"]`)
	p.wait(`!document.querySelector(".outbox").innerText`)
	assert.ElementsMatch(t, []string{"started 0/0-0 0 ", "empties 1/0-0 4 "}, p.entries(floorRound))
}

// TestWakeUp: a phone that slept for hours, and has no network, says how old what it shows
// is, and that the round is past.
func TestWakeUp(t *testing.T) {
	t.Parallel()
	p := newPhone(t, 390, 844)
	p.plainHTTP() // no service worker, whose clock is another one
	p.chooseRounds("Ida")
	p.tap("#open")
	p.reads("h1", "Take from the market")
	p.cut()
	p.later(5 * time.Hour)
	eval[bool](p.tab, `document.dispatchEvent(new Event("visibilitychange"))`)
	p.reads("#past", "This round was to be back at 06:12; it is 10:48.")
	p.reads("#stale", "No network. As of 05:48.")
	p.accessible()
	p.screenshot("round-woken")
}

// TestProgressOfServer: the phone reckons how far a round is as the server does.
func TestProgressOfServer(t *testing.T) {
	t.Parallel()
	p := newPhone(t, 390, 844)
	p.visit("/rounds")
	empty := get[json.RawMessage](p, "/api/v1/rounds/"+floorRound)
	for seed := range 12 {
		p.post(events(seed))
		same := awaited[[]any](p.tab, fmt.Sprintf(`Promise.all([import("/assets/rounds/progress.js"), fetch("/api/v1/rounds/%s").then((r) => r.json()), fetch("/api/v1/rounds/%[1]s/ticks").then((r) => r.json())])
			.then(([m, server, { ticks }]) => {
				const plain = (s) => JSON.stringify(s, (k, v) => ["at", "started", "ended"].includes(k) && v ? Date.parse(v) : v);
				return [plain(m.progress(%s, ticks.reverse())), plain(server)];
			})`, floorRound, empty))
		assert.JSONEq(t, same[1].(string), same[0].(string), "seed %d", seed)
	}
}

// events makes some events of every kind by a seed, all of them in whole seconds, some at
// one moment.
func events(seed int) string {
	r := rand.New(rand.NewPCG(uint64(seed), 7)) //nolint:gosec // a test
	var list []string
	for i := range 12 {
		lane := fmt.Sprintf(`"stop":%d,"level":%d,"lane":%d`, 1+r.IntN(2), 2+r.IntN(2), 1+r.IntN(2))
		rest := []string{
			`"kind":"started"`, `"kind":"ended"`, fmt.Sprintf(`"kind":"took","part":"LE-10%d","containers":%d`, 5+r.IntN(4), r.IntN(3)),
			fmt.Sprintf(`"kind":"brought",%s,"containers":%d`, lane, r.IntN(4)), fmt.Sprintf(`"kind":"short",%s,"containers":%d`, lane, 1+r.IntN(4)),
			`"kind":"skipped",` + lane + `,"reason":"lane_full"`, fmt.Sprintf(`"kind":"skipped","stop":%d,"reason":"other","text":"wet","who":"Jon"`, 1+r.IntN(2)),
			fmt.Sprintf(`"kind":"empties","stop":%d,"containers":%d`, 1+r.IntN(2), r.IntN(6)),
			fmt.Sprintf(`"kind":"undone","undoes":"00000000-0000-4000-8000-%012d"`, r.IntN(12*(seed+1))),
		}[r.IntN(9)]
		list = append(list, fmt.Sprintf(`{"id":"00000000-0000-4000-8000-%012d","at":"2026-10-19T03:%02d:00Z",%s}`, 12*seed+i, r.IntN(40), rest))
	}
	return strings.Join(list, ",")
}

// TestHandlersRoundInGerman: in German, in the dark and on a narrow phone everything fits and
// can be read.
func TestHandlersRoundInGerman(t *testing.T) {
	t.Parallel()
	p := newPhone(t, 360, 740)
	p.scheme(true)
	p.visit("/docs")
	eval[bool](p.tab, `localStorage.setItem("lanewright.language", "de"), true`)
	p.chooseRounds("Ida")
	p.reads("#next", "laden in 12:00")
	check := func(name string) {
		p.clean()
		p.accessible()
		p.targets()
		p.screenshot("german-" + name)
	}
	check("next")
	p.tap("#open")
	p.reads(".steps", "0 von 2 fertig")
	check("market")
	p.tap("#all")
	p.tapUntil("#start", "Regal R1")
	check("stop")
	p.tap("#short", ".question .choice:nth-of-type(1)")
	p.reads(".question h2", "Zu wenig in R1/2-1")
	check("short")
	p.tap(".question .close", "#skip", ".question .choice:nth-of-type(1)", "#reason-lane_full")
	p.reads("h1", "Regal R2")
	p.tap("#steps")
	p.reads(".question", "! mit Lücken")
	check("steps")
	p.tap(".question .choice:nth-of-type(4)")
	p.reads("h1", "1 Halt ist offen")
	check("open")
}

// TestRoundsOfTheNight: after midnight a night shift is still on the rounds of the day before.
func TestRoundsOfTheNight(t *testing.T) {
	t.Parallel()
	p := newPhone(t, 390, 844)
	p.visit("/rounds")
	p.choose("#route", "B")
	p.choose("#shift", "night")
	p.tap("#choose")
	p.reads("#next", "22:00")
	p.reads("#next", "load in 16 h 12 min")
	p.later(22 * time.Hour) // 03:48
	p.visit("/rounds")
	p.reads("#next", "04:00")
	p.reads("#next", "load in 10:34") // 14.25 containers at 6 s each are loaded before it leaves
	p.reads("#others", "01:00 not driven")
	p.tap("#open")
	p.reads("h1", "Take from the market")
	assert.Contains(t, eval[string](p.tab, `location.pathname`), "1.2026-10-19.2.20261020T020000Z.B")
}
