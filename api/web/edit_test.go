package web_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
)

// known tells the browser who edits, so that nobody asks.
func (tb *tab) known(name string) {
	tb.t.Helper()
	eval[bool](tb, fmt.Sprintf(`localStorage.setItem("lanewright.who", %q); true`, name))
}

// told waits for what the page tells of the last edit.
func (tb *tab) told(text string) {
	tb.t.Helper()
	tb.wait(fmt.Sprintf(`document.querySelector("#part-told").innerText.includes(%q)`, text))
}

// lane is the selector of a lane on a level.
func lane(rack string, level, lane int) string {
	return fmt.Sprintf(`.shelf[data-rack='%s'][data-level='%d'] button.lane:nth-of-type(%d)`, rack, level, lane)
}

// box is where something lies in the window.
func (tb *tab) box(selector string) (x, y float64) {
	tb.t.Helper()
	at := eval[[]float64](tb, fmt.Sprintf(`((r) => [r.left + r.width / 2, r.top + r.height / 2])(document.querySelector(%q).getBoundingClientRect())`, selector))
	return at[0], at[1]
}

// drag takes something with the mouse and lets go of it over something else.
func (tb *tab) drag(from, to string) {
	tb.t.Helper()
	eval[bool](tb, fmt.Sprintf(`document.querySelector(%q).scrollIntoView({ block: "center" }); true`, from))
	x, y := tb.box(from)
	tb.do(chromedp.MouseEvent(chromedp.MousePressed, x, y, chromedp.ButtonLeft), chromedp.MouseEvent(chromedp.MouseMoved, x+10, y, chromedp.ButtonLeft))
	tb.wait(`document.querySelector(".fit")`)
	x, y = tb.box(to)
	tb.do(chromedp.MouseEvent(chromedp.MouseMoved, x, y, chromedp.ButtonLeft))
	tb.wait(`document.querySelector(".shelf.aim")`)
	tb.screenshot("dragging")
	tb.do(chromedp.MouseEvent(chromedp.MouseReleased, x, y, chromedp.ButtonLeft))
}

// on counts the lanes of a part on a level.
func (tb *tab) on(part, rack string, level int) int {
	tb.t.Helper()
	return eval[int](tb, fmt.Sprintf(`[...document.querySelectorAll('.shelf[data-rack="' + %q + '"][data-level="%d"] .lane.used')].filter((l) => l.dataset.key.startsWith(%q + "\x1f")).length`, rack, level, part))
}

// TestEngineerBalances: from the first page to a cell that is short, what it lacks is
// found, tried, taken back and made.
func TestEngineerBalances(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, workshop(t), w.width, w.height)
			tb.visit("/")
			tb.known("Kim")
			tb.press(`#cells a[href^="/cells/HORN"]`)
			tb.wait(`document.querySelector("h1")?.innerText === "Cell HORN" && document.querySelector(".fronts")`)
			assert.Contains(t, tb.text("#unplaced"), "4106-A 2 containers without a lane")
			tb.accessible()
			tb.screenshot("cell-short-" + w.name)

			// A loop is chosen by its lane; what fits stands there with what it costs.
			tb.press(lane("HORN-01", 4, 1))
			tb.wait(`document.querySelector("#places .place") && document.querySelector(".fit.bad")`)
			assert.Equal(t, "Part 00110", tb.text("#panel-title"))
			assert.Regexp(t, `HORN-03/4 1 lane, \+4\.19.kg/h`, tb.text("#places"))
			assert.Contains(t, tb.text(`.shelf[data-rack='HORN-01'][data-level='3'] .fit`), "88 mm of width missing")
			tb.accessible()
			tb.screenshot("cell-chosen-" + w.name)
			tb.press("#places .place")
			tb.told("Part 00110 moved to HORN-03/4.")
			assert.Contains(t, tb.text("#part-told"), "(+4.19 kg/h)")
			assert.Equal(t, 1, tb.on("00110", "HORN-03", 4))
			assert.Contains(t, eval[string](tb, `location.search`), "draft=1", "the first edit opened a draft")
			assert.Contains(t, tb.text("#bar-told"), "1 change")

			tb.press("#undo")
			tb.told("The last change is taken back.")
			assert.Equal(t, 0, tb.on("00110", "HORN-03", 4))
			tb.press("#redo")
			tb.told("The change is made again.")
			assert.Equal(t, 1, tb.on("00110", "HORN-03", 4))

			// A relief is one press away.
			tb.press("#reliefs summary")
			tb.wait(`document.querySelector(".relief-list .try")`)
			tb.accessible()
			tb.screenshot("cell-reliefs-" + w.name)
			tb.press(".relief-list .try")
			tb.told("The relief is made in the draft.")
			assert.Contains(t, tb.text("#part-told"), "containers without a lane 2 → 0")
			assert.Equal(t, "all given", tb.text("#unplaced .tray-none"))

			// A reload finds the draft again.
			tb.visit(eval[string](tb, `location.pathname + location.search`))
			assert.Equal(t, 1, tb.on("00110", "HORN-03", 4))
			assert.Contains(t, tb.text("#review"), "Review and publish")
			tb.clean()
			tb.accessible()
			tb.screenshot("cell-edited-" + w.name)
		})
	}
}

// split finds a loop in two places or more of which the containers in one fit on another
// level, and that level.
func split(t *testing.T, in planner.Input, plan *planner.Plan) (move placement.MoveLoop, lane placement.Lane) {
	t.Helper()
	laid := planner.NewDesk(in.Plant, plan).After(nil)
	for _, l := range plan.Lanes {
		more := slices.ContainsFunc(plan.Lanes, func(o placement.Lane) bool { return o.Loop == l.Loop && (o.Rack != l.Rack || o.Level != l.Level) })
		if l.Loop.Part == "" || !more {
			continue
		}
		move = placement.MoveLoop{Loop: l.Loop, From: placement.Spot{Rack: l.Rack, Level: l.Level}}
		fits, ok := laid.Fits(move)
		require.True(t, ok)
		for _, f := range fits {
			holds := slices.ContainsFunc(plan.Lanes, func(o placement.Lane) bool { return o.Loop == l.Loop && o.Rack == f.At.Rack && o.Level == f.At.Level })
			if !f.Here && !holds && len(f.Broken) == 0 {
				move.To = f.At
				return move, l
			}
		}
	}
	require.Fail(t, "no loop of the plant lies in two places with room elsewhere")
	return move, lane
}

// TestEngineerMovesPart: of a loop in several places what is grabbed is moved, or all.
func TestEngineerMovesPart(t *testing.T) {
	t.Parallel()
	in, plan := madeUp()
	move, l := split(t, in, plan)
	part, rack, level := string(move.Loop.Part), string(l.Rack), l.Level
	tb := open(t, workshop(t), 1440, 2400)
	tb.visit("/cells/" + string(move.Loop.Cell) + "?plan=1")
	tb.known("Kim")
	there := func() int {
		return eval[int](tb, fmt.Sprintf(`document.querySelectorAll('.lane.used[data-key^="%s\u001f"]').length`, part))
	}
	was := there()
	tb.press(lane(rack, level, l.Lane))
	tb.wait(`document.querySelector(".hand") && document.querySelector("#places .place")`)
	assert.Contains(t, tb.text(".hand"), fmt.Sprintf("on %s/%d", rack, level))
	assert.Zero(t, eval[int](tb, `document.querySelectorAll("#do-swap").length`), "which of its places would be meant is not known")
	tb.accessible()
	tb.screenshot("cell-part-chosen")
	tb.press(fmt.Sprintf(`.shelf[data-rack=%q][data-level="%d"] .fit.good`, move.To.Rack, move.To.Level))
	tb.wait(`document.querySelector("#part-told")?.innerText.includes("of part")`)
	assert.Regexp(t, fmt.Sprintf(`^\d+ containers? of part %s moved to %s/%d`, part, move.To.Rack, move.To.Level), tb.text("#part-told"))
	assert.Zero(t, tb.on(part, rack, level))
	assert.Positive(t, tb.on(part, string(move.To.Rack), move.To.Level))
	assert.Positive(t, there()-tb.on(part, string(move.To.Rack), move.To.Level), "the rest stays (%d lanes before)", was)
	tb.clean()
}

// TestEngineerDrags: a loop is taken to another level with the mouse; where it does not fit
// the page asks.
func TestEngineerDrags(t *testing.T) {
	t.Parallel()
	tb := open(t, workshop(t), 1440, 2400)
	tb.visit("/cells/HORN?plan=1")
	tb.known("Kim")
	tb.drag(lane("HORN-01", 4, 1), `.shelf[data-rack="HORN-03"][data-level="4"]`)
	tb.told("Part 00110 moved to HORN-03/4.")
	assert.Equal(t, 1, tb.on("00110", "HORN-03", 4))
	assert.Zero(t, eval[int](tb, `document.querySelectorAll(".fit, .ghost, .panel").length`), "nothing stays behind")

	// A press on what is free of a level where the chosen loop fits does the same.
	tb.press("#undo")
	tb.told("The last change is taken back.")
	tb.press(lane("HORN-01", 4, 1))
	tb.wait(`document.querySelector('.shelf.fits[data-rack="HORN-03"][data-level="4"] .fit')`)
	tb.press(`.shelf[data-rack="HORN-03"][data-level="4"] :is(.lane.free, .rest)`)
	tb.told("Part 00110 moved to HORN-03/4.")
	assert.Equal(t, 1, tb.on("00110", "HORN-03", 4))

	tb.drag(lane("HORN-03", 4, 1), `.shelf[data-rack="HORN-01"][data-level="3"]`)
	tb.wait(`document.querySelector("dialog[open]")`)
	assert.Contains(t, tb.text("dialog"), "It does not fit there")
	tb.keyboard(kb.Enter)
	tb.wait(`!document.querySelector("dialog")`)
	assert.Contains(t, tb.text("#bar-told"), "1 change", "nothing was moved")
	tb.clean()
}

// tabTo presses Tab until something has the focus that is named so.
func (tb *tab) tabTo(name string) {
	tb.t.Helper()
	for range 400 {
		if tb.keyboard(kb.Tab); strings.HasPrefix(tb.focused(), name) {
			return
		}
	}
	require.Fail(tb.t, "Tab never comes to "+name)
}

// TestEngineerByKeyboard: everything without a mouse.
func TestEngineerByKeyboard(t *testing.T) {
	t.Parallel()
	tb := open(t, workshop(t), 1280, 900)
	tb.visit("/")
	tb.tabTo("All 14 cells")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector("h1")?.innerText === "Cells"`)
	tb.tabTo("HORN")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector("h1")?.innerText === "Cell HORN" && document.querySelector(".fronts")`)
	tb.tabTo("00110 2/3, lane HORN-01/4-1")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector("#places .place")`)
	assert.Equal(t, "Part 00110", tb.focused(), "the focus goes to what was chosen")
	tb.keyboard(kb.Escape)
	assert.Contains(t, tb.focused(), "lane HORN-01/4-1", "and back")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector("#places .place")`)
	tb.tabTo("HORN-03/4")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector("dialog[open] #who-name")`)
	tb.keyboard("Kim" + kb.Enter)
	tb.told("Part 00110 moved to HORN-03/4.")
	assert.Contains(t, tb.focused(), "00110 2/3, lane HORN-03/4", "the focus follows the loop")
	tb.do(chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	tb.told("The last change is taken back.")
	tb.do(chromedp.KeyEvent("y", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	tb.told("The change is made again.")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector("#pin")`)
	tb.tabTo("Pin here")
	tb.keyboard(kb.Enter)
	tb.told("Part 00110 is pinned where it lies.")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector("#unpin")`)
	tb.tabTo("Close lane HORN-03/4")
	tb.keyboard(kb.Enter)
	tb.told("is closed.")
	assert.Contains(t, tb.text("#part-told"), "rule broken")
	assert.Contains(t, tb.focused(), "closed, pinned")
	tb.tabTo("Review and publish")
	tb.clean()
}

// TestEngineerChanges: container, interval and swap by their controls.
func TestEngineerChanges(t *testing.T) {
	t.Parallel()
	tb := open(t, workshop(t), 1280, 900)
	tb.visit("/cells/HORN?plan=1")
	tb.known("Kim")
	tb.press(lane("HORN-01", 4, 1))
	tb.wait(`document.querySelector("#do-swap")`)
	tb.choose("#swap-with", eval[string](tb, `[...document.querySelector("#swap-with").options].find((o) => o.text.startsWith("00111 ")).value`))
	tb.press("#do-swap button")
	tb.told("Parts 00110 and 00111 swapped.")
	tb.press(lane("HORN-01", 4, 2))
	tb.wait(`document.querySelector("#do-interval")`)
	assert.Equal(t, "Part 00110", tb.text("#panel-title"))
	eval[bool](tb, `document.querySelector("#interval-to").value = 30; document.querySelector("#do-interval button").click(); true`)
	tb.told("Part 00110 is refilled every 30")
	assert.Regexp(t, "Route [A-Z] comes to rack HORN-01 every 60 min", tb.text("#part-told"), "what rounds have to be planned anew is told")
	tb.press(lane("HORN-01", 4, 2))
	tb.wait(`document.querySelector("#do-container")`)
	tb.choose("#container-to", "CTN-32")
	tb.press("#do-container button")
	tb.told("Part 00110 is in container CTN-32.")
	tb.press(lane("HORN-01", 4, 2))
	tb.wait(`document.querySelector("details.why")`)
	tb.press("details.why summary")
	tb.wait(`document.querySelector("details.why li")`)
	tb.clean()
}

// TestTwoEngineers: nobody's edit is overwritten, and what touches something else is made
// all the same.
func TestTwoEngineers(t *testing.T) {
	t.Parallel()
	s := workshop(t)
	tb := open(t, s, 1280, 900)
	tb.visit("/cells/HORN?plan=1")
	tb.known("Kim")
	tb.press(lane("HORN-01", 4, 1))
	tb.wait(`document.querySelector("#pin")`)
	tb.press("#pin")
	tb.told("pinned")

	other := func(e placement.Edit) {
		d, err := s.Draft(t.Context(), 1)
		require.NoError(t, err)
		_, err = s.AddStep(t.Context(), 1, archive.NewStep{After: d.Version, Kind: archive.MakeStep, By: "Ola", Edits: []placement.Edit{e}})
		require.NoError(t, err)
	}
	loop := func(part string) demand.Key {
		_, plan := madeUp()
		for _, l := range plan.Loops {
			if l.Cell == "HORN" && string(l.Part) == part {
				return l.Key
			}
		}
		require.Fail(t, "no part "+part)
		return demand.Key{}
	}
	other(placement.PinLoop{Loop: loop("00111")})
	tb.press(lane("HORN-05", 4, 1))
	tb.wait(`document.querySelector("#pin")`)
	tb.press("#pin")
	tb.wait(`document.querySelector("dialog[open]")`)
	assert.Contains(t, tb.text("dialog"), "Ola: part 00111 pinned")
	tb.accessible()
	tb.screenshot("clash")
	tb.press(`dialog button[value="merge"]`)
	tb.told("Part 00117 is pinned where it lies.")
	assert.Contains(t, tb.text("#bar-told"), "3 changes")

	// Both touch the same loop: the second is left out and told.
	other(placement.UnpinLoop{Loop: loop("00110")})
	tb.press(lane("HORN-01", 4, 1))
	tb.wait(`document.querySelector("#unpin")`)
	tb.press("#unpin")
	tb.wait(`document.querySelector("dialog[open]")`)
	tb.press(`dialog button[value="merge"]`)
	tb.wait(`document.querySelector("dialog[open]")?.innerText.includes("Left out")`)
	assert.Contains(t, tb.text("dialog"), "Ola did: pin of part 00110 off")
	tb.keyboard(kb.Escape)
	tb.wait(`!document.querySelector("dialog")`)
	tb.mu.Lock()
	tb.troubles = nil // the browser notes each answer of 412
	tb.mu.Unlock()
	tb.clean()
}

// TestPublishedDraft: it can be looked at and not changed.
func TestPublishedDraft(t *testing.T) {
	t.Parallel()
	s := workshop(t)
	d, _, err := s.CreateDraft(t.Context(), archive.NewDraft{Plan: 1, Name: "done", By: "Kim"})
	require.NoError(t, err)
	in, plan := madeUp()
	_, _, err = s.Publish(t.Context(), archive.NewPublication{Plant: in.Plant.Name, Plan: 1, Draft: d.ID, By: "Kim", Edited: plan})
	require.NoError(t, err)
	tb := open(t, s, 1280, 900)
	tb.visit("/cells/HORN?draft=1")
	assert.Contains(t, tb.text("#bar-told"), "was published as plan 2")
	tb.press(lane("HORN-01", 4, 1))
	tb.wait(`document.querySelector("#panel-title")`)
	assert.Zero(t, eval[int](tb, `document.querySelectorAll("#pin, #do-swap, #undo").length`))
	tb.clean()
}
