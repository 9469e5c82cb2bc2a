package web_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/runner"
	"lanewright/planner"
	"lanewright/planner/archive"
)

func TestPlantPage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/")
			assert.Equal(t, apitest.Name, tb.text("h1"))
			assert.Equal(t, "Plant", eval[string](tb, `document.querySelector(".mast [aria-current]").textContent`))
			ways := tb.text(".three-ways")
			for _, want := range []string{"Balance lanes", "1 cell short of lanes", "Refill rounds", "next leaves at", "Rack report", "page, PDF, workbook"} {
				assert.Contains(t, ways, want)
			}
			assert.Equal(t, "/rounds?plant=Skerrow+Lantern+Works", eval[string](tb, `document.querySelectorAll(".three-ways a")[1].getAttribute("href")`))
			figures := tb.text(".figures")
			for _, want := range []string{"Loops with a lane 16 of 18 2 without", "Racks 4 1 of them proposed", "Routes 2 1 handler", "Cells proved best 1 of 3", "Findings 3 1 error, 1 warning, 1 note"} {
				assert.Contains(t, figures, want)
			}
			assert.Equal(t, 1, eval[int](tb, `document.querySelectorAll("#cells tbody tr").length`), "short cells only")
			for _, want := range []string{"WIRE", "2 lanes short", "320 mm: 1 · 420 mm: 1"} {
				assert.Contains(t, tb.text("#cells tbody tr"), want)
			}
			assert.Contains(t, tb.text("#cells"), "1 of 3 cells is short of lanes")
			assert.Contains(t, tb.text("#routes tbody tr"), "13.5 min")
			assert.InDelta(t, 0.45, eval[float64](tb, `((e) => e.offsetWidth / e.parentElement.offsetWidth)(document.querySelector("#routes .track span"))`), 0.02, "a script may set the width of a bar")
			findings := tb.text("#findings")
			for _, want := range []string{"error", `"SLC-9999", which is not listed`, "skerrow.xlsx, Parts!D13", "parts.unknown-container", "What to do: Add the container", "3 of 3 shown"} {
				assert.Contains(t, findings, want)
			}
			tb.clean()
		})
	}
}

func TestFindingFilters(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 900)
	tb.visit("/")
	tb.press("#findings .filters button:nth-child(3)")
	tb.wait(`document.querySelectorAll("#findings .list > li").length === 1`)
	assert.Contains(t, tb.text("#findings .list"), "Cell WIRE lacks 2 lanes")
	assert.Equal(t, "true", eval[string](tb, `document.activeElement.getAttribute("aria-pressed")`), "the pressed filter keeps the focus")
	tb.clean()
}

// TestWithoutAnything: empty, failing and unknown are said in words.
func TestWithoutAnything(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 390, 844)
	tb.visit("/")
	assert.Contains(t, tb.text("#content"), "No plant yet")
	assert.Contains(t, tb.text("#content"), "lanewright import")
	tb.clean()
	tb.accessible()
	tb.screenshot("empty")
	tb.visit("/cells")
	assert.Contains(t, tb.text("[role=alert]"), "There is no plan")
	tb.visit("/cells/WIRE?plan=9")
	assert.Contains(t, tb.text("[role=alert]"), "Plan 9")
	tb.screenshot("missing")
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

// TestPicker: plant and plan are chosen in the header, and the header leads on
// to the same plan.
func TestPicker(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	_, err := s.SavePlan(t.Context(), apitest.Name, 1, apitest.Plan())
	require.NoError(t, err)
	_, _, err = s.SaveRevision(t.Context(), "Other", apitest.Facts(), "other", nil, nil)
	require.NoError(t, err)
	tb := open(t, s, 1280, 900)
	tb.visit("/cells")
	tb.wait(`!!document.querySelector("#pick-plan")`)
	assert.Equal(t, "2", eval[string](tb, `document.querySelector("#pick-plan").value`))
	tb.choose("#pick-plan", "1")
	tb.wait(`document.querySelector(".crumb")?.innerText.endsWith("plan 1")`)
	assert.Equal(t, "?plan=1", eval[string](tb, `document.querySelector(".mast nav a").search`))
	tb.wait(`!!document.querySelector("#pick-plant")`)
	tb.choose("#pick-plant", "Other")
	tb.wait(`document.querySelector("h1")?.innerText === "Other"`)
	tb.clean()
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
	tb.press("button.main")
	tb.wait(`document.querySelector(".run [role=status]")?.innerText.includes("giving loops their lanes, 2 of 3")`)
	tb.screenshot("running")
	close(step)
	tb.wait(`document.querySelector("main .sub")?.innerText.startsWith("Plan 2 ")`)
	tb.clean()
	stop()
	require.NoError(t, <-worked)
}
