package web_test

import (
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
)

var (
	le105 = demand.Key{Part: "LE-105", Cell: "LENS", Station: "10"}
	le106 = demand.Key{Part: "LE-106", Cell: "LENS", Station: "10"}
	te135 = demand.Key{Part: "TE-135", Cell: "TEST/2", Station: "10"}
)

// begun begins a draft of plan 1 and makes edits, each as a step.
func begun(t *testing.T, s *apitest.Store, name, by string, edits ...placement.Edit) archive.Draft {
	t.Helper()
	d, _, err := s.CreateDraft(t.Context(), archive.NewDraft{Plan: 1, Name: name, By: by})
	require.NoError(t, err)
	for _, e := range edits {
		d, err = s.AddStep(t.Context(), d.ID, archive.NewStep{After: d.Version, Kind: archive.MakeStep, By: by, Edits: []placement.Edit{e}})
		require.NoError(t, err)
	}
	return d
}

// twoDrafts begins Ada's and Ben's drafts of plan 1, which touch the same loop, publishes
// plan 1, then Ada's.
func twoDrafts(t *testing.T, s *apitest.Store) (ben archive.Draft) {
	t.Helper()
	move := placement.MoveLoop{Loop: le105, To: placement.Spot{Rack: "R2", Level: 3}}
	ada := begun(t, s, "Lens trays to rack R2", "Ada", move)
	ben = begun(t, s, "Quieter test bench", "Ben", placement.PinLoop{Loop: te135}, placement.SwapLoops{A: le105, B: le106})
	_, _, err := s.Publish(t.Context(), archive.NewPublication{Plant: apitest.Name, Plan: 1, By: "Cleo", Note: "the first"})
	require.NoError(t, err)
	plan, err := s.LoadPlan(t.Context(), 1)
	require.NoError(t, err)
	edited := planner.Edited(apitest.Facts(), plan, ada.Edits())
	_, _, err = s.Publish(t.Context(), archive.NewPublication{
		Plant: apitest.Name, Edited: edited, Draft: ada.ID, Version: ada.Version, Before: 1, By: "Ada", Note: "trays come to the right",
		Changed: planner.ChangeOnFloor(plan, edited),
	})
	require.NoError(t, err)
	return ben
}

// named makes the browser know who sits before it.
func (tb *tab) named(who string) {
	tb.t.Helper()
	tb.visit("/drafts")
	eval[bool](tb, fmt.Sprintf(`localStorage.setItem("lanewright.who", %q); true`, who))
}

// TestDraftsBegin: where there is none the page says how one begins; one is begun, and
// thrown away after a question.
func TestDraftsBegin(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			s := apitest.Filled(t)
			tb := open(t, s, w.width, w.height)
			tb.visit("/drafts")
			assert.Contains(t, tb.text("#open"), "No draft is open")
			assert.Contains(t, tb.text("#open"), "open a cell, move a loop")
			assert.Contains(t, tb.text("#history"), "Nothing was published yet")
			tb.clean()
			tb.accessible()
			tb.screenshot("drafts-none-" + w.name)
			eval[bool](tb, `[...document.querySelectorAll("#open button")].at(-1).click() ?? true`)
			tb.wait(`!!document.querySelector("dialog[open]")`)
			tb.keyboard("Room for the new lens")
			assert.Equal(t, "plan 1, the latest", tb.text("#draft-plan option"))
			eval[bool](tb, `document.querySelector("#draft-by").focus() ?? true`)
			tb.keyboard("Ada" + kb.Enter)
			tb.wait(`document.querySelector("h1")?.innerText === "Room for the new lens" && !!document.querySelector("#to-cell")`)
			assert.Contains(t, tb.text(".note"), "Nothing is changed yet")
			assert.Equal(t, "/drafts/1", eval[string](tb, `location.pathname`))
			tb.clean()
			tb.visit("/drafts")
			row := tb.text("#open tbody tr")
			for _, want := range []string{"Room for the new lens", "plan 1", "Ada"} {
				assert.Contains(t, row, want)
			}
			tb.press("#open tbody button")
			tb.wait(`document.querySelector("dialog[open]")?.innerText.includes("Nothing is in it")`)
			tb.press(`dialog button[value=""]`)
			tb.wait(`!document.querySelector("dialog")`)
			tb.press("#open tbody button")
			tb.wait(`!!document.querySelector("dialog[open]")`)
			tb.press("dialog button[value=throw]")
			tb.wait(`document.querySelector("#open")?.innerText.includes("No draft is open")`)
			_, err := s.Draft(t.Context(), 1)
			require.ErrorIs(t, err, archive.ErrNotFound)
			tb.clean()
		})
	}
}

// TestDraftReview: every change in words, what it breaks first, what comes of it; taken
// back from the end, and made again.
func TestDraftReview(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			s := apitest.Filled(t)
			begun(t, s, "Lens trays", "Ada", placement.MoveLoop{Loop: le105, To: placement.Spot{Rack: "R2", Level: 3}}, placement.ChangeInterval{Loop: te135, Interval: 1e9 * 3600}, placement.CloseLane{Lane: placement.Spot{Rack: "R1", Level: 2, Lane: 1}})
			tb := open(t, s, w.width, w.height)
			tb.named("Ben")
			tb.visit("/drafts/1")
			assert.Contains(t, tb.text("#broken"), "broken")
			assert.Less(t, eval[float64](tb, `document.querySelector("#broken").getBoundingClientRect().top`), eval[float64](tb, `document.querySelector("#edits").getBoundingClientRect().top`), "what is broken stands first")
			edits := tb.text("#edits")
			for _, want := range []string{"Move part LE-105 (station 10) from R1/2-1 to R2/3-", "every 60 min instead of 30", "Close lane R1/2-1", "Ada"} {
				assert.Contains(t, edits, want)
			}
			assert.Equal(t, "/cells/LENS?plan=1&draft=1", eval[string](tb, `document.querySelector("#edits a").getAttribute("href")`))
			effects := tb.text("#effects")
			for _, want := range []string{"LENS", "LE-105", "R1/2-1", "Containers without a lane"} {
				assert.Contains(t, effects, want)
			}
			tb.clean()
			tb.accessible()
			tb.screenshot("draft-" + w.name)

			tb.press("#edits li:last-child button")
			tb.wait(`document.querySelectorAll("#edits li").length === 2`)
			assert.Contains(t, tb.text("#edits"), "1 change was taken back")
			tb.press("#edits .tools button")
			tb.wait(`document.querySelectorAll("#edits li").length === 3`)
			tb.press("#edits li:nth-child(2) button")
			tb.wait(`document.querySelectorAll("#edits li").length === 1`)
			d, err := s.Draft(t.Context(), 1)
			require.NoError(t, err)
			assert.Len(t, d.Edits(), 1)
			assert.Equal(t, "Ben", d.Steps[len(d.Steps)-1].By)

			// Ada goes on meanwhile: Ben's undo takes nothing of hers away, and he is told.
			_, err = s.AddStep(t.Context(), 1, archive.NewStep{After: d.Version, Kind: archive.MakeStep, By: "Ada", Edits: []placement.Edit{placement.PinLoop{Loop: te135}}})
			require.NoError(t, err)
			tb.press("#edits li:last-child button")
			tb.wait(`document.querySelector("#said").innerText.includes("Ada changed the draft meanwhile")`)
			assert.Contains(t, tb.text("#edits"), "Pin part TE-135")
			d, err = s.Draft(t.Context(), 1)
			require.NoError(t, err)
			assert.Len(t, d.Edits(), 2, "nothing was taken back")
			tb.refused(412)
		})
	}
}

// refused checks that the console had a refusal of that status and nothing else.
func (tb *tab) refused(status int) {
	tb.t.Helper()
	tb.mu.Lock()
	for _, trouble := range tb.troubles {
		assert.Contains(tb.t, trouble, fmt.Sprint(status))
	}
	tb.troubles = nil
	tb.mu.Unlock()
}

// TestDraftMergeAndPublish: Ben's draft stands on a plan that Ada's took the place of. He
// sees the conflict with her change, keeps his on top, publishes; the rounds show it, and
// her other work is still there.
func TestDraftMergeAndPublish(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			s := apitest.Filled(t)
			ben := twoDrafts(t, s)
			tb := open(t, s, w.width, w.height)
			tb.named("Ben")
			tb.visit("/drafts")
			assert.Contains(t, tb.text("#open"), "plan 2 is published")
			assert.Contains(t, tb.text("#history"), "trays come to the right")
			tb.clean()
			tb.screenshot("drafts-" + w.name)

			tb.visit(fmt.Sprintf("/drafts/%d", ben.ID))
			assert.Contains(t, tb.text("#behind"), "Plan 2 was published meanwhile by Ada")
			tb.press("#behind a.button")
			tb.wait(`document.querySelector("#merge .outcome")?.innerText.includes("go over")`)
			merge := tb.text("#merge")
			for _, want := range []string{
				"Ada, plan 2: Move part LE-105", "1 change goes over as it is", "both touch part LE-105", "THIS DRAFT (BEN)", "Swap part LE-105 (station 10), R1/2-1, and part LE-106",
				"Part LE-105 lies at R2/3-", "1 of 2 changes go over. 1 is left out.",
			} {
				assert.Contains(t, strings.ToUpper(merge), strings.ToUpper(want))
			}
			tb.clean()
			tb.accessible()
			tb.screenshot("draft-merge-" + w.name)
			tb.press("#merge input[value=mine]")
			tb.wait(`document.querySelector("#merge .outcome").innerText.includes("2 of 2 changes go over")`)
			tb.press("#merge-go")
			tb.wait(`location.pathname === "/drafts/3" && !!document.querySelector("#edits li:nth-child(2)")`)
			d, err := s.Draft(t.Context(), 3)
			require.NoError(t, err)
			assert.Equal(t, int64(2), d.Plan)
			assert.Equal(t, ben.Edits(), d.Edits())
			assert.Contains(t, tb.text("#content"), "brought onto plan 2")

			tb.press("#publish")
			tb.wait(`!!document.querySelector("dialog.publish form")`)
			dialog := tb.text("dialog")
			for _, want := range []string{"On the floor", "containers", "of one person", "LENS, day 1", "For the handlers", "Stay:"} {
				assert.Contains(t, dialog, want)
			}
			assert.Equal(t, "/moves?draft=3&since=2", eval[string](tb, `document.querySelector("dialog a[target]").getAttribute("href")`))
			assert.LessOrEqual(t, eval[int](tb, `document.querySelector("dialog").scrollWidth - document.querySelector("dialog").clientWidth`), 0)
			tb.accessible()
			tb.screenshot("draft-publish-" + w.name)
			eval[bool](tb, `(document.querySelectorAll("dialog input[type=checkbox]").forEach((c) => c.click()), document.querySelector("#publish-note").focus(), true)`)
			tb.keyboard("the bench is quiet now")
			tb.press("dialog button[type=submit]")
			tb.wait(`document.querySelector("#published")?.innerText.includes("Published as plan 3")`)
			assert.Equal(t, "published", eval[string](tb, `document.activeElement.id`), "what was done is told at once")
			assert.Contains(t, tb.text("#published"), "the bench is quiet now")
			tb.clean()
			tb.screenshot("draft-published-" + w.name)
			list, err := s.Publications(t.Context(), apitest.Name, 0, 1)
			require.NoError(t, err)
			assert.Equal(t, "Ben", list[0].By)
			made, err := s.LoadPlan(t.Context(), 3)
			require.NoError(t, err)
			assert.Len(t, made.Held, 1, "the pin holds")

			tb.press(`#published a[href^="/rounds"]`)
			tb.wait(`location.pathname === "/rounds" && document.querySelector("#content")?.getAttribute("aria-busy") === "false"`)
			rounds, err := http.Get(tb.url + "/api/v1/rounds?day=2026-03-03&plant=" + url.QueryEscape(apitest.Name))
			require.NoError(t, err)
			defer rounds.Body.Close()
			body, err := io.ReadAll(rounds.Body)
			require.NoError(t, err)
			assert.Contains(t, string(body), `"plan":3`, "the rounds are of what was published")
		})
	}
}

// TestGoBack publishes an older plan again.
func TestGoBack(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	twoDrafts(t, s)
	tb := open(t, s, 1280, 900)
	tb.visit("/drafts")
	tb.press("#history tbody button")
	tb.wait(`!!document.querySelector("dialog form")`)
	assert.Contains(t, tb.text("dialog"), "Let the floor work to plan 1 again")
	eval[bool](tb, `document.querySelector("#publish-by").focus() ?? true`)
	tb.keyboard("Cleo" + kb.Enter)
	tb.wait(`document.querySelectorAll("#history tbody tr").length === 3`)
	tb.wait(`document.querySelector("#history tbody tr")?.innerText.includes("the floor works to it")`)
	assert.Contains(t, tb.text("#history tbody tr"), "plan 1")
	list, err := s.Publications(t.Context(), apitest.Name, 0, 1)
	require.NoError(t, err)
	assert.Equal(t, int64(1), list[0].Plan)
	assert.Equal(t, "Cleo", list[0].By)
	tb.clean()
}

// TestMovesPage: the list in its order.
func TestMovesPage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			s := apitest.Filled(t)
			twoDrafts(t, s)
			tb := open(t, s, w.width, w.height)
			tb.visit("/moves?draft=1&since=1")
			assert.Equal(t, "Move list", tb.text("h1"))
			assert.Contains(t, tb.text(".sub"), "From plan 1 to plan 2")
			row := tb.text("section tbody tr")
			for _, want := range []string{"LE-105", "R1/2-1", "R2/3-", "from lane to lane"} {
				assert.Contains(t, row, want)
			}
			tb.clean()
			tb.screenshot("moves-" + w.name)
			tb.visit("/moves?plan=2")
			assert.Contains(t, tb.text("#content"), "no list to work down")
		})
	}
}

// TestPublishByKeyboard goes from the list of drafts to a published plan with keys alone.
func TestPublishByKeyboard(t *testing.T) {
	t.Parallel()
	s := apitest.Filled(t)
	begun(t, s, "Pin it", "Ada", placement.PinLoop{Loop: te135})
	tb := open(t, s, 1280, 900)
	tb.visit("/drafts")
	to := func(name string) {
		t.Helper()
		for range 60 {
			if tb.focused() == name {
				return
			}
			tb.keyboard(kb.Tab)
		}
		t.Fatalf("no way to %q with Tab, it ends at %q", name, tb.focused())
	}
	to("Pin it")
	tb.keyboard(kb.Enter)
	tb.wait(`!!document.querySelector("#publish") && document.querySelector("h1").innerText === "Pin it"`)
	to("Publish…")
	tb.keyboard(kb.Enter)
	tb.wait(`!!document.querySelector("dialog form")`)
	tb.keyboard(kb.Tab)
	assert.Contains(t, tb.focused(), "I accept: Handler H1 has to begin to load for route A", "what is broken comes first and is accepted expressly")
	to("Your name")
	tb.keyboard("Ada")
	to("Publish")
	tb.keyboard(kb.Enter)
	assert.True(t, eval[bool](tb, `document.activeElement.type === "checkbox" && !!document.querySelector("dialog")`), "nothing is published before that")
	tb.keyboard(" ")
	to("Publish")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector("#published")?.innerText.includes("Published as plan 2")`)
	tb.clean()
}
