package web_test

import (
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/web"
)

// clean checks what holds for every page: nothing red in the console, nothing
// wider than the window, one main heading, a name for every control.
func (tb *tab) clean() {
	tb.t.Helper()
	tb.mu.Lock()
	assert.Empty(tb.t, tb.troubles)
	tb.mu.Unlock()
	assert.LessOrEqual(tb.t, eval[int](tb, `document.documentElement.scrollWidth - innerWidth`), 0, "the page scrolls sideways")
	assert.Equal(tb.t, 1, eval[int](tb, `document.querySelectorAll("h1").length`), "main headings")
	assert.Empty(tb.t, eval[[]string](tb, `[...document.querySelectorAll("a, button, select, input")].filter((e) =>
		!e.textContent.trim() && !e.getAttribute("aria-label") && !e.labels?.length).map((e) => e.outerHTML)`), "controls without a name")
	assert.Empty(tb.t, eval[[]string](tb, `[...document.querySelectorAll("[id]")].map((e) => e.id).filter((id, i, all) => all.indexOf(id) !== i)`), "ids that stand twice")
}

// accessible fails on what axe-core finds serious or critical, the size of
// targets (WCAG 2.2, 2.5.8) included. The library stands in testdata with its
// licence (MPL 2.0) and is no part of the program.
func (tb *tab) accessible() {
	tb.t.Helper()
	axe, err := os.ReadFile("testdata/axe.min.js")
	require.NoError(tb.t, err)
	if !eval[bool](tb, `"axe" in window`) {
		eval[bool](tb, string(axe)+"; true")
	}
	found, err := chromedp.Run(tb.ctx, chromedp.Evaluate[[]string](`axe.run({ resultTypes: ["violations"], rules: { "target-size": { enabled: true } } }).then((r) => r.violations
		.filter((v) => v.impact === "serious" || v.impact === "critical")
		.flatMap((v) => v.nodes.map((n) => v.id + ": " + n.target.join(" ") + ": " + n.failureSummary)))`, chromedp.EvalAwaitPromise))
	require.NoError(tb.t, err)
	assert.Empty(tb.t, found)
}

// examples has an address of every page of the table.
var examples = map[string]string{
	"/":                        "/",
	"/cells":                   "/cells?plan=1",
	"/cells/{cell}":            "/cells/WIRE?plan=1",
	"/drafts":                  "/drafts?plan=1",
	"/drafts/{draft}":          "/drafts/2?onto=3",
	"/moves":                   "/moves?draft=1&since=1",
	"/racks/{rack}":            "/racks/R3?plan=1",
	"/map":                     "/map?plan=1",
	"/rounds":                  "/rounds",
	"/rounds/{round}":          "/rounds/2.2026-10-19.1.20261019T040000Z.A",
	"/report":                  "/report?plan=1",
	"/routes/{route}":          "/routes/B?plan=1",
	"/data":                    "/data",
	"/data/revisions/{number}": "/data/revisions/1",
	"/docs":                    "/docs",
	"/loops":                   "/loops?plan=1&find=WR",
	"/plans":                   "/plans?plan=1&again=new",
	"/plans/compare":           "/plans/compare?a=1&b=3",
	"/plans/{plan}":            "/plans/1",
	"/plans/{plan}/choices":    "/plans/1/choices?intervals=30,60&cell=LENS",
	"/plans/{plan}/simulation": "/plans/1/simulation?part=LE-105&cell=LENS&station=10",
}

// exampleStore has what the examples are about.
func exampleStore(t *testing.T) *apitest.Store {
	t.Helper()
	s := apitest.Filled(t)
	apitest.AddFloor(t, s, "Europe/Berlin")
	twoDrafts(t, s)
	other := apitest.Plan()
	other.Loops[0].Containers, other.Unplaced = 5, nil
	require.NoError(t, other.Settings.Set("refill_interval_min", "20"))
	_, err := s.SavePlan(t.Context(), apitest.Name, 1, other)
	require.NoError(t, err)
	return s
}

// TestEveryPage: each page is clean and accessible, light, dark and on a phone.
func TestEveryPage(t *testing.T) {
	t.Parallel()
	s := exampleStore(t)
	for _, w := range []struct {
		name          string
		width, height int64
		dark          bool
	}{{"light", 1280, 800, false}, {"dark", 1280, 800, true}, {"phone", 390, 844, false}, {"phone-dark", 390, 844, true}} {
		tb := open(t, s, w.width, w.height)
		tb.scheme(w.dark)
		for _, address := range web.Addresses() {
			require.Contains(t, examples, address, "give TestEveryPage an address of the page")
			tb.visit(examples[address])
			tb.clean()
			tb.accessible()
			tb.screenshot(strings.NewReplacer("/", "_", "{", "", "}", "").Replace("page"+address) + "-" + w.name)
		}
	}
}
