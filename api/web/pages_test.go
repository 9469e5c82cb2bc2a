package web_test

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/api/runner"
	"lanewright/planner"
	"lanewright/planner/archive"
)

// windows are those of a desk and of a phone.
var windows = []struct {
	name          string
	width, height int64
}{{"desk", 1280, 900}, {"phone", 390, 844}}

func TestPlantPage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/")
			assert.Equal(t, apitest.Name, tb.text("h1"))
			figures := tb.text(".figures")
			for _, want := range []string{"Loops with a lane 16 of 18 2 without", "Racks 4 1 of them proposed", "Routes 2 1 handler", "Cells proved best 1 of 3", "Findings 3 1 error, 1 warning, 1 note"} {
				assert.Contains(t, figures, want)
			}
			assert.Contains(t, tb.text("#cells tbody tr"), "2 lanes short", "the short cell stands first")
			assert.Contains(t, tb.text("#cells tbody tr"), "WIRE")
			assert.Contains(t, tb.text("#routes tbody tr"), "13.5 min")
			assert.Contains(t, tb.text("#racks tbody tr"), "proposed", "proposed racks stand first")
			findings := tb.text("#findings")
			for _, want := range []string{"error", `"SLC-9999", which is not listed`, "skerrow.xlsx, Parts!D13", "parts.unknown-container", "What to do: Add the container", "3 of 3 shown"} {
				assert.Contains(t, findings, want)
			}
			tb.clean()
			tb.picture("plant-"+w.name, false)
			tb.picture("plant-"+w.name+"-dark", true)
		})
	}
}

func TestFindingFilters(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 900)
	tb.visit("/")
	tb.do(chromedp.Click(chromedp.CSS("#findings .filters button:nth-child(3)")))
	tb.wait(`document.querySelectorAll("#findings .list > li").length === 1`)
	assert.Contains(t, tb.text("#findings .list"), "Cell WIRE lacks 2 lanes")
	assert.Equal(t, "true", eval[string](tb, `document.activeElement.getAttribute("aria-pressed")`), "the pressed filter keeps the focus")
	tb.clean()
}

func TestCellPage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/cells/WIRE?plan=1")
			assert.Equal(t, "Cell WIRE", tb.text("h1"))
			assert.Contains(t, tb.text(".figures"), "Lanes needed 6 2 lanes short")
			assert.Contains(t, tb.text("#unplaced"), "the widest room left is 140 mm")
			assert.Contains(t, tb.text("#balance"), "1 lane short")
			assert.Contains(t, tb.text("#rack-R3"), "3 of 4")
			assert.Contains(t, tb.text("#loops"), "SLC-4315")
			tb.clean()
			tb.picture("cell-"+w.name, false)
			tb.picture("cell-"+w.name+"-dark", true)
		})
	}
}

// TestAwkwardCode: a code with a slash and letters that mean something in HTML.
func TestAwkwardCode(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 900)
	tb.visit("/")
	tb.do(chromedp.Click(chromedp.CSS(`a[href^="/cells/TEST%2F2"]`)))
	tb.wait(`document.querySelector("h1")?.innerText === "Cell TEST/2"`)
	assert.Contains(t, tb.text(".sub"), "Test & <seal>")
	tb.clean()
}

func TestRoutePage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/routes/B?plan=1")
			assert.Equal(t, "Route B", tb.text("h1"))
			assert.Contains(t, tb.text("#timetable"), "Shift night 22:00 00:15")
			assert.Contains(t, tb.text("#stops tbody tr:nth-child(2)"), "R4")
			assert.Contains(t, tb.text("#stops"), "TEST/2")
			tb.clean()
			tb.picture("route-"+w.name, false)
		})
	}
}

func TestDocsPage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/docs")
			assert.Contains(t, tb.text("#make-plan"), "POST /api/v1/plants/{plant}/plans")
			tb.clean()
			tb.picture("docs-"+w.name, false)
		})
	}
}

// TestWithoutAnything: empty, failing and unknown are said in words.
func TestWithoutAnything(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 390, 844)
	tb.visit("/")
	assert.Contains(t, tb.text("#content"), "No plant yet")
	assert.Contains(t, tb.text("#content"), "lanewright import")
	tb.clean()
	tb.picture("empty", false)
	tb.visit("/cells/WIRE?plan=9")
	assert.Contains(t, tb.text("[role=alert]"), "Plan 9")
	tb.picture("missing", false)
}

// TestPlantOfTheAddress: the page shows the plant its address names, or says
// that there is none; the longest name leaves the page as wide as the window.
func TestPlantOfTheAddress(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	long := strings.Repeat("W", 100)
	_, _, err := s.SaveRevision(t.Context(), long, apitest.Facts(), "other", nil, nil)
	require.NoError(t, err)
	for _, w := range windows {
		tb := open(t, s, w.width, w.height)
		tb.visit("/?plant=" + long)
		assert.Contains(t, tb.text("#content"), "No plan yet")
		tb.clean()
		tb.visit("/?plant=Nowhere")
		assert.Contains(t, tb.text("[role=alert]"), "There is no plant “Nowhere”")
	}
}

func TestStoreAway(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	s.SetDown(archive.ErrUnavailable)
	tb := open(t, s, 1280, 900)
	tb.visit("/")
	assert.Contains(t, tb.text("[role=alert]"), "try again in a little while")
}

// TestPlanAgain presses the button; the page follows the run and opens the new
// plan.
func TestPlanAgain(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	tb := open(t, s, 1280, 900)
	tb.visit("/")
	step := make(chan struct{})
	plan := func(_ context.Context, _ planner.Input, _ planner.Settings, o planner.Options) (*planner.Plan, error) {
		o.Progress.Report("placement", 2, 3)
		<-step
		return apitest.Plan(), nil
	}
	ctx, stop := context.WithCancel(context.Background())
	worked := make(chan error, 1)
	go func() { worked <- runner.New(s, runner.Options{Plan: plan, Every: 10 * time.Millisecond}).Work(ctx) }()
	tb.do(chromedp.Click(chromedp.CSS("button.main")))
	tb.wait(`document.querySelector("[role=status]")?.innerText.includes("giving loops their lanes, 2 of 3")`)
	tb.picture("running", false)
	close(step)
	tb.wait(`document.querySelector("main .sub")?.innerText.startsWith("Plan 2 ")`)
	tb.clean()
	stop()
	require.NoError(t, <-worked)
}

// TestSmall: the script and style of the first page stay under 100 KB even
// before compression.
func TestSmall(t *testing.T) {
	t.Parallel()
	h := api.New(api.Options{Store: apitest.NewStore()})
	total := 0
	for _, name := range []string{"app.css", "base.js", "findings.js", "plant.js", "run.js", "mark.svg"} {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/assets/"+name, nil))
		require.Equal(t, 200, w.Code, name)
		total += w.Body.Len()
	}
	assert.Less(t, total, 100_000, fmt.Sprint(total))
}
