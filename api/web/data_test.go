package web_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/apitest"
	"lanewright/api/runner"
	"lanewright/planner"
)

// german is a plant's own table: headings in German, semicolons, decimal
// commas, and one heading, "Menge", that may mean two things.
const german = "../../testdata/sheets/habits/10-one-question.csv"

// hand gives files to the page as its button does.
func (tb *tab) hand(files ...string) {
	tb.t.Helper()
	for i, f := range files {
		var err error
		files[i], err = filepath.Abs(f)
		require.NoError(tb.t, err)
	}
	tb.do(chromedp.SetUploadFiles(chromedp.CSS("#files"), files, chromedp.NodeReady))
}

// fileOf writes a file with a text.
func fileOf(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

const read = `!!document.querySelector("#ledger, .note.bad") && !document.querySelector("progress")`

// TestDayOfData: from an empty program to a plan, with a plant's own odd table:
// a question, a revision, a second file with a wrong row and changes.
func TestDayOfData(t *testing.T) {
	odd, err := os.ReadFile(german)
	require.NoError(t, err)
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			s := apitest.NewStore()
			tb := open(t, s, w.width, w.height)
			tb.visit("/data")
			assert.Contains(t, tb.text("#content"), "No plant yet")
			tb.hand(german)
			tb.wait(read)
			assert.Contains(t, tb.text("#questions"), "What is “Menge” in sheet 10-one-question?")
			assert.Contains(t, tb.text("#questions"), "It has: 8 · 250 · 40")
			assert.True(t, eval[bool](tb, `document.querySelector("#accept").disabled`))
			assert.Contains(t, tb.text("#take"), "Something is still asked")
			tb.screenshot("data-question-" + w.name)
			tb.clean()
			tb.accessible()
			tb.press("#ask-0-9-0")
			tb.wait(`!document.querySelector("#questions") && ` + read)
			assert.Equal(t, "Standard pack", eval[string](tb, `document.querySelector("#means-0-9").value`))
			assert.Equal(t, "comma", eval[string](tb, `document.querySelector("#decimal").value`))
			meaning := tb.text("#meaning")
			for _, want := range []string{"read as Flat table", "Sachnummer", "a known name", "The first 10 rows as understood", "00123", "400 mm", "30.5", "1.25 kg", "somebody said so"} {
				assert.Contains(t, meaning, want)
			}
			assert.Contains(t, tb.text("#ledger"), "Flat table")
			assert.Contains(t, tb.text("#changes"), "The plant's first revision")
			assert.Contains(t, tb.text("#take"), "No errors")
			assert.NotContains(t, tb.text("#trouble"), "columns.unit-ignored", "per hour is no unit, whoever says what it means")
			tb.clean()
			tb.accessible()
			tb.screenshot("data-read-" + w.name)
			tb.do(chromedp.SetValue(chromedp.CSS("#name"), "Odd works"))
			eval[bool](tb, `document.querySelector("#name").dispatchEvent(new Event("input"))`)
			tb.press("#accept")
			tb.wait(`document.querySelector("#done")?.innerText === "Stored as revision 1 of Odd works"`)
			assert.Equal(t, "done", eval[string](tb, `document.activeElement.id`))
			tb.accessible()

			tb.visit("/data?plant=Odd+works")
			assert.Contains(t, tb.text("#revisions"), "Revision 1")
			assert.Contains(t, tb.text("#mappings"), "10-one-question")
			wrong := strings.NewReplacer("300;150;8;1,25", "300;150;9;1,25", "A1;10;290;", "A1;10;viele;").Replace(string(odd))
			tb.hand(fileOf(t, "next.csv", wrong))
			tb.wait(read)
			assert.Contains(t, tb.text("#meaning"), "what was answered for an earlier file")
			assert.Contains(t, tb.text("#trouble"), "A value can not be read")
			tb.press(`[id="go-rows.bad-value"]`)
			tb.wait(`document.querySelector(".cells .here")?.innerText === "viele"`)
			assert.Contains(t, tb.text("#place"), "next.csv, next!E3")
			assert.Contains(t, tb.text(".cells"), "Verbrauch pro Stunde", "the headings stand above")
			assert.Equal(t, "H3", eval[string](tb, `document.activeElement.tagName`))
			changes := tb.text("#changes")
			for _, want := range []string{"Against revision 1", "Standard pack", "8", "9", "removed"} {
				assert.Contains(t, changes, want)
			}
			assert.Contains(t, tb.text("#take"), "1 row would be left out")
			tb.clean()
			tb.accessible()
			tb.screenshot("data-wrong-" + w.name)
			tb.press("#accept")
			tb.wait(`!!document.querySelector("dialog[open]")`)
			assert.Contains(t, tb.text("dialog"), "1 row is not stored")
			tb.accessible()
			tb.keyboard(kb.Enter)
			tb.wait(`document.querySelector("#done")?.innerText.includes("revision 2")`)
			tb.screenshot("data-done-" + w.name)

			ctx, stop := context.WithCancel(context.Background())
			worked := make(chan error, 1)
			plan := func(context.Context, planner.Input, planner.Settings, planner.Options) (*planner.Plan, error) {
				return apitest.Plan(), nil
			}
			go func() { worked <- runner.New(s, runner.Options{Plan: plan, Every: 10 * time.Millisecond}).Work(ctx) }()
			tb.press("#at button.main")
			tb.wait(`location.pathname === "/" && document.querySelector("main .sub")?.innerText.startsWith("Plan 1 of revision 2")`)
			stop()
			require.NoError(t, <-worked)

			tb.visit("/data?plant=Odd+works")
			tb.wait(`document.querySelector("#revisions tbody")?.innerText.includes("Parts: 1 removed, 1 changed")`)
			assert.Contains(t, tb.text("#revisions tbody tr"), "plan 1")
			tb.screenshot("data-list-" + w.name)
			tb.press("#mappings tbody button:last-child")
			tb.wait(`!!document.querySelector("dialog[open]")`)
			tb.keyboard(kb.Enter)
			tb.wait(`document.querySelector("#mappings").innerText.includes("Nothing is remembered")`)
			tb.clean()
			tb.accessible()
			tb.visit("/data/revisions/2?plant=Odd+works")
			tb.wait(`document.querySelector("#changes")?.innerText.includes("Standard pack")`)
			assert.Contains(t, tb.text("#findings"), "rows.bad-value")
			tb.clean()
			tb.accessible()
			tb.screenshot("data-revision-" + w.name)
		})
	}
}

// TestRefusedFiles: why nothing was read is said in words, with what to do.
func TestRefusedFiles(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 390, 844)
	old := string(bytes.Repeat([]byte{0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1}, 80))
	for name, c := range map[string]struct{ content, says string }{
		"plant.xls":  {old, "save it as"},
		"plant.xlsx": {"PK\x03\x04 not all of it", "Fetch the file again"},
		"big.csv":    {strings.Repeat("Part,Cell\n", 33<<20/10), "32 MiB at most"},
	} {
		tb.visit("/data")
		tb.hand(fileOf(t, name, c.content))
		tb.wait(read)
		assert.Contains(t, tb.text("#content"), c.says, name)
		assert.Empty(t, eval[string](tb, `document.querySelector("#accept")?.id ?? ""`))
		tb.clean()
		tb.accessible()
		tb.screenshot("data-refused-" + strings.ReplaceAll(name, ".", "-"))
	}
}

// TestOldEncoding: a text that is not UTF-8 is shown in each encoding; one press
// chooses.
func TestOldEncoding(t *testing.T) {
	t.Parallel()
	odd, err := os.ReadFile(german)
	require.NoError(t, err)
	old := strings.NewReplacer("ß", "\xdf", "ä", "\xe4", "ö", "\xf6", "Menge", "Packmenge").Replace(string(odd))
	tb := open(t, apitest.NewStore(), 1280, 900)
	tb.visit("/data")
	tb.hand(fileOf(t, "alt.csv", old))
	tb.wait(`!!document.querySelector("#encoding")`)
	assert.Contains(t, tb.text("#encoding"), "Behälter")
	tb.accessible()
	tb.press("#in-windows-1252")
	tb.wait(read)
	assert.Contains(t, tb.text("#meaning"), "Außenlänge mm")
	assert.Equal(t, "windows-1252", eval[string](tb, `document.querySelector("#encoding-is").value`))
	tb.clean()
}

// block lets every request of the page fail, as a cut line does, or none.
func (tb *tab) block(cut bool) {
	tb.t.Helper()
	tb.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, network.Enable, network.EnableParams{}); err != nil {
			return err
		}
		rules := []*network.Conditions{}
		if cut {
			rules = append(rules, &network.Conditions{Offline: true, DownloadThroughput: -1, UploadThroughput: -1})
		}
		_, err := cdp.Call(ctx, t, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: rules})
		return err
	}))
}

// TestConnectionFails: what was dropped and answered survives a network that
// fails, before reading and before storing, and nothing is stored twice.
func TestConnectionFails(t *testing.T) {
	t.Parallel()
	s := apitest.NewStore()
	tb := open(t, s, 1280, 900)
	tb.visit("/data")
	tb.hand(german)
	tb.wait(read)
	tb.block(true)
	tb.press("#ask-0-9-0")
	tb.wait(`document.querySelector("#at [role=alert]")?.innerText.includes("The connection failed")`)
	assert.Contains(t, tb.text("#at"), "nothing is lost")
	tb.accessible()
	tb.block(false)
	tb.press("#at [role=alert] button")
	tb.wait(`!document.querySelector("#questions") && ` + read)
	tb.block(true)
	tb.press("#accept")
	tb.wait(`!!document.querySelector("#at [role=alert]")`)
	tb.block(false)
	tb.press("#at [role=alert] button")
	tb.wait(`!!document.querySelector("#done")`)
	list, err := s.Revisions(t.Context(), "10-one-question", 0, 10)
	require.NoError(t, err)
	assert.Len(t, list, 1)
}

// TestDataByKeys: files are chosen, a question answered, a finding looked at and
// the facts accepted without a pointer.
func TestDataByKeys(t *testing.T) {
	t.Parallel()
	odd, err := os.ReadFile(german)
	require.NoError(t, err)
	tb := open(t, apitest.NewStore(), 1280, 900)
	tb.visit("/data")
	to := func(want string) {
		for range 80 {
			if tb.keyboard(kb.Tab); tb.focused() == want {
				return
			}
		}
		require.Fail(t, "the keyboard does not get to "+want)
	}
	to("Choose files")
	tb.hand(fileOf(t, "odd.csv", strings.Replace(string(odd), "A1;10;290;", "A1;10;viele;", 1)))
	tb.wait(read)
	to("Standard pack")
	tb.keyboard(kb.Enter)
	tb.wait(`!document.querySelector("#questions") && ` + read)
	to("odd!E3")
	tb.keyboard(kb.Enter)
	tb.wait(`document.querySelector(".cells .here")?.innerText === "viele"`)
	to("Accept without the 1 row that is wrong")
	tb.keyboard(kb.Enter)
	tb.wait(`!!document.querySelector("dialog[open]")`)
	tb.keyboard(kb.Enter)
	tb.wait(`!!document.querySelector("#done")`)
}

// TestMeaningChanged: a person says what a heading means and in which unit, and
// where the headings stand; the rows follow.
func TestMeaningChanged(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 1280, 900)
	tb.visit("/data")
	tb.hand(fileOf(t, "things.csv", "Box list\nBox code,A,B,C\nK1,40,30,20\nK2,60,40,22\n"))
	tb.wait(read)
	tb.choose("#kind-0", "Containers")
	tb.wait(`document.querySelector("#kind-0")?.value === "Containers" && ` + read)
	eval[bool](tb, `((e) => { e.value = 2; return e.dispatchEvent(new Event("change")) })(document.querySelector("#row-0"))`)
	tb.wait(`!!document.querySelector("#means-0-3") && ` + read)
	for i, column := range []string{"Container", "Length", "Width", "Height"} {
		tb.choose(fmt.Sprintf("#means-0-%d", i), column)
		tb.wait(fmt.Sprintf(`document.querySelector("#means-0-%d")?.value === %q && `, i, column) + read)
	}
	for i := 1; i < 4; i++ {
		tb.choose(fmt.Sprintf("#unit-0-%d", i), "cm")
		tb.wait(fmt.Sprintf(`document.querySelector("#unit-0-%d")?.value === "cm" && `, i) + read)
	}
	assert.Contains(t, tb.text(".preview"), "600 mm")
	assert.Contains(t, tb.text(".preview"), "220 mm")
	tb.choose("#means-0-3", "Width")
	tb.wait(`document.querySelector("#means-0-2")?.value === "" && ` + read)
	assert.Contains(t, tb.text("#meaning"), "Still lacking: Height")
	tb.clean()
	tb.accessible()
}

// TestSeveralFiles: CSV files chosen together are one plant.
func TestSeveralFiles(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/sheets/lantern/*.csv")
	require.NoError(t, err)
	tb := open(t, apitest.NewStore(), 390, 844)
	tb.visit("/data")
	tb.hand(files...)
	tb.wait(read)
	assert.Equal(t, len(files), eval[int](tb, `document.querySelectorAll("#meaning details").length`))
	assert.Contains(t, tb.text("#take"), "No errors")
	tb.press("#table-0 summary")
	tb.wait(`!!document.querySelector("#table-0 table")`)
	tb.clean()
	tb.accessible()
}

// TestAnnotatedCopy: a workbook is had back with its findings in it.
func TestAnnotatedCopy(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 1280, 900)
	tb.visit("/data")
	tb.hand("../../testdata/plants/skerrow/skerrow.xlsx")
	tb.wait(read)
	eval[bool](tb, `(window.saved = [], URL.createObjectURL = (b) => { saved.push(b.type, b.size > 1000); return "#"; }, HTMLAnchorElement.prototype.click = function () { saved.push(this.download); }, true)`)
	tb.press("#annotated")
	tb.wait(`saved.length === 3`)
	assert.Equal(t, []any{"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", true, "skerrow — findings.xlsx"}, eval[[]any](tb, `saved`))
	tb.screenshot("data-workbook")
	tb.clean()
}

// TestAnnotatedCopyOfOtherFiles: a text comes back as a workbook of its rows,
// and the page says that it is a copy.
func TestAnnotatedCopyOfOtherFiles(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.NewStore(), 390, 844)
	tb.visit("/data")
	tb.hand(fileOf(t, "boxes.csv", "Container,Length (mm),Width (mm),Height (mm)\n007,400,300,tall\n"))
	tb.wait(read)
	assert.Contains(t, tb.text("#trouble"), "Your files stay as they are.")
	eval[bool](tb, `(window.saved = [], URL.createObjectURL = (b) => { saved.push(b.type, b.size > 1000); return "#"; }, HTMLAnchorElement.prototype.click = function () { saved.push(this.download); }, true)`)
	tb.press("#annotated")
	tb.wait(`saved.length === 3`)
	assert.Equal(t, []any{"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", true, "boxes — findings.xlsx"}, eval[[]any](tb, `saved`))
	tb.screenshot("data-copy")
	tb.clean()
	tb.accessible()
}

// TestLargeFile: 31 MiB are sent and read while the page answers.
func TestLargeFile(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	b.WriteString("Container,Description,Length (mm),Width (mm),Height (mm)\n")
	filler := strings.Repeat("made of grey plastic ", 90)
	for i := 0; b.Len() < 31<<20; i++ {
		fmt.Fprintf(&b, "C%d,%s,400,300,tall\n", i, filler)
	}
	tb := open(t, apitest.NewStore(), 1280, 900)
	tb.visit("/data")
	eval[bool](tb, `(window.longest = 0, new PerformanceObserver((l) => l.getEntries().forEach((e) => { longest = Math.max(longest, e.duration); })).observe({ entryTypes: ["longtask"] }), true)`)
	tb.hand(fileOf(t, "many.csv", b.String()))
	tb.wait(read)
	assert.Contains(t, tb.text("#trouble"), "A value can not be read")
	assert.Less(t, eval[float64](tb, `longest`), 1000.0, "ms without an answer")
	tb.press(`[id="go-rows.bad-value"]`)
	tb.wait(`document.querySelector(".cells .here")?.innerText === "tall"`)
	tb.clean()
}

// TestMeasuresAsked: a heading of measures that does not say their order is asked
// about; once answered, the preview shows each of the three.
func TestMeasuresAsked(t *testing.T) {
	t.Parallel()
	for _, width := range []int64{1280, 390} {
		tb := open(t, apitest.NewStore(), width, 844)
		tb.visit("/data")
		tb.hand(fileOf(t, "lamps.csv", "Part,Cell,Station,Pieces per hour,Container,Dimensions (mm),Standard pack\nL-7,HORN,10,30,BOX,600x400x280,40\nL-8,HORN,10,12,TRAY,400 x 300,25\n"))
		tb.wait(read)
		tb.screenshot(fmt.Sprintf("data-measures-asked-%d", width))
		tb.choose("#means-0-5", "Length x width x height")
		tb.wait(`document.querySelector("#means-0-5")?.value === "Length x width x height" && ` + read)
		assert.Contains(t, tb.text(".preview"), "600 mm x 400 mm x 280 mm")
		assert.Contains(t, eval[string](tb, `document.querySelector("#unit-0-5")?.textContent ?? ""`), "in")
		assert.Contains(t, tb.text("#content"), "Write the three with an x between")
		tb.screenshot(fmt.Sprintf("data-measures-answered-%d", width))
		tb.clean()
		tb.accessible()
	}
}
