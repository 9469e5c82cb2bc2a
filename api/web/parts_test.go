package web_test

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/planner/archive"
)

// TestDialogAnswers: the answer is the value of the button, "" for Escape.
func TestDialogAnswers(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 390, 844)
	tb.visit("/docs")
	_, err := chromedp.Run(tb.ctx, chromedp.Evaluate[bool](`import("/assets/dialog.js").then((m) => {
		window.answers = [];
		window.asked = () => m.dialog("Sure?", "It is a test.", [["yes", "Yes", "main"], ["", "No", ""]]).then((a) => answers.push(a));
		return true;
	})`, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	for _, answer := range []func(){
		func() { tb.keyboard(kb.Enter) },
		func() { tb.keyboard(kb.Escape) },
		func() { tb.press("dialog button:nth-child(2)") },
	} {
		eval[bool](tb, `asked(), true`)
		tb.accessible()
		answer()
		tb.wait(`!document.querySelector("dialog")`)
	}
	assert.Equal(t, []string{"yes", "", ""}, eval[[]string](tb, `answers`))
}

// TestSaid: a message is read out; what went wrong or can be undone stays until
// it is closed.
func TestSaid(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 390, 844)
	tb.visit("/docs")
	_, err := chromedp.Run(tb.ctx, chromedp.Evaluate[bool](`import("/assets/say.js").then((m) => { m.say("Moved.", { action: ["Undo", () => { window.undone = true; }] }); return true; })`, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	assert.Equal(t, "Moved. Undo Close", tb.text("[role=status]#said"))
	tb.accessible()
	tb.screenshot("said")
	tb.press("#said button")
	assert.True(t, eval[bool](tb, `window.undone`))
	assert.Empty(t, tb.text("#said"))
}

// TestPartFails: a part of a page that can not be had says so and is asked for
// again; the rest of the page stands.
func TestPartFails(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	tb := open(t, s, 1280, 800)
	s.SetDown(archive.ErrUnavailable)
	tb.visit("/docs")
	_, err := chromedp.Run(tb.ctx, chromedp.Evaluate[bool](`Promise.all([import("/assets/states.js"), import("/assets/ask.js"), import("/assets/element.js")]).then(([states, ask, element]) => {
		states.show(element.el("h1", {}, "Parts"), states.part(async () => element.el("p", { id: "part" }, (await ask.ask("/plants")).items[0].plant)));
		return true;
	})`, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	tb.wait(`document.querySelector("[role=alert]")?.innerText.includes("try again in a little while")`)
	tb.accessible()
	s.SetDown(nil)
	tb.press("[role=alert] button")
	tb.wait(`document.querySelector("#part")?.innerText === "` + apitest.Name + `"`)
}
