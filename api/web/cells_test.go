package web_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/api/apitest"
)

func TestCellsPage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/cells")
			assert.Equal(t, "Cells", tb.text("h1"))
			assert.Contains(t, tb.text(".figures"), "Lanes short 2 8 containers without a lane")
			first := tb.text("#cells tbody tr")
			for _, want := range []string{"WIRE", "2 lanes short", "320 mm: 1 · 420 mm: 1"} {
				assert.Contains(t, first, want, "the short cell stands first")
			}
			assert.Equal(t, 3, eval[int](tb, `document.querySelectorAll("#cells tbody tr").length`))
			assert.Contains(t, tb.text("#racks tbody tr"), "proposed", "proposed racks stand first")
			tb.clean()
		})
	}
}

// TestCellsOfWidth: one lane width shows the cells that need it.
func TestCellsOfWidth(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 900)
	tb.visit("/cells")
	tb.choose("#width", "420")
	assert.Equal(t, 1, eval[int](tb, `document.querySelectorAll("#cells tbody tr").length`))
	assert.Equal(t, "WIRE Wiring 1 lane short 1 0 0 Hall 1", tb.text("#cells tbody tr"))
	tb.choose("#width", "320")
	assert.Equal(t, 3, eval[int](tb, `document.querySelectorAll("#cells tbody tr").length`))
	tb.clean()
	tb.accessible()
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
			assert.Contains(t, tb.text("#rack-R3"), "WI-127 3/4")
			assert.Contains(t, tb.text("#loops"), "SLC-4315")
			tb.clean()
		})
	}
}

// TestAwkwardCode: a code with a slash and letters that mean something in HTML.
func TestAwkwardCode(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 900)
	tb.visit("/cells")
	tb.press(`a[href^="/cells/TEST%2F2"]`)
	tb.wait(`document.querySelector("h1")?.innerText === "Cell TEST/2"`)
	assert.Contains(t, tb.text(".sub"), "Test & <seal>")
	tb.clean()
}
