package web_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestBuildersRack: from the report's list of what to build to the page of a rack, its three
// drawings, what holds it, and every piece that it is cut and bolted from.
func TestBuildersRack(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, workshop(t), w.width, w.height)
			tb.visit("/report?plan=1")
			tb.press(`#to-build a[href^="/racks/HARB-N1"]`)
			tb.wait(`document.querySelector("h1")?.innerText === "Rack HARB-N1" && document.querySelector("#lanes table")`)
			drawn := func() bool { return eval[bool](tb, `document.querySelector("#views img").naturalWidth > 0`) }
			for _, view := range []string{"plan", "front", "side"} {
				tb.press("#view-" + view)
				tb.wait(`document.querySelector("#views img").complete`)
				assert.True(t, drawn(), view)
			}
			assert.Contains(t, eval[string](tb, `document.querySelector("#views img").alt`), "Cut along the lanes of rack HARB-N1")
			assert.Equal(t, "side", eval[string](tb, `new URLSearchParams(location.search).get("view")`), "the address keeps what is looked at")
			// Every piece of the API's list stands in the table of pieces, by its mark.
			rack := `fetch("/api/v1/plans/1/racks/HARB-N1").then((r) => r.json()).then((r) => r.build)`
			marks := awaited[[]string](tb, rack+`.then((b) => b.racks[0].members.map((m) => m.mark).sort())`)
			assert.Len(t, marks, eval[int](tb, `[...document.querySelectorAll("#made tbody tr")].reduce((n, r) => n + Number(r.cells[1].innerText), 0)`))
			assert.Equal(t, marks, eval[[]string](tb, `[...document.querySelectorAll("#made tbody tr")].flatMap((r) => r.cells[2].innerText.split(", ")).sort()`))
			// What is drawn as cut is what lies in the bars.
			assert.Equal(t, awaited[int](tb, rack+`.then((b) => b.cut_lists.flatMap((c) => c.patterns).reduce((n, p) => n + p.cuts.reduce((m, c) => m + c.count, 0), 0))`),
				eval[int](tb, `document.querySelectorAll(".cut-bar span:not(.rest)").length`))
			kind, _ := tb.paper("sheet")
			assert.Equal(t, "application/pdf", kind)
			assert.Contains(t, tb.text("#cautions"), "licensed engineer")
			tb.clean()
			tb.accessible()
			tb.screenshot("rack-" + w.name)
		})
	}
}
