package web_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
)

func focus(selector string) chromedp.Action[chromedp.Void] {
	return chromedp.Focus(chromedp.CSS(selector))
}

// made shows a table of so many rows with the columns Code, Lanes and Note: R1,
// R2, ... with lanes that run backwards by sevens, and a note on every tenth.
func (tb *tab) made(rows int) {
	tb.t.Helper()
	tb.visit("/docs")
	ms, err := chromedp.Run(tb.ctx, chromedp.Evaluate[float64](fmt.Sprintf(`(async () => {
		const { table } = await import("/assets/table.js");
		const { show } = await import("/assets/states.js");
		const { el } = await import("/assets/element.js");
		const rows = Array.from({ length: %d }, (_, i) => ({ code: "R" + (i + 1), lanes: (7 * (%d - i)) %% 1009 + 0.5, note: i %% 10 ? "" : "=odd\tnote" }));
		const start = performance.now();
		show(el("h1", {}, "A table"), table("Made", [
			{ head: "Code", value: (r) => r.code },
			{ head: "Lanes", n: true, unit: "mm", decimals: 1, value: (r) => r.lanes },
			{ head: "Note", value: (r) => r.note },
		], rows));
		document.body.offsetHeight;
		return performance.now() - start;
	})()`, rows, rows), chromedp.EvalAwaitPromise))
	require.NoError(tb.t, err)
	tb.t.Logf("%d rows stood after %.0f ms", rows, ms)
}

// column reads the first few shown values of a column.
func (tb *tab) column(n, few int) []string {
	tb.t.Helper()
	return eval[[]string](tb, fmt.Sprintf(`[...document.querySelectorAll("tbody tr")].slice(0, %d).map((r) => r.cells[%d].innerText.replace("\u00a0", " "))`, few, n))
}

func (tb *tab) rows() int {
	tb.t.Helper()
	return eval[int](tb, `document.querySelectorAll("tbody tr").length`)
}

func TestTableSorts(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 1280, 800)
	tb.made(12)
	sorts := func(n int) string {
		return eval[string](tb, fmt.Sprintf(`document.querySelectorAll("thead th")[%d].getAttribute("aria-sort")`, n))
	}
	assert.Equal(t, "none", sorts(0))
	tb.do(focus("thead button"))
	tb.keyboard(kb.Enter)
	assert.Equal(t, "ascending", sorts(0))
	assert.Equal(t, "Code", tb.focused())
	assert.Equal(t, []string{"R1", "R2", "R3"}, tb.column(0, 3), "numbers within a code count as numbers")
	tb.keyboard(kb.Enter)
	assert.Equal(t, "descending", sorts(0))
	assert.Equal(t, []string{"R12", "R11", "R10"}, tb.column(0, 3))
	tb.press("thead th:nth-child(2) button")
	assert.Equal(t, []string{"none", "ascending"}, []string{sorts(0), sorts(1)})
	assert.Equal(t, []string{"7.5 mm", "14.5 mm"}, tb.column(1, 2))
	tb.press("thead th:nth-child(3) button")
	tb.press("thead th:nth-child(3) button")
	assert.Equal(t, []string{"R1", "R11", "R2"}, tb.column(0, 3), "what has no value comes last, up or down")
	tb.press("thead th:nth-child(3) button")
	assert.Equal(t, "none", sorts(2))
	assert.Equal(t, []string{"R1", "R2", "R3"}, tb.column(0, 3), "as it came")
	tb.accessible()
	tb.clean()
}

func TestTableFilters(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 1280, 800)
	tb.made(5000)
	tb.keyboard("/")
	assert.Equal(t, "Filter rows of Made", tb.focused())
	eval[bool](tb, `document.activeElement.value = "", true`) // a typed key is two events here, one of them a letter
	tb.keyboard("ODD r49")
	assert.Equal(t, "11 of 5,000 rows", tb.text(".grid-tools [role=status]"), "R491 and R4901, R4911, ...")
	assert.Equal(t, 11, tb.rows())
	tb.keyboard("?")
	assert.Equal(t, "No row has all these words.", tb.text(".more-row"), "a key is a letter where somebody types")
	tb.accessible()
}

// TestTableOfThousands: rows are drawn as they are looked at; sorted and
// filtered are all of them; on paper stand all of them.
func TestTableOfThousands(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 1280, 800)
	tb.made(5000)
	assert.Less(t, tb.rows(), 500)
	assert.Contains(t, tb.text(".more-row"), "of 5,000 rows drawn")
	before := tb.rows()
	eval[bool](tb, `document.querySelector(".frame").scrollTo(0, 1e6), true`)
	tb.wait(fmt.Sprintf(`document.querySelectorAll("tbody tr").length > %d`, before))
	top := eval[float64](tb, `document.querySelector("thead th").getBoundingClientRect().top - document.querySelector(".frame").getBoundingClientRect().top`)
	assert.InDelta(t, 1, top, 1.5, "the head stays in view")
	tb.press("thead th:nth-child(2) button")
	assert.Equal(t, []string{"0.5 mm"}, tb.column(1, 1))
	eval[bool](tb, `dispatchEvent(new Event("beforeprint"))`)
	assert.Equal(t, 5000, tb.rows())
	tb.clean()
}

// TestTableCopies: the clipboard holds what is found, in its order, with its
// heads, numbers bare and texts that look like formulas made harmless.
func TestTableCopies(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 1280, 800)
	tb.made(2000)
	_, err := chromedp.CallBrowser(tb.ctx, cdpbrowser.SetPermission, cdpbrowser.SetPermissionParams{
		Permission: &cdpbrowser.PermissionDescriptor{Name: "clipboard-read"}, Setting: cdpbrowser.PermissionSettingGranted, Origin: tb.url,
	})
	require.NoError(t, err)
	tb.do(focus(".grid-tools input"))
	tb.keyboard("1991")
	tb.press(".grid-tools button")
	tb.wait(`document.querySelector("#said")?.innerText.includes("1 row with its headings is on the clipboard")`)
	got, err := chromedp.Run(tb.ctx, chromedp.Evaluate[string](`navigator.clipboard.readText()`, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	assert.Equal(t, "Code\tLanes (mm)\tNote\nR1991\t70.5\t'=odd note", strings.ReplaceAll(got, "\r", ""))
	tb.clean()
}

// TestTableCopiesWithoutClipboard: where a page came over plain HTTP the browser
// has no clipboard to write to; what was copied can be pasted all the same.
func TestTableCopiesWithoutClipboard(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 1280, 800)
	tb.made(12)
	eval[bool](tb, `Object.defineProperty(navigator, "clipboard", { value: undefined }), true`)
	tb.press(".grid-tools button")
	tb.wait(`document.querySelector("#said")?.innerText.includes("12 rows with their headings are on the clipboard")`)
	tb.do(focus(".grid-tools input"))
	tb.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: "keyDown", Key: "v", Commands: []string{"paste"}})
		return err
	}))
	assert.Contains(t, eval[string](tb, `document.querySelector(".grid-tools input").value`), "Lanes (mm)")
}

// TestTableCards: on a phone a row is a card, ordered by a select.
func TestTableCards(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 390, 844)
	tb.made(12)
	tb.choose(".grid-tools select", "-0")
	assert.Equal(t, []string{"R12"}, tb.column(0, 1))
	assert.Equal(t, "none", eval[string](tb, `getComputedStyle(document.querySelector("thead")).display`))
	assert.Equal(t, `"Lanes: "`, eval[string](tb, `getComputedStyle(document.querySelector("tbody td"), "::before").content`))
	tb.accessible()
	tb.clean()
}
