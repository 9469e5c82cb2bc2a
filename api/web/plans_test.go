package web_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/runner"
	"lanewright/planner"
	"lanewright/planner/archive"
)

// working lets a runner take runs until the test ends.
func working(t *testing.T, s runner.Store, plan func(context.Context, planner.Input, planner.Settings, planner.Options) (*planner.Plan, error)) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	worked := make(chan error, 1)
	go func() {
		worked <- runner.New(s, runner.Options{Plan: plan, Every: 10 * time.Millisecond}).Work(ctx)
	}()
	t.Cleanup(func() {
		stop()
		require.NoError(t, <-worked)
	})
}

// fill writes into a field as a person does, instead of what was there.
func (tb *tab) fill(selector, text string) {
	tb.t.Helper()
	eval[bool](tb, fmt.Sprintf(`((e) => { e.focus(); e.select?.(); return true })(document.querySelector(%q))`, selector))
	tb.keyboard(text)
}

// TestPlanWithOtherSettings: a refused value is said beside its field, a run is
// followed and cancelled, another one makes a plan, one fails in words.
func TestPlanWithOtherSettings(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			s := apitest.Filled(t)
			steps := make(chan error)
			working(t, s, func(ctx context.Context, _ planner.Input, settings planner.Settings, o planner.Options) (*planner.Plan, error) {
				o.Progress.Report("placement", 2, 3)
				select {
				case <-ctx.Done():
					return nil, ctx.Err()
				case err := <-steps:
					if err != nil {
						return nil, err
					}
				}
				p := apitest.Plan()
				p.Settings = settings
				return p, nil
			})
			tb := open(t, s, w.width, w.height)
			tb.visit("/plans")
			tb.press("#again > summary")
			tb.fill("#set-refill_interval_min", "-5")
			tb.press("#again button.main")
			tb.wait(`document.querySelector("#set-refill_interval_min-error").innerText.includes("minutes, more than 0")`)
			assert.Equal(t, "Refill interval", tb.focused())
			tb.accessible()

			tb.mu.Lock()
			assert.Len(t, tb.troubles, 1, "the browser's own note of the refusal")
			tb.troubles = nil
			tb.mu.Unlock()

			tb.fill("#set-refill_interval_min", "20")
			tb.fill("#find-setting", "search steps loop")
			tb.wait(`document.querySelectorAll(".setting:not([hidden])").length === 1`)
			tb.fill("#set-placement_steps", "0")
			tb.press("#again button.main")
			tb.wait(`document.querySelector(".run [role=status]")?.innerText.includes("giving loops their lanes, 2 of 3")`)
			assert.Contains(t, tb.text("#running"), "Refill interval: 20 min · Search steps for a loop: 0")
			assert.Contains(t, tb.text("#running .elapsed"), "67 % of this stage · ")
			tb.screenshot("plans-running-" + w.name)
			tb.clean()
			tb.accessible()
			tb.press("#running button")
			tb.wait(`document.querySelector("#lost")?.innerText.includes("cancelled")`)
			assert.Equal(t, 1, eval[int](tb, `document.querySelectorAll("#plans tbody tr").length`))

			tb.press("#again > summary")
			tb.press("#again button.main")
			tb.wait(`document.querySelectorAll("#running .run").length === 1`)
			steps <- nil
			tb.wait(`document.querySelectorAll("#plans tbody tr").length === 2`)
			assert.Contains(t, tb.text("#plans tbody tr"), "Plan 2")
			assert.Contains(t, tb.text("#plans tbody tr"), "Refill interval: 20 min")
			assert.Contains(t, tb.text("#said"), "Plan 2 is ready.")

			tb.press("#again > summary")
			tb.press("#again button.main")
			tb.wait(`document.querySelectorAll("#running .run").length === 1`)
			steps <- errors.New("no rack type is wide enough")
			tb.wait(`document.querySelector("#lost")?.innerText.includes("no rack type is wide enough")`)
			assert.Contains(t, tb.text("#said"), "The plan could not be made")
			tb.screenshot("plans-ended-" + w.name)
			tb.clean()
			tb.accessible()

			tb.visit("/plans/2")
			assert.Contains(t, tb.text("#settings"), "Refill interval 20 min 60 min")
			tb.visit("/plans?again=2")
			assert.Equal(t, "20", eval[string](tb, `document.querySelector("#set-refill_interval_min").value`), "the settings of a plan are asked for again")
		})
	}
}

// TestCompareTwo: two plans are ticked; what differs is there and nothing else, of
// all cells or of one.
func TestCompareTwo(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			s := apitest.Filled(t)
			other := apitest.Plan()
			other.Loops[0].Containers++
			a, b := &other.Lanes[8], &other.Lanes[9]
			a.Loop, b.Loop = b.Loop, a.Loop
			_, err := s.SavePlan(t.Context(), apitest.Name, 1, other)
			require.NoError(t, err)
			tb := open(t, s, w.width, w.height)
			tb.visit("/plans")
			assert.True(t, eval[bool](tb, `document.querySelector("#plans .filters button").disabled`))
			tb.press("[aria-label='Compare plan 2']")
			tb.press("[aria-label='Compare plan 1']")
			tb.press("#plans .filters button")
			tb.wait(`document.querySelector("#loops") !== null`)
			assert.Contains(t, eval[string](tb, "location.search"), "a=1&b=2")
			assert.Contains(t, tb.text("#totals tbody"), "Containers 56 57 +1 worse", "fields of a card carry their headings on a phone")
			assert.Equal(t, 1, eval[int](tb, `document.querySelectorAll("#totals tbody tr").length`))
			assert.Equal(t, 3, eval[int](tb, `document.querySelectorAll("#loops tbody tr").length`))
			eval[bool](tb, `(navigator.clipboard.writeText = async (text) => { window.copied = text }, true)`)
			tb.press("#cells .grid-tools button")
			tb.wait(`"copied" in window`)
			assert.Equal(t, []string{"Cell", "Containers, Plan 1", "Containers, Plan 2"}, eval[[]string](tb, `copied.split("\n")[0].split("\t").slice(0, 3)`), "before and after stand beside each other")
			assert.Equal(t, []string{"LENS", "24", "25"}, eval[[]string](tb, `copied.split("\n")[1].split("\t").slice(0, 3)`))
			tb.choose("#cell", "LENS")
			tb.wait(`!document.querySelector("#routes")`)
			assert.Contains(t, eval[string](tb, "location.search"), "cell=LENS")
			tb.clean()
			tb.accessible()
			tb.visit("/plans/compare?a=1&b=1")
			assert.Contains(t, tb.text("#content"), "The two plans are the same")
		})
	}
}

// TestStatesOfPlans: the list says which plan the floor works to, and which one was
// edited by hand.
func TestStatesOfPlans(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	_, err := s.SavePlan(t.Context(), apitest.Name, 1, apitest.Plan())
	require.NoError(t, err)
	_, _, err = s.Publish(t.Context(), archive.NewPublication{Plant: apitest.Name, Plan: 1, By: "Ines"})
	require.NoError(t, err)
	tb := open(t, s, 1280, 900)
	tb.visit("/plans")
	assert.Contains(t, tb.text("#plans tbody tr:nth-child(1)"), "latest")
	assert.Contains(t, tb.text("#plans tbody tr:nth-child(2)"), "the floor works to it")
	tb.visit("/plans/1")
	assert.Contains(t, tb.text(".lead"), "the floor works to it")
	assert.Contains(t, tb.text("#stages"), "Containers without a lane 8 6 at most 33.3 % above the least possible")
	assert.Contains(t, tb.text("#stages"), "Cost of racks added 900 900 cannot be better")
	assert.Equal(t, "/cells?plan=1", eval[string](tb, `document.querySelector(".links a").getAttribute("href")`))
}

// TestPlansByKeys: a plan is asked for and "why" is opened and closed with keys
// alone; the focus comes back.
func TestPlansByKeys(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	working(t, s, func(context.Context, planner.Input, planner.Settings, planner.Options) (*planner.Plan, error) {
		return apitest.Plan(), nil
	})
	tb := open(t, s, 1280, 900)
	to := func(name string) {
		for range 80 {
			if tb.keyboard(kb.Tab); tb.focused() == name {
				return
			}
		}
		t.Fatalf("Tab does not lead to %q", name)
	}
	tb.visit("/plans")
	to("Plan again with other settings")
	tb.keyboard(kb.Enter)
	to("Refill interval")
	tb.keyboard("20" + kb.Enter)
	tb.wait(`document.querySelectorAll("#plans tbody tr").length === 2`)
	tb.visit("/plans/2")
	to("Find")
	tb.keyboard("LE-105" + kb.Enter)
	tb.wait(`document.querySelectorAll("#find tbody tr").length === 1`)
	to("Why? LE-105 at LENS, station 10")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector("dialog .steps") !== null`)
	assert.Contains(t, tb.text("dialog .steps"), "Cards: D / standard pack, rounded up")
	tb.accessible()
	tb.screenshot("why-desk")
	tb.keyboard(kb.Escape)
	tb.wait(`!document.querySelector("dialog")`)
	assert.Equal(t, "Why? LE-105 at LENS, station 10", tb.focused())
	tb.clean()
}

// TestFindPart: letters find a part in all cells, and lead to its cell and to the map.
func TestFindPart(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/loops?plan=1")
			assert.Equal(t, "Find", tb.focused())
			tb.keyboard("wi-1")
			tb.wait(`document.querySelectorAll("tbody tr").length === 4`)
			assert.Contains(t, eval[string](tb, "location.search"), "find=wi-1")
			assert.Contains(t, tb.text("tbody tr"), "R3/2-1")
			assert.Equal(t, "/cells/WIRE?plan=1", eval[string](tb, `document.querySelector("tbody a").getAttribute("href")`))
			tb.press("tbody a[href^='/map']")
			tb.wait(`document.querySelector(".found")?.innerText.includes("WI-1")`)
			tb.visit("/loops?plan=1&find=nothing")
			tb.wait(`document.querySelector("#content .note")?.innerText.includes("Nothing of this plan")`)
		})
	}
}

// TestWholeDayOfPlans plans, compares, tries choices, plays and looks into a loop, on
// the whole made-up plant with nothing put in place of the planner.
func TestWholeDayOfPlans(t *testing.T) {
	t.Parallel()
	browser(t)
	db, first := planned(t)
	working(t, db, nil)
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			tb := open(t, db, w.width, w.height)
			tb.visit("/plans")
			before := eval[int](tb, `document.querySelectorAll("#plans tbody tr").length`)
			tb.press("#again > summary")
			tb.fill("#set-refill_interval_min", "20")
			tb.press("#again button.main")
			tb.wait(fmt.Sprintf(`document.querySelectorAll("#plans tbody tr").length === %d`, before+1))
			latest := eval[string](tb, `document.querySelector("#plans tbody a").getAttribute("href")`)
			tb.visit(latest)
			tb.clean()
			tb.accessible()
			tb.screenshot("whole-plan-" + w.name)
			tb.visit("/plans/compare?a=1&b=" + latest[len("/plans/"):])
			assert.Contains(t, tb.text("#asked"), "Refill interval")
			assert.Contains(t, tb.text("#totals"), "Containers")
			tb.clean()
			tb.screenshot("whole-compare-" + w.name)

			tb.visit("/plans/1/choices?intervals=20,40&levels=99.5&cell=" + string(first.Cells[0].Cell))
			tb.wait(`document.querySelectorAll("#curve .spot").length === 2 && document.querySelectorAll("#trade .spot").length > 2`)
			tb.clean()
			tb.accessible()
			tb.screenshot("whole-choices-" + w.name)
			tb.press("#curve tbody button")
			tb.wait(fmt.Sprintf(`location.pathname === "/plans" && document.querySelectorAll("#plans tbody tr").length === %d`, before+2))

			tb.visit("/plans/1")
			tb.press("#play > summary")
			tb.fill("#set-simulation_weeks", "1")
			tb.fill("#set-simulation_replications", "2")
			tb.press("#play button.main")
			tb.wait(`location.pathname === "/plans/1/simulation" && document.querySelectorAll("#loops tbody tr").length > 10`)
			tb.press("#loops tbody button:not(.why)")
			tb.wait(`!!document.querySelector("#loop svg .line.full")`)
			assert.Equal(t, 1, eval[int](tb, `Number(document.querySelectorAll("#loop svg .came").length > 1 && document.querySelectorAll("#loop svg .took").length > 1)`), "rounds are marked")
			assert.Contains(t, tb.text("#loop"), "ran short", "the first loop of the list is one that ran short")
			assert.Positive(t, eval[int](tb, `document.querySelectorAll("#loop svg > .short").length`))
			assert.NotEmpty(t, eval[string](tb, `document.querySelector("#loop .line.full").getAttribute("d")`))
			assert.Positive(t, eval[int](tb, `document.querySelectorAll("#loop tbody tr").length`))
			tb.clean()
			tb.accessible()
			tb.screenshot("whole-simulation-" + w.name)
			tb.visit(eval[string](tb, "location.pathname + location.search"))
			tb.wait(`!!document.querySelector("#loop svg .line.full")`)
			tb.scheme(true)
			tb.accessible()
			tb.screenshot("whole-simulation-dark-" + w.name)
		})
	}
	t.Run("steps", func(t *testing.T) { stepsAreThePlans(t, open(t, db, 1280, 900), len(first.Loops)) })
}

// stepsAreThePlans: the figures that "why" shows of a loop come to the plan's own
// numbers, of every loop.
func stepsAreThePlans(t *testing.T, tb *tab, loops int) {
	tb.visit("/docs")
	eval[bool](tb, `Promise.all([import("/assets/why/loop.js"), import("/assets/ask.js")]).then(async ([why, ask]) => {
		const [list, lanes] = await Promise.all([ask.all("/plans/1/loops"), ask.all("/plans/1/lanes")]);
		window.steps = list.flatMap((l) => why.calculation(l, lanes.filter((x) => x.part === l.part && x.cell === l.cell && x.station === l.station)).filter((s) => s.value !== null).map((s) => ({ loop: l.part, ...s })));
		window.loops = list.length;
	}), true`)
	tb.wait(`"loops" in window`)
	assert.Equal(t, loops, eval[int](tb, "loops"))
	assert.Greater(t, eval[int](tb, "steps.length"), 3*loops)
	assert.Empty(t, eval[[]string](tb, `steps.filter((s) => Math.abs(s.value - s.told) > 0.001 * Math.max(1, s.told)).map((s) => s.loop + ": " + s.what + " " + s.how + " = " + s.value + ", not " + s.told)`))
}
